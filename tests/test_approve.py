"""The coach looks first: a draft, an edit, an approval; through the command line."""

import json
import re
import shutil
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from tests.test_cli import Cli
from voicenotes.feedback import review_schema

TALK = """WEBVTT

00:00:02.000 --> 00:00:05.000
Both hands go in nice and clean, that's a lovely entry.

00:00:10.000 --> 00:00:15.000
Your left elbow drops a lot at the start of the pull.

00:00:15.000 --> 00:00:20.000
I measured about a hundred and fifty degrees inside the elbow, and I'd want a hundred to one twenty.

00:00:30.000 --> 00:00:35.000
Your head lifts way too high when you breathe.

00:00:40.000 --> 00:00:45.000
And your knees bend too much in the kick, about ten degrees.

00:00:50.000 --> 00:00:56.000
For that elbow do eight twenty-fives of front scull, fifteen seconds rest.
"""

Edit = dict[str, Any]


@pytest.fixture
def cli(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Cli:
    return Cli(capsys, monkeypatch)


@pytest.fixture
def talk(tmp_path: Path) -> Path:
    path = tmp_path / "talk.vtt"
    path.write_text(TALK, encoding="utf-8")
    return path


@pytest.fixture
def folder(cli: Cli, tmp_path: Path, talk: Path) -> Path:
    """The review of the talk."""
    ran = cli("review", talk, "--out", tmp_path / "out", "--start", "2026-03-02")
    assert ran.code == 0, ran.err
    return tmp_path / "out" / "talk"


def review_of(folder: Path) -> Any:
    return json.loads((folder / "review.json").read_text(encoding="utf-8"))


def page(folder: Path, name: str = "feedback.md") -> str:
    return (folder / name).read_text(encoding="utf-8")


def entries(folder: Path) -> Edit:
    edit: Edit = yaml.safe_load((folder / "edit.yaml").read_text(encoding="utf-8"))
    return edit


def save(folder: Path, edit: Edit) -> None:
    text = yaml.safe_dump(edit, allow_unicode=True, sort_keys=False)
    (folder / "edit.yaml").write_text(text, encoding="utf-8")


def entry(edit: Edit, key: str, name: str) -> Edit:
    """The entry of a list whose name begins so."""
    found: Edit = next(e for e in edit[key] if str(e[key.removesuffix("s")]).startswith(name))
    return found


def files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_what_wants_another_listen_is_marked_a_draft_everywhere(folder: Path) -> None:
    assert review_of(folder)["questions"]
    assert review_of(folder)["draft"] is True
    for name in ("feedback.md", "feedback.html", "pool-card.html"):
        assert re.search(r"Draft\.", page(folder, name)), name
    assert "voicenotes approve" in page(folder, "for-coach.md")


def test_approving_takes_the_mark_off_and_changes_nothing_else(cli: Cli, folder: Path) -> None:
    before, edit = review_of(folder), (folder / "edit.yaml").read_bytes()
    ran = cli("approve", folder)
    assert (ran.code, ran.err) == (0, "")
    assert re.search(r"approved +as heard", ran.out)
    after = review_of(folder)
    assert (after["draft"], after["approved"]) == (False, True)
    assert after | {"draft": True, "approved": False} == before
    assert (folder / "edit.yaml").read_bytes() == edit
    for name in ("feedback.md", "feedback.html", "pool-card.html"):
        assert "Draft" not in page(folder, name), name


def test_approving_works_from_the_folder_alone(cli: Cli, folder: Path, tmp_path: Path) -> None:
    alone = tmp_path / "elsewhere" / "deep" / "sent"
    alone.mkdir(parents=True)
    for name in ("review.json", "transcript.vtt", "edit.yaml"):
        shutil.copy(folder / name, alone / name)
    shutil.rmtree(folder.parent)
    (tmp_path / "talk.vtt").unlink()
    assert cli("approve", alone).code == 0
    assert "Elbow drops in the catch (left)" in page(alone, "feedback.html")
    assert {"plan.ics", "captions.vtt", "corrections.csv"} <= files(alone).keys()


def test_every_kind_of_change_is_made_told_and_on_record(cli: Cli, folder: Path) -> None:
    edit = entries(folder)
    elbow = entry(edit, "corrections", "elbow_drops")
    elbow |= {"side": "right", "cue": "Show me your *forearm*.", "name": "Elbow sinks"}
    elbow |= {"drills": ["single_arm"], "said": {"0:10": "Your right elbow sinks."}}
    entry(edit, "corrections", "knee_bends")["drop"] = True
    entry(edit, "figures", "elbow_angle")["seen"] = "140 to 145"
    entry(edit, "figures", "elbow_angle")["side"] = "right"
    entry(edit, "sets", "scull_front")["reps"] = 6
    head = entry(edit, "corrections", "head_lifts")
    edit["corrections"] = [head, *(e for e in edit["corrections"] if e is not head)]
    save(folder, edit)
    ran = cli("approve", folder)
    assert ran.code == 0, ran.err

    review = review_of(folder)
    assert [c["code"] for c in review["corrections"]] == ["head_lifts", "elbow_drops"]
    told = page(folder).split("### 2. ")[1].split("\n## ")[0]
    assert told.startswith("Elbow sinks (right)\n")
    assert "“Your right elbow sinks.”" in told
    assert "140–145°; aim for 100–120°, so 20° over" in told
    assert "Show me your *forearm*." in told
    assert "**Single-arm swimming**" in told
    assert "Knees" not in page(folder)
    swims = [s for session in review["plan"]["sessions"] for s in session["swims"]]
    assert {s["reps"] for s in swims if s["drill"] == "scull_front"} == {6}

    changes = {change["place"]: (change["was"], change["now"]) for change in review["changes"]}
    assert changes["corrections, elbow_drops, side"] == ("left", "right")
    assert changes["corrections, knee_bends"][1] == "taken out"
    assert changes["corrections"] == ("elbow_drops, head_lifts", "head_lifts, elbow_drops")
    assert changes["sets, scull_front at 0:50, reps"] == ("8", "6")
    assert changes["figures, elbow_angle left at 0:15, seen"] == ("150", "140 to 145")
    assert changes["corrections, elbow_drops, said at 0:10"][1] == "Your right elbow sinks."
    assert len(changes) == 10
    heard = {(f["code"], f["side"]) for f in review["heard"]["findings"] if f["kind"] == "fault"}
    assert heard == {("elbow_drops", "left"), ("head_lifts", None), ("knee_bends", None)}
    assert "elbow_drops, side: left → right" in page(folder, "for-coach.md").replace("\\", "")
    jsonschema.Draft202012Validator(review_schema()).validate(review)


def test_an_edit_can_be_taken_back(cli: Cli, folder: Path) -> None:
    cli("approve", folder)
    plain = files(folder)
    edit = entries(folder)
    entry(edit, "corrections", "elbow_drops")["side"] = "right"
    entry(edit, "corrections", "head_lifts")["drop"] = True
    save(folder, edit)
    cli("approve", folder)
    assert review_of(folder)["changes"]
    (folder / "edit.yaml").write_bytes(plain["edit.yaml"])
    cli("approve", folder)
    assert files(folder) == plain


def test_the_edit_survives_a_second_review(cli: Cli, folder: Path, talk: Path) -> None:
    text = page(folder, "edit.yaml").replace(
        "    side: left", "    side: right  # I watched it again", 1
    )
    (folder / "edit.yaml").write_text(text, encoding="utf-8")
    cli("review", talk, "--out", folder.parent)
    assert page(folder, "edit.yaml") == text
    assert "Elbow drops in the catch (right)" in page(folder)
    assert review_of(folder)["draft"] is True
    cli("approve", folder)
    approved = files(folder)
    cli("review", talk, "--out", folder.parent)
    assert files(folder) == approved


def test_an_edit_that_no_longer_fits_is_kept_and_told(cli: Cli, folder: Path, talk: Path) -> None:
    text = page(folder, "edit.yaml").replace("    side: left", "    side: right", 1)
    (folder / "edit.yaml").write_text(text, encoding="utf-8")
    talk.write_text(TALK.split("00:00:50")[0], encoding="utf-8")
    ran = cli("review", talk, "--out", folder.parent)
    assert ran.code == 0
    told = " ".join(ran.out.split())
    assert "Your edit is kept, but not in it" in told
    assert "no such entry was heard" in told
    assert page(folder, "edit.yaml") == text
    assert review_of(folder)["draft"] is True


def test_an_edit_nobody_touched_is_made_again(cli: Cli, folder: Path, talk: Path) -> None:
    talk.write_text(TALK.split("00:00:50")[0], encoding="utf-8")
    assert cli("review", talk, "--out", folder.parent).code == 0
    assert "sets:" not in page(folder, "edit.yaml")


SLIPS = {
    "a side": ("    side: left", "    side: lefft", "elbow_drops, side: 'lefft' cannot be used"),
    "a key": ("    severity:", "    severty:", "unknown key 'severty' (did you mean 'severity'?)"),
    "an entry": ("correction: head_lifts", "correction: head_lift", "(did you mean 'head_lifts'?)"),
    "an amount": ("seen: 150", "seen: a lot", "seen: 'a lot' is no amount"),
    "a turned amount": ("aim: 100 to 120", "aim: 120 to 100", "'120 to 100' runs backwards"),
    "an angle no arm has": ("seen: 150", "seen: 500", "seen: 500° is not possible. Give something"),
    "a drill": ("drill: scull_front", "drill: skull_front", "(did you mean 'scull_front'?)"),
    "a number": ("reps: 8", "reps: lots", "reps: 'lots' cannot be used"),
    "a moment": ('"0:10":', '"0:11":', "nothing was said of it at '0:11'. Use 0:10"),
    "no YAML": ("    side: left", "    side: [left", "is not YAML text"),
    "a line twice": ("    side: left", "    side: left\n    side: right", "'side' stands twice"),
    "an alias": ("    side: left", "    side: &a left\n    name: *a", "uses an alias"),
    "a list for an entry": ("corrections:\n", "corrections:\n  - left\n", "corrections, entry 1"),
    "another file": ("# Your edit", "- words\n# Your edit", "is not YAML text"),
}  # fmt: skip


@pytest.mark.parametrize(("old", "new", "problem"), SLIPS.values(), ids=SLIPS)
def test_a_slip_is_one_line_with_its_place_and_leaves_all_as_it_was(
    cli: Cli, folder: Path, old: str, new: str, problem: str
) -> None:
    text = page(folder, "edit.yaml")
    assert old in text
    (folder / "edit.yaml").write_text(text.replace(old, new, 1), encoding="utf-8")
    before = files(folder)
    ran = cli("approve", folder)
    assert (ran.code, ran.out) == (3, "")
    assert len(ran.err.splitlines()) == 1
    assert re.match(r"voicenotes: \S+edit\.yaml", ran.err)
    assert problem in ran.err
    assert "Traceback" not in ran.err
    assert files(folder) == before


def test_the_place_of_a_slip_is_its_line(cli: Cli, folder: Path) -> None:
    lines = page(folder, "edit.yaml").splitlines()
    number = next(i for i, line in enumerate(lines) if "seen: 150" in line)
    lines[number] = lines[number].replace("150", "many")
    (folder / "edit.yaml").write_text("\n".join(lines), encoding="utf-8")
    assert f"edit.yaml, line {number + 1}, figures, elbow_angle" in cli("approve", folder).err


def test_a_folder_without_a_review(cli: Cli, tmp_path: Path) -> None:
    ran = cli("approve", tmp_path)
    assert ran.code == 3
    assert "holds no review.json. Name a folder that voicenotes review made." in ran.err


def test_hostile_words_stay_words_in_the_edit_and_after_it(
    cli: Cli, tmp_path: Path, talk: Path
) -> None:
    nasty = "Your left elbow drops <script>alert(1)</script>: \"quoted\" # 'x' \u202e{{ 7*7 }} 🏊"
    talk.write_text(TALK.replace("Your left elbow drops a lot", nasty), encoding="utf-8")
    assert cli("review", talk, "--out", tmp_path / "out").code == 0
    folder = tmp_path / "out" / "talk"
    said = entry(entries(folder), "corrections", "elbow_drops")["said"]
    assert "<script>alert(1)</script>: \"quoted\" # 'x'" in said["0:10"]
    assert cli("approve", folder).code == 0
    assert review_of(folder)["changes"] == []
    html = page(folder, "feedback.html")
    assert "<script>alert(1)" not in html
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in html
    assert "\u202e" not in html


def test_a_new_start_moves_the_calendar(cli: Cli, folder: Path) -> None:
    assert cli("approve", folder, "--start", "2026-04-06").code == 0
    assert "DTSTART;VALUE=DATE:20260406" in page(folder, "plan.ics")
    ran = cli("approve", folder, "--start", "next week")
    assert ran.code == 3
    assert "--start: 'next week' is not a day. Write it like 2026-03-02." in ran.err


def test_without_a_start_the_plan_begins_the_day_after(
    cli: Cli, tmp_path: Path, talk: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Today as reproducible-builds.org's SOURCE_DATE_EPOCH says it: 1 March 2026, 12:00 UTC."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1772366400")
    cli("review", talk, "--out", tmp_path)
    first = files(tmp_path / "talk")
    assert b"DTSTART;VALUE=DATE:20260302" in first["plan.ics"]
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1775000000")
    cli("review", talk, "--out", tmp_path)
    assert files(tmp_path / "talk") == first


def test_the_coachs_name_and_words_come_from_a_shared_file(
    cli: Cli, tmp_path: Path, talk: Path
) -> None:
    shared = (
        "coach: Robin\ngreeting: Hi *{swimmer}*!\nsign_off: |\n  Well done.\n  <b>See</b> you\n"
    )
    (tmp_path / "coach.yaml").write_text(shared, encoding="utf-8")
    talk.with_suffix(".yaml").write_text("swimmer: Esme\n", encoding="utf-8")
    cli("review", talk, "--out", tmp_path / "out")
    html = page(tmp_path / "out" / "talk", "feedback.html")
    assert "Hi <em>Esme</em>!" in html
    assert "Well done.<br>&lt;b&gt;See&lt;/b&gt; you" in html
    assert "<bdi>Robin</bdi>" in html
    text = page(tmp_path / "out" / "talk")
    assert "\nHi *Esme*!\n" in text
    assert "**Robin**" in text
    talk.with_suffix(".yaml").write_text("coach: Kit\n", encoding="utf-8")
    cli("review", talk, "--out", tmp_path / "out")
    assert "**Kit**" in page(tmp_path / "out" / "talk")


def test_a_coachs_own_templates(cli: Cli, folder: Path, tmp_path: Path) -> None:
    own = tmp_path / "own"
    own.mkdir()
    (own / "feedback.md").write_text("{{ v.swimmer or 'You' }}: {{ v.now|length }}\n", "utf-8")
    assert cli("approve", folder, "--templates", own).code == 0
    assert page(folder) == "You: 3\n"
    assert cli("approve", folder).code == 0
    assert page(folder) == "You: 3\n"


@pytest.mark.parametrize(
    ("name", "text", "problem"),
    [
        ("feedback.md", "\n{{ v.swimmer", "feedback.md, line 2: cannot be used"),
        ("feedback.md", "\n\n{{ v.nothing }}", "feedback.md, line 3: cannot be used"),
        ("feedback.md", "{{ ''.__class__.__mro__ }}", "is unsafe"),
        ("feedback.md", "{{ 1 / 0 }}", "division by zero"),
        ("feedbak.md", "x", "(did you mean 'feedback.md'?)"),
        (None, "", "holds no templates"),
    ],
)  # fmt: skip
def test_a_slip_in_a_template_is_one_line(
    cli: Cli, folder: Path, tmp_path: Path, name: str | None, text: str, problem: str
) -> None:
    own = tmp_path / "own"
    own.mkdir()
    if name:
        (own / name).write_text(text, encoding="utf-8")
    before = files(folder)
    ran = cli("approve", folder, "--templates", own)
    assert ran.code == 3
    assert len(ran.err.splitlines()) == 1
    assert problem in ran.err
    assert files(folder) == before
