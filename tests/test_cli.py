"""The command line as its user meets it: one clear line for whatever goes wrong."""

import json
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import jsonschema
import pytest

from tests.sounds import SPOKEN, cut, silence, spoken, tone, write_media
from voicenotes import __version__
from voicenotes.cli import main

GOOD = """WEBVTT

00:00:01.000 --> 00:00:05.000
Your left elbow drops at the start of the pull.

00:00:06.000 --> 00:00:09.000
The head position is lovely.
"""

FILES = {
    "review.json", "transcript.vtt", "corrections.csv", "feedback.md", "feedback.html",
    "for-coach.md", "captions.vtt", "chapters.vtt", "pool-card.html", "plan.ics", "edit.yaml",
}  # fmt: skip


@dataclass(frozen=True)
class Ran:
    """What a run of the command line left: exit code and what stood on the terminal."""

    code: int
    out: str
    err: str


class Cli:
    """The command line in one folder."""

    def __init__(self, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
        self._capsys, self._monkeypatch = capsys, monkeypatch

    def __call__(self, *arguments: str | Path) -> Ran:
        self._capsys.readouterr()
        self._monkeypatch.setattr(sys, "argv", ["voicenotes", *map(str, arguments)])
        with pytest.raises(SystemExit) as left:
            main()
        out, err = self._capsys.readouterr()
        code = left.value.code
        assert isinstance(code, int | None)
        return Ran(code or 0, out, err)


@pytest.fixture
def cli(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Cli:
    return Cli(capsys, monkeypatch)


@pytest.fixture
def good(tmp_path: Path) -> Path:
    """A transcript that can be reviewed."""
    path = tmp_path / "good.vtt"
    path.write_text(GOOD, encoding="utf-8")
    return path


def _says_one_line(ran: Ran, *parts: str) -> None:
    assert len(ran.err.splitlines()) == 1, ran.err
    for part in parts:
        assert part in ran.err
    assert ran.err.startswith("voicenotes: ")
    assert ran.err.rstrip().endswith(".")
    assert "Traceback" not in ran.err + ran.out
    assert ran.code not in {0, 1, 2}


def _without_sound(source: Path, target: Path) -> None:
    import av

    with av.open(str(source)) as read, av.open(str(target), "w") as write:
        track = read.streams.video[0]
        copy = write.add_stream_from_template(track)
        for packet in read.demux(track):
            if packet.dts is not None:
                packet.stream = copy
                write.mux(packet)


BAD_BYTES: dict[str, tuple[str, bytes, str]] = {
    "empty sound": ("clip.mp4", b"", "is empty"),
    "empty transcript": ("talk.vtt", b"", "is empty"),
    "not media": ("clip.mp4", b"just some words, no film\n" * 40, "is not a sound or video file"),
    "broken time": ("talk.vtt", b"WEBVTT\n\n00:00:0x.000 --> 00:00:02.000\nHi\n", "broken time"),
    "ends before it starts": (
        "talk.vtt", b"WEBVTT\n\n00:00:05.000 --> 00:00:02.000\nHi\n", "before it starts"),
    "times run backwards": (
        "talk.vtt",
        b"WEBVTT\n\n00:00:05.000 --> 00:00:06.000\nHi\n\n00:00:01.000 --> 00:00:02.000\nHo\n",
        "before the one above it",
    ),
    "no cues": ("talk.vtt", b"WEBVTT\n\n", "has no cues"),
    "not UTF-8": ("talk.vtt", b"WEBVTT\n\n00:00:01.000 --> 00:00:02.000\n\xff\xfe\n", "line 4"),
    "broken JSON": ("talk.json", b'{"name": ', "broken JSON"),
}  # fmt: skip


@pytest.mark.parametrize(("name", "data", "problem"), BAD_BYTES.values(), ids=BAD_BYTES)
def test_a_file_that_cannot_be_read_gives_one_line_and_stops_no_other(
    cli: Cli, tmp_path: Path, good: Path, name: str, data: bytes, problem: str
) -> None:
    bad, out = tmp_path / name, tmp_path / "out"
    bad.write_bytes(data)
    ran = cli("review", bad, good, "--out", out)
    _says_one_line(ran, str(bad), problem)
    assert {path.name for path in out.iterdir()} == {"good"}
    assert {path.name for path in (out / "good").iterdir()} == FILES


@pytest.mark.parametrize("name", ["gone.mp4", "gone.vtt"])
def test_a_file_that_is_not_there(cli: Cli, tmp_path: Path, name: str) -> None:
    ran = cli("review", tmp_path / name, "--out", tmp_path / "out")
    _says_one_line(ran, name, "no such file. Check its name")


def test_a_folder_in_place_of_a_clip(cli: Cli, tmp_path: Path) -> None:
    ran = cli("review", tmp_path, "--out", tmp_path / "out")
    _says_one_line(ran, str(tmp_path), "is a folder. Name a clip")


def test_a_video_without_sound(cli: Cli, tmp_path: Path) -> None:
    whole, mute = tmp_path / "whole.mp4", tmp_path / "mute.mp4"
    write_media(whole, tone(2), "aac", picture_s=2)
    _without_sound(whole, mute)
    _says_one_line(cli("review", mute, "--out", tmp_path / "out"), str(mute), "has no sound")


def test_a_recording_without_speech(cli: Cli, tmp_path: Path) -> None:
    quiet = write_media(tmp_path / "quiet.wav", silence(5), "pcm_s16le")
    ran = cli("review", quiet, "--out", tmp_path / "out")
    _says_one_line(ran, str(quiet), "no speech was found")


def test_a_clip_that_breaks_off_is_read_as_far_as_it_goes_and_says_so(
    cli: Cli, tmp_path: Path
) -> None:
    part = cut(write_media(tmp_path / "clip.wav", spoken(), "pcm_s16le"), 0.6)
    ran = cli("review", part, "--out", tmp_path / "out")
    assert (ran.code, ran.err) == (0, "")
    assert re.search(r"cut off +The file breaks off at 0:1\d\.", ran.out)
    assert "breaks off here" in (tmp_path / "out/cut-clip/for-coach.md").read_text("utf-8")


def test_a_vocabulary_with_a_wrong_field_is_told_once(cli: Cli, tmp_path: Path, good: Path) -> None:
    words = tmp_path / "words"
    words.mkdir()
    (words / "mine.yaml").write_text("faults:\n  elbow_drops:\n    cuee: Up\n", encoding="utf-8")
    ran = cli("review", good, good, "--out", tmp_path / "out", "--vocabulary", words)
    _says_one_line(ran, "mine.yaml", "elbow_drops", "cuee", "did you mean 'cue'?")
    _says_one_line(cli("vocab", "check", "--vocabulary", words), "mine.yaml", "cuee")


def test_a_vocabulary_folder_that_is_not_there(cli: Cli, tmp_path: Path, good: Path) -> None:
    ran = cli("review", good, "--out", tmp_path / "out", "--vocabulary", tmp_path / "none")
    _says_one_line(ran, str(tmp_path / "none"), "no such folder")


def test_weights_that_are_not_there(cli: Cli, tmp_path: Path) -> None:
    ran = cli("review", SPOKEN, "--out", tmp_path / "out", "--model", tmp_path / "none")
    _says_one_line(ran, str(tmp_path / "none"), "no such folder")


def test_a_file_where_the_results_should_go(cli: Cli, tmp_path: Path, good: Path) -> None:
    (tmp_path / "out").write_text("mine", encoding="utf-8")
    _says_one_line(cli("review", good, "--out", tmp_path / "out"), "out", "--out")
    assert (tmp_path / "out").read_text(encoding="utf-8") == "mine"


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the root user may write anywhere"
)
def test_a_folder_that_may_not_be_written(cli: Cli, tmp_path: Path, good: Path) -> None:
    locked = tmp_path / "locked"
    locked.mkdir(mode=0o500)
    ran = cli("review", good, "--out", locked)
    _says_one_line(ran, str(locked), "no permission to write", "--out")


@pytest.fixture
def disk(tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[Path]:
    """A disk in memory, mounted with the options that the test names."""
    place = tmp_path / "disk"
    place.mkdir()
    try:
        made = subprocess.run(
            ["mount", "-t", "tmpfs", "-o", request.param, "tmpfs", place], capture_output=True
        )
    except FileNotFoundError:
        pytest.skip("this system has no mount command")
    if made.returncode:
        pytest.skip("only the root user may mount a disk")
    yield place
    subprocess.run(["umount", place], check=True)


@pytest.mark.parametrize("disk", ["ro"], indirect=True)
def test_a_disk_that_may_not_be_written(cli: Cli, disk: Path, good: Path) -> None:
    _says_one_line(cli("review", good, "--out", disk), str(disk / "good"), "--out")


@pytest.mark.parametrize("disk", ["size=16k"], indirect=True)
def test_a_full_disk_leaves_nothing_half_written(cli: Cli, disk: Path, good: Path) -> None:
    ran = cli("review", good, "--out", disk)
    _says_one_line(ran, str(disk / "good"), "the disk is full). Free some space")
    assert list(disk.iterdir()) == []


SETTINGS = {
    "unknown key": ("swimer: Sam\n", ("'swimer'", "did you mean 'swimmer'?")),
    "wrong number": ("sessions: two\n", ("sessions", "'two'")),
    "out of range": ("pool: 5\n", ("pool", "greater than or equal to 10")),
    "wrong word": ("stroke: crawl\n", ("stroke", "'crawl'", "'freestyle'")),
    "wrong pace": ("pace: quick\n", ("pace", "'quick'", "1:50")),
    "equipment is no list": ("equipment: 5\n", ("equipment", "is not a list")),
    "unknown equipment": (
        "equipment: [finz]\n",
        ("good.yaml, equipment", "'finz'", "did you mean 'fins'?"),
    ),
    "no keys": ("just words\n", ("has no keys",)),
    "no YAML": ("pool: [25\n", ("is not YAML text", "line")),
}


@pytest.mark.parametrize(("text", "parts"), SETTINGS.values(), ids=SETTINGS)
def test_a_settings_file_with_a_mistake(
    cli: Cli, tmp_path: Path, good: Path, text: str, parts: tuple[str, ...]
) -> None:
    good.with_suffix(".yaml").write_text(text, encoding="utf-8")
    _says_one_line(cli("review", good, "--out", tmp_path / "out"), *parts)
    assert not (tmp_path / "out").exists()


def test_a_wrong_option_is_told_once_for_all_inputs(cli: Cli, tmp_path: Path, good: Path) -> None:
    ran = cli("review", good, good, "--out", tmp_path / "out", "--pace", "fast")
    _says_one_line(ran, "--pace", "'fast'")


def _brief(folder: Path) -> dict[str, object]:
    review = json.loads((folder / "review.json").read_text(encoding="utf-8"))
    brief: dict[str, object] = review["brief"]
    return brief


def test_an_option_comes_before_the_settings_file_and_that_before_the_default(
    cli: Cli, tmp_path: Path, good: Path
) -> None:
    good.with_suffix(".yaml").write_text(
        "swimmer: Sam\npace: 1:50\npool: 50\nequipment: [pull buoy, fins]\n", encoding="utf-8"
    )
    out = tmp_path / "out"
    ran = cli("review", good, "--out", out, "--pool", "33.3", "--equipment", "Snorkel")
    assert ran.code == 0, ran.err
    brief = _brief(out / "good")
    assert brief["swimmer"] == "Sam"
    assert brief["pace_s"] == 110
    assert brief["pool_m"] == pytest.approx(33.3)
    assert brief["equipment"] == ["snorkel"]
    assert brief["sessions"] == 3


def test_the_settings_files_vocabulary_is_looked_for_beside_it(
    cli: Cli, tmp_path: Path, good: Path
) -> None:
    (tmp_path / "words").mkdir()
    words = "faults:\n  elbow_drops:\n    name: Elbow sags\n"
    (tmp_path / "words" / "mine.yaml").write_text(words, encoding="utf-8")
    good.with_suffix(".yaml").write_text("vocabulary: words\n", encoding="utf-8")
    ran = cli("review", good, "--out", tmp_path / "out")
    assert ran.code == 0, ran.err
    assert "Elbow sags (left)" in ran.out


def test_inputs_of_one_name_get_a_folder_each(cli: Cli, tmp_path: Path, good: Path) -> None:
    named = [tmp_path / "a" / "good-3.vtt", good, tmp_path / "b" / "good.vtt", good]
    for path in named:
        path.parent.mkdir(exist_ok=True)
        path.write_text(GOOD, encoding="utf-8")
    ran = cli("review", *named, "--out", tmp_path / "out")
    assert ran.code == 0, ran.err
    made = {path.name for path in (tmp_path / "out").iterdir()}
    assert made == {"good-3", "good", "good-2", "good-4"}


@pytest.mark.skipif(sys.platform != "linux", reason="file names of any bytes are Linux's own")
def test_a_file_name_that_is_no_text(cli: Cli, tmp_path: Path) -> None:
    path = tmp_path / os.fsdecode(b"cl\xffip.vtt")
    path.write_text(GOOD, encoding="utf-8")
    ran = cli("review", path, "--out", tmp_path / "out")
    assert ran.code == 0, ran.err
    assert {p.name for p in (tmp_path / "out").iterdir()} == {"cl?ip"}


def test_the_summary_tells_what_is_good_what_to_work_on_and_where_it_is(
    cli: Cli, tmp_path: Path, good: Path
) -> None:
    ran = cli("review", good, "--out", tmp_path / "out")
    assert re.search(r"good +\w+", ran.out)
    assert re.search(r"now +1 +Elbow drops in the catch \(left\) +0:01", ran.out)
    assert re.search(r"written +\S+", ran.out)
    assert str(tmp_path / "out" / "good").replace("/", "") in re.sub(r"[\s/]", "", ran.out)


def test_the_version(cli: Cli) -> None:
    assert cli("--version").out == f"voicenotes {__version__}\n"


def test_the_schema_fits_a_review(cli: Cli, tmp_path: Path, good: Path) -> None:
    schema = json.loads(cli("schema").out)
    cli("review", good, "--out", tmp_path / "out")
    text = (tmp_path / "out" / "good" / "review.json").read_text(encoding="utf-8")
    jsonschema.Draft202012Validator(schema).validate(json.loads(text))


def test_models_lists_the_packaged_weights_as_those_in_use(cli: Cli) -> None:
    ran = cli("models")
    assert ran.code == 0
    assert "whisper-base" in ran.out
    assert "in use" in ran.out


def test_vocab_check_counts_its_examples(cli: Cli) -> None:
    ran = cli("vocab", "check")
    told = re.fullmatch(r"(\d+) examples, (\d+) read wrongly", ran.out.splitlines()[-1])
    assert told
    assert int(told[1]) > 100
    assert ran.code == (1 if int(told[2]) else 0)
    assert len(ran.out.splitlines()) == int(told[2]) + 1


@pytest.mark.parametrize(
    "command", ["review", "approve", "models", "schema", "evaluate", "vocab check"]
)
def test_every_command_has_help_with_an_example(cli: Cli, command: str) -> None:
    ran = cli(*command.split(), "--help")
    assert ran.code == 0
    assert re.search(rf"Example:\s+voicenotes\s+{command}", ran.out)


def test_wrong_usage(cli: Cli, good: Path) -> None:
    ran = cli("review", good)
    assert ran.code == 2
    assert "--out" in ran.err


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no SIGINT to send")
def test_ctrl_c_while_hearing_is_one_line_and_the_next_run_completes(tmp_path: Path) -> None:
    out, cache = tmp_path / "out", tmp_path / "cache"
    command = [sys.executable, "-c", "from voicenotes.cli import main; main()"]
    command += ["review", str(SPOKEN), "--out", str(out)]
    environment = os.environ | {"VOICENOTES_CACHE": str(cache)}
    with subprocess.Popen(
        command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as run:
        while not list(cache.glob("weights/*/stamp.json")):  # from then on it hears
            assert run.poll() is None
            time.sleep(0.05)
        run.send_signal(signal.SIGINT)
        printed, error = run.communicate(timeout=200)
    stopped = "voicenotes: stopped. Run it again to go on from what was heard.\n"
    assert (run.returncode, printed, error) == (130, "", stopped)
    assert not out.exists()
    again = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
    assert (again.returncode, again.stderr) == (0, "")
    assert {path.name for path in (out / "spoken").iterdir()} == FILES
