"""A narration and the clip it is about: what stands in the review, as a coach gives it."""

import csv
import json
import re
import sys
from pathlib import Path

import av
import pytest
import webvtt

from tests.sounds import FRAMES_A_SECOND, silence, write_media
from voicenotes.approving import approve
from voicenotes.batch import clock_for
from voicenotes.cli import main
from voicenotes.clock import SAME, Clock
from voicenotes.errors import InputError
from voicenotes.feedback.spots import spot_of
from voicenotes.folder import load_review
from voicenotes.settings import load_settings

TALK = """WEBVTT

00:00:08.000 --> 00:00:12.000
At 0:14 your left elbow drops at the start of the pull.

00:00:20.000 --> 00:00:24.000
Your head lifts when you breathe.
"""


@pytest.fixture
def talk(tmp_path: Path) -> Path:
    path = tmp_path / "talk.vtt"
    path.write_text(TALK, encoding="utf-8")
    return path


@pytest.fixture
def clip(tmp_path: Path) -> Path:
    """Twenty seconds of picture, and hardly any sound."""
    return write_media(tmp_path / "swim.mp4", silence(20), "aac", picture_s=20)


def reviewed(talk: Path, *options: str | Path) -> dict[str, tuple[str, list[float]]]:
    """Each correction's clip moments: in the table, and in the data."""
    out = talk.parent / "out"
    command = ["voicenotes", "review", str(talk), "--out", str(out), *map(str, options)]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(sys, "argv", command)
        with pytest.raises(SystemExit) as left:
            main()
    assert not left.value.code
    folder = out / "talk"
    data = json.loads((folder / "review.json").read_text(encoding="utf-8"))
    with (folder / "corrections.csv").open(encoding="utf-8", newline="") as file:
        table = {row["code"]: row["clip_moments"] for row in csv.DictReader(file)}
    return {
        entry["code"]: (table[entry["code"]], [s for m in entry["mentions"] for s in m["clip_s"]])
        for entry in data["corrections"]
    }


def test_without_a_clip_only_spoken_moments_are_known(talk: Path) -> None:
    assert reviewed(talk) == {"elbow_drops": ("0:14", [14]), "head_lifts": ("", [])}


def test_an_offset_tells_the_rest(talk: Path, clip: Path) -> None:
    told = reviewed(talk, "--clip", clip, "--offset", "5.5")
    assert told == {"elbow_drops": ("0:14", [14]), "head_lifts": ("0:14", [14.5])}


def test_the_clip_ran_before_the_talk_began(talk: Path) -> None:
    assert reviewed(talk, "--offset", "-0:05")["head_lifts"] == ("0:25", [25])


def test_marks_stand_beside_the_narration(talk: Path, clip: Path) -> None:
    """Stopped at 0:03 from 0:10 to 0:22 of the talk."""
    lines = f"clip: {clip.name}\nmarks:\n  - [0:07, 0:00]\n  - [10, 3]\n  - ['0:22', '0:03']\n"
    talk.with_suffix(".yaml").write_text(lines, encoding="utf-8")
    assert reviewed(talk)["head_lifts"] == ("0:03", [3])


def test_the_page_shows_the_clips_moments_and_says_so(talk: Path, clip: Path) -> None:
    reviewed(talk, "--clip", clip, "--offset", "5.5")
    page = (talk.parent / "out" / "talk" / "feedback.md").read_text(encoding="utf-8")
    assert "a moment in the clip" in page
    assert "0:14" in page
    assert "0:20" not in page


def told_in(folder: Path) -> tuple[list[str], list[str], list[str]]:
    """Where presses lead, at what moments there are stills, and when captions begin."""
    page = (folder / "feedback.html").read_text(encoding="utf-8")
    captions = webvtt.read(str(folder / "captions.vtt")).captions
    return (
        sorted(set(re.findall(r'data-at="([^"]*)"', page))),
        sorted(path.stem for path in (folder / "stills").iterdir()),
        [caption.start for caption in captions],
    )


def test_what_is_played_and_pictured_is_the_clip(talk: Path, clip: Path) -> None:
    """The clip's frames tell their number by their grey, within what its codecs lose."""
    reviewed(talk, "--clip", clip, "--offset", "1.5")
    folder = talk.parent / "out" / "talk"
    assert told_in(folder) == (
        ["14", "18.5"], ["14.00", "18.50"], ["00:00:14.000", "00:00:18.500"],
    )  # fmt: skip
    for at in (14, 18.5):
        with av.open(str(folder / "stills" / f"{at:.2f}.jpg")) as still:
            grey = next(still.decode(video=0)).to_ndarray(format="rgb24").mean()
        assert grey == pytest.approx(at * FRAMES_A_SECOND % 255, abs=5)
    page = (folder / "feedback.html").read_text(encoding="utf-8")
    assert re.findall(r'<source src="([^"]*)"', page) == ["../../swim.mp4", "./swim.mp4"]
    assert "Every word" not in page  # the talk's words do not run beside the clip


def test_approving_keeps_the_clip_and_its_clock(talk: Path, clip: Path) -> None:
    reviewed(talk, "--clip", clip, "--offset", "1.5")
    folder = talk.parent / "out" / "talk"
    before, clock = told_in(folder), load_review(folder).clock
    text = (folder / "edit.yaml").read_text(encoding="utf-8")
    (folder / "edit.yaml").write_text(text.replace("side: left", "side: right"), encoding="utf-8")
    approve(folder)
    assert "(right)" in (folder / "feedback.md").read_text(encoding="utf-8")
    assert told_in(folder) == before
    assert load_review(folder).clock == clock


def test_a_moment_that_the_clip_is_not_known_to_have_is_not_played(talk: Path, clip: Path) -> None:
    reviewed(talk, "--clip", clip)
    assert told_in(talk.parent / "out" / "talk") == (["14"], ["14.00"], ["00:00:14.000"])


def test_the_terminal_tells_the_clips_moments(
    talk: Path, clip: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    reviewed(talk, "--clip", clip, "--offset", "1.5")
    (head,) = [line for line in capsys.readouterr().out.splitlines() if "Head lifts" in line]
    assert head.rstrip().endswith("0:18 (clip)")


def test_a_spoken_moment_plays_the_words_about_it_where_only_they_are_there(talk: Path) -> None:
    reviewed(talk)
    review = load_review(talk.parent / "out" / "talk")
    elbow = next(c for c in review.corrections if c.code == "elbow_drops")
    (moment,) = spot_of(review, elbow.mentions).moments
    assert (moment.second, moment.plays) == (14, 8)


def test_settings_of_the_talk_come_before_those_of_all(talk: Path, clip: Path) -> None:
    shared = f"clip: {clip.name}\nmarks: [[1, 0], [5, 4]]\n"
    (talk.parent / "coach.yaml").write_text(shared, encoding="utf-8")
    talk.with_suffix(".yaml").write_text("offset: 2\n", encoding="utf-8")
    settings = load_settings(talk, {})
    assert [(mark.narration_s, mark.clip_s) for mark in settings.marks] == [(2, 0)]
    assert settings.clip == clip


def test_where_only_some_are_known_each_says_whose_it_is(talk: Path) -> None:
    reviewed(talk)
    page = (talk.parent / "out" / "talk" / "feedback.md").read_text(encoding="utf-8")
    assert "0:14 of the clip" in page
    assert "0:20. Your coach" in page


def test_spoken_over_the_clip_itself_the_clocks_agree(clip: Path, talk: Path) -> None:
    alone = clock_for(clip, load_settings(clip, {}))
    assert alone.marks == SAME
    assert alone.length_s == pytest.approx(20, abs=0.3)
    assert clock_for(clip, load_settings(clip, {"clip": clip})) == alone
    assert clock_for(talk, load_settings(talk, {})) == Clock()
    beside = clock_for(talk, load_settings(talk, {"clip": clip}))
    assert beside.length_s == pytest.approx(20, abs=0.3)
    assert beside.marks == ()


def test_an_option_wins_over_the_marks_of_the_file(talk: Path) -> None:
    talk.with_suffix(".yaml").write_text("marks: [[1, 0]]\n", encoding="utf-8")
    (mark,) = load_settings(talk, {"offset": "3"}).marks
    assert (mark.narration_s, mark.clip_s) == (3, 0)


BAD = {
    "offset: soon": "'soon' is not a time",
    "offset: 1:75": "'1:75' is not a time",
    "offset: .nan": "is not a time",
    "marks: 12": "is not a list of marks",
    "marks: []": "is not a list of marks",
    "marks: [[1, 2, 3]]": "mark 1 is not a pair of times",
    "marks: [[1, 0], [5, -1]]": "mark 2 is below zero",
    "marks: [[5, 0], [1, 0]]": "mark 2 comes before the one above it",
    "marks: [[5, 0]]\noffset: 3": "stands beside marks",
}


@pytest.mark.parametrize(("lines", "problem"), BAD.items(), ids=list(BAD))
def test_marks_that_cannot_be_used(talk: Path, lines: str, problem: str) -> None:
    talk.with_suffix(".yaml").write_text(lines, encoding="utf-8")
    with pytest.raises(InputError, match=r"talk\.yaml") as raised:
        load_settings(talk, {})
    assert problem in str(raised.value)


def test_a_clip_that_is_not_there(talk: Path) -> None:
    with pytest.raises(InputError, match=r"gone\.mp4: no such file"):
        clock_for(talk, load_settings(talk, {"clip": talk.parent / "gone.mp4"}))
