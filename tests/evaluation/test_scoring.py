"""The score of notes against an annotation: sums that can be done by hand."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from voicenotes.cli import app
from voicenotes.errors import InputError
from voicenotes.evaluation.annotation import Annotation, read_annotation
from voicenotes.evaluation.scoring import Score, Scorer
from voicenotes.notes import Cause, DrillSet, Figure, Finding, Mention, Notes

GOLD = Path(__file__).parent.parent / "gold"


def at(start: float) -> tuple[Mention, ...]:
    return (Mention(start=start, end=start + 4, quote="words"),)


NOTED = Annotation.model_validate(
    {
        "id": "x",
        "findings": [
            {"kind": "fault", "code": "elbow_drops", "side": "left", "severity": "marked",
             "at": [[10, 14]]},
            {"kind": "strength", "code": "kick", "at": [[20, 24]]},
        ],
        "figures": [{"measure": "elbow_angle", "observed": [150, 150], "target": [90, 120],
                     "at": [[10, 14]]}],
        "drills": [{"code": "fist", "reps": 6, "distance_m": 25, "rest_s": 15, "at": [[30, 34]]}],
        "causes": [["elbow_drops", "pull_slips"]],
        "traps": [{"at": [[50, 54]], "why": "denied", "must_not": ["fault:scissor_kick"]}],
        "off_topic": [[60, 70]],
    }
)  # fmt: skip


def score(notes: Notes) -> Score:
    scorer = Scorer()
    scorer.add(NOTED, notes)
    return scorer.score


def fault(code: str, start: float, **more: object) -> Finding:
    return Finding.model_validate({"kind": "fault", "code": code, "mentions": at(start), **more})


def test_nothing_found_misses_everything_and_makes_nothing_up() -> None:
    tallies = score(Notes()).tallies
    assert {kind: (t.hit, t.missed, t.false) for kind, t in tallies.items()} == {
        "faults": (0, 1, 0),
        "strengths": (0, 1, 0),
        "observed": (0, 1, 0),
        "targets": (0, 1, 0),
        "drills": (0, 1, 0),
        "causes": (0, 1, 0),
    }


def test_what_is_right_counts_and_details_are_kept_apart() -> None:
    notes = Notes(
        findings=(
            fault("elbow_drops", 12, severity="slight"),
            Finding(kind="strength", code="kick", mentions=at(26)),
        ),
        figures=(Figure(measure="elbow_angle", unit="deg", observed=(150, 150), mentions=at(10)),),
        drills=(
            DrillSet(code="fist", name="fist", reps=6, distance_m=25, rest_s=20, mentions=at(30)),
        ),
        causes=(Cause(cause="pull_slips", effect="elbow_drops", mention=at(12)[0]),),
    )
    got = score(notes)
    assert got.tallies["faults"].f1 == 1
    assert got.tallies["strengths"].f1 == 1
    assert got.tallies["observed"].f1 == 1
    assert got.tallies["targets"].recall == 0
    assert got.tallies["causes"].f1 == 0
    assert got.share("side_right", "fault_pairs") == 0
    assert got.share("severity_right", "fault_pairs") == 0
    assert got.share("dose_right", "drill_pairs") == 0


def test_a_mention_far_from_the_annotated_moment_is_a_miss_and_a_false_entry() -> None:
    tally = score(Notes(findings=(fault("elbow_drops", 40, side="left"),))).tallies["faults"]
    assert (tally.hit, tally.missed, tally.false) == (0, 1, 1)


def test_the_wrong_side_is_a_miss() -> None:
    tally = score(Notes(findings=(fault("elbow_drops", 12, side="right"),))).tallies["faults"]
    assert (tally.hit, tally.missed, tally.false) == (0, 1, 1)


def test_a_sprung_trap_and_an_off_topic_entry_are_counted_and_listed() -> None:
    got = score(Notes(findings=(fault("scissor_kick", 52), fault("kick_weak", 62))))
    assert (got.details["traps"], got.details["sprung"], got.details["off_topic"]) == (1, 1, 1)
    assert {"trap", "false"} <= {wrong.what for wrong in got.wrong}


def test_a_broken_annotation_is_named_with_its_field(tmp_path: Path) -> None:
    path = tmp_path / "a.gold.json"
    path.write_text(json.dumps({"id": "a", "findings": [{"kind": "fault"}]}))
    with pytest.raises(InputError, match=r"a\.gold\.json.*findings\.0\.code"):
        read_annotation(path)


def test_a_folder_without_annotations_is_one_clear_line(tmp_path: Path) -> None:
    result = CliRunner().invoke(app, ["evaluate", str(tmp_path)])
    assert isinstance(result.exception, InputError)
    assert "NAME.gold.json" in str(result.exception)


@pytest.mark.parametrize("path", sorted(GOLD.glob("*.gold.json")), ids=lambda p: p.name)
def test_the_projects_own_annotations_can_be_read(path: Path) -> None:
    assert read_annotation(path).findings
