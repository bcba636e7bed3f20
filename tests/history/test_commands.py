"""Swimmers over time through the command line: reviewed, approved, looked back on, forgotten."""

import csv
import io
import json
import re
import stat
from pathlib import Path

import jsonschema
import pytest

from tests.test_cli import Cli
from voicenotes.feedback import review_schema
from voicenotes.folder import WRITTEN
from voicenotes.speech.cache import CACHE_VARIABLE, Store
from voicenotes.speech.heard import Heard, Hearing
from voicenotes.transcript import Word

SWIMMER = "Ottoline Marsh"
FIRST = """WEBVTT

00:00:02.000 --> 00:00:08.000
Ottoline, your left elbow drops a lot at the start of the pull.

00:00:08.000 --> 00:00:14.000
I measured about a hundred and fifty degrees inside the elbow, and I'd want a hundred to one twenty.

00:00:16.000 --> 00:00:20.000
Your head lifts way too high when you breathe.
"""
SECOND = """WEBVTT

00:00:02.000 --> 00:00:08.000
Your left elbow still drops a bit at the start of the pull, Ottoline.

00:00:08.000 --> 00:00:14.000
It's about a hundred and thirty degrees inside the elbow, and I'd want a hundred to one twenty.

00:00:16.000 --> 00:00:20.000
Your head position is lovely today.
"""
OTHER = """WEBVTT

00:00:02.000 --> 00:00:08.000
Your left elbow drops as soon as the hand is in the water, Basil.
"""
DAYS = ("1799150400", "1800360000")
"""5 and 19 January 2027 as SOURCE_DATE_EPOCH says them."""


@pytest.fixture
def cli(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Cli:
    monkeypatch.setenv(CACHE_VARIABLE, str(tmp_path / "cache"))
    return Cli(capsys, monkeypatch)


@pytest.fixture
def reviews(cli: Cli, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Two approved reviews of one swimmer, a fortnight apart, and one of another."""
    talks = tmp_path / "talks"
    talks.mkdir()
    rows = [("first", FIRST, SWIMMER, DAYS[0]), ("second", SECOND, SWIMMER, DAYS[1])]
    for name, words, swimmer, day in [*rows, ("other", OTHER, "Basil Thorne", DAYS[1])]:
        monkeypatch.setenv("SOURCE_DATE_EPOCH", day)
        (talks / f"{name}.vtt").write_text(words, encoding="utf-8")
        out = tmp_path / "reviews"
        ran = cli("review", talks / f"{name}.vtt", "--out", out, "--swimmer", swimmer)
        assert ran.code == 0, ran.err
        ran = cli("approve", out / name)
        assert ran.code == 0, ran.err
    return tmp_path / "reviews"


def files_with(name: str, *folders: Path) -> list[Path]:
    """Every file, with its path, that holds a name in any case or in its own name."""
    return [
        path
        for folder in folders
        for path in folder.rglob("*")
        if name.lower() in path.name.lower()
        or (path.is_file() and name.lower().encode() in path.read_bytes().lower())
    ]


def test_the_second_review_tells_what_became_of_the_first(reviews: Path) -> None:
    told = (reviews / "second" / "feedback.md").read_text("utf-8").split("## Since last time\n")[1]
    lines = [line for line in told.split("\n## ")[0].splitlines() if line]
    assert lines == [
        "- **Head lifts**: gone; it was there on 5 January 2027.",
        "- **Elbow drops in the catch (left)**: better than on 5 January 2027. Elbow angle,"
        " left: 150° then, 130° now; the aim is 100–120°.",
    ]
    assert "Since last time" not in (reviews / "first" / "feedback.md").read_text("utf-8")
    data = json.loads((reviews / "second" / "review.json").read_text("utf-8"))
    assert {one["code"]: one["became"] for one in data["since"]} == {
        "elbow_drops": "better",
        "head_lifts": "gone",
    }
    jsonschema.Draft202012Validator(review_schema()).validate(data)


def test_approved_again_it_is_the_same(cli: Cli, reviews: Path) -> None:
    before = {name: (reviews / "second" / name).read_bytes() for name in WRITTEN[1:]}
    assert cli("approve", reviews / "second").code == 0
    assert cli("review", reviews.parent / "talks" / "second.vtt", "--out", reviews,
               "--swimmer", SWIMMER).code == 0  # fmt: skip
    assert {name: (reviews / "second" / name).read_bytes() for name in WRITTEN[1:]} == before
    assert re.search(rf"{SWIMMER} +2 +2027-01-05 +2027-01-19", cli("swimmers").out)


def test_without_a_name_nothing_is_kept(cli: Cli, tmp_path: Path, own_history: Path) -> None:
    (tmp_path / "talk.vtt").write_text(FIRST, encoding="utf-8")
    cli("review", tmp_path / "talk.vtt", "--out", tmp_path / "out")
    assert cli("approve", tmp_path / "out" / "talk").code == 0
    assert not own_history.exists()
    assert "No review of a named swimmer has been approved yet." in cli("swimmers").out


def test_progress_in_the_terminal_and_as_a_page(cli: Cli, reviews: Path) -> None:
    page = reviews.parent / "ottoline.html"
    ran = cli("progress", "ottoline marsh", "--out", page)
    assert ran.code == 0
    assert f"{SWIMMER}: 2 reviews, 2027-01-05 to 2027-01-19" in ran.out
    assert re.search(r"Elbow drops in the catch \(left\) +better +2027-01-19 +2027-01-05", ran.out)
    assert re.search(r"Head lifts +gone +2027-01-19 +2027-01-05", ran.out)
    assert re.search(r"100 to 120° +2027-01-05  150°", ran.out)
    html = page.read_text("utf-8")
    assert "Elbow angle. Left: 150° on 5 January 2027, 130° on 19 January 2027." in html
    assert html.count("<svg") == 1
    assert not re.search(r"(?:src|href)=|https?:", html)


def test_the_squad(cli: Cli, reviews: Path) -> None:
    out = cli("squad").out
    assert re.search(rf"Elbow drops in the catch +2 of 2 +Basil Thorne\*, {SWIMMER}\*", out)
    assert "Head lifts" not in out


def test_export(cli: Cli, reviews: Path) -> None:
    data = json.loads(cli("export", "--format", "json").out)
    told = [(one["swimmer"], one["made_on"]) for one in data["reviews"]]
    assert told == [
        ("Basil Thorne", "2027-01-19"),
        (SWIMMER, "2027-01-05"),
        (SWIMMER, "2027-01-19"),
    ]
    rows = list(csv.DictReader(io.StringIO(cli("export", "--format", "csv").out, newline="")))
    (angle,) = [r for r in rows if r["kind"] == "figure" and r["made_on"] == "2027-01-05"]
    wanted = {"code": "elbow_angle", "side": "left", "low": "150.0", "high": "150.0",
              "unit": "deg", "aim_low": "100.0", "aim_high": "120.0"}  # fmt: skip
    assert {key: angle[key] for key in wanted} == wanted


def hearing(*sentences: str) -> Hearing:
    words = tuple(
        Word(text=word, start=0, end=1) for sentence in sentences for word in sentence.split()
    )
    heard = Heard(
        start=0, end=9, spans=(), words=words, log_probability=-0.2, no_speech=0, compression=1
    )
    return Hearing(clips=(heard,), read_s=9, cut_off=False, device="cpu")


def test_forgotten_is_gone_from_every_byte(cli: Cli, reviews: Path, own_history: Path) -> None:
    """The words as heard from a recording lie in the cache, too, with the name and without."""
    root = reviews.parent
    store = Store(root / "cache" / "heard")
    store.put("named", hearing("Ottoline, well swum."))
    store.put("theirs", hearing("So.", "Your head lifts way too high when you breathe. Fine."))
    store.put("another", hearing("Your right hand goes in wide of the shoulder every time."))
    left = reviews / ".second-killed" / "new"
    left.mkdir(parents=True)
    (left / "feedback.md").write_text("Hello Ottoline,", encoding="utf-8")
    kept = (root / "cache", own_history.parent, reviews)
    assert len(files_with("ottoline", *kept)) > 10
    ran = cli("forget", SWIMMER, "--folders")
    assert ran.code == 0
    assert "Ottoline Marsh is forgotten: 2 reviews out of" in ran.out
    assert files_with("ottoline", *kept) == []
    assert files_with("marsh", *kept) == []
    assert sorted(path.name for path in reviews.iterdir()) == ["other"]
    assert [path.stem for path in (root / "cache" / "heard").iterdir()] == ["another"]
    assert len(files_with("basil", *kept)) > 5
    assert "Basil Thorne" in cli("swimmers").out
    ran = cli("progress", SWIMMER)
    assert (ran.code, ran.out) == (3, "")


def test_a_swimmer_is_forgotten_while_the_log_is_full(
    cli: Cli, reviews: Path, own_history: Path
) -> None:
    """Another process had the file open, and left its log beside it."""
    from voicenotes.history.store import History

    with History(own_history) as other:
        assert cli("approve", reviews / "first").code == 0
        assert files_with("ottoline", own_history.parent)
        assert other.swimmers()
        assert cli("forget", SWIMMER).code == 0
        assert files_with("ottoline", own_history.parent) == []


def test_folders_are_told_of_and_a_file_of_the_coachs_own_stays(cli: Cli, reviews: Path) -> None:
    (reviews / "first" / "mine.txt").write_text("mine", encoding="utf-8")
    there = cli("forget", "Basil Thorne").out
    assert f"yours     {reviews / 'other'} (the review; delete it)" in there
    assert (reviews / "other" / "feedback.html").is_file()
    out = cli("forget", SWIMMER, "--folders").out
    assert f"deleted   {reviews / 'second'}" in out
    assert f"yours     {reviews / 'first'} (files of your own)" in out
    assert [path.name for path in (reviews / "first").iterdir()] == ["mine.txt"]


def test_a_folder_that_holds_another_swimmer_by_now_is_left_alone(cli: Cli, reviews: Path) -> None:
    talk = reviews.parent / "first.vtt"
    talk.write_text(OTHER, encoding="utf-8")
    assert cli("review", talk, "--out", reviews, "--swimmer", "Basil Thorne").code == 0
    cli("forget", SWIMMER, "--folders")
    assert (reviews / "first" / "review.json").is_file()


@pytest.mark.parametrize("command", ["progress", "forget"])
def test_an_unknown_swimmer_is_one_line(cli: Cli, reviews: Path, command: str) -> None:
    for typed, near in (("Ottoline", SWIMMER), ("Basil Thorn", "Basil Thorne")):
        ran = cli(command, typed)
        assert (ran.code, ran.out) == (3, "")
        assert ran.err == (
            f"voicenotes: {typed!r}: no such swimmer (did you mean {near!r}?)."
            " See voicenotes swimmers.\n"
        )


def test_an_unknown_format_is_one_line(cli: Cli) -> None:
    ran = cli("export", "--format", "xml")
    assert (ran.code, ran.err) == (
        3,
        "voicenotes: --format: 'xml' is no format. Use json or csv.\n",
    )


def test_a_history_of_its_own(cli: Cli, reviews: Path, own_history: Path) -> None:
    mine = reviews.parent / "mine.sqlite3"
    assert cli("approve", reviews / "first", "--history", mine).code == 0
    assert stat.S_IMODE(mine.stat().st_mode) == 0o600
    assert "Basil" not in cli("swimmers", "--history", mine).out


def test_a_history_that_cannot_be_written_is_one_line_and_nothing_changes(
    cli: Cli, reviews: Path
) -> None:
    folder = reviews / "first"
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    ran = cli("approve", folder, "--history", reviews)
    assert (ran.code, ran.out) == (5, "")
    assert ran.err == (
        f"voicenotes: {reviews}: cannot be opened (is a directory)."
        " Check its permissions, or name another file with --history.\n"
    )
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_where_everything_is(cli: Cli, reviews: Path, own_history: Path) -> None:
    out = "".join(cli("where").out.split())
    assert str(own_history) in out
    assert str(reviews.parent / "cache" / "read") in out


@pytest.mark.parametrize(
    "command", ["swimmers", "progress", "squad", "export", "forget", "where", "approve"]
)
def test_help_holds_an_example(cli: Cli, command: str) -> None:
    assert f"Example: voicenotes {command}" in cli(command, "--help").out
