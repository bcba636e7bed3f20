"""Drills that go on from the plan before: the stages by hand from the small vocabulary.

Its drills for a dropping elbow: sculling (part of the stroke), fists and paddles (the whole stroke
with one task), easiest first; with dry-land pulling added here.
"""

from datetime import date

import pytest

from tests.history.season import kept, review_of
from tests.judging.small import DRILLS, VOCABULARY, drill_set, fault, figure, notes
from voicenotes.history.verdicts import since_last
from voicenotes.judging.steps import step_on
from voicenotes.notes import Notes
from voicenotes.review import Since
from voicenotes.vocabulary.model import Stage

FIRST, SECOND = date(2027, 1, 4), date(2027, 1, 18)
EQUIPMENT = ("band", "paddles")
WORDS = VOCABULARY.model_copy(
    update={
        "drills": {
            **DRILLS,
            "band_pull": DRILLS["band_pull"].model_copy(update={"trains": ("elbow_drops",)}),
        },
        "faults": {
            **VOCABULARY.faults,
            "elbow_drops": VOCABULARY.faults["elbow_drops"].model_copy(
                update={"drills": ("scull", "fist", "paddles", "band_pull")}
            ),
        },
    }
)


def drops(degrees: float, **entries: object) -> Notes:
    seen = figure("elbow_angle", (degrees, degrees), (90, 120), side="left")
    return notes(findings=(fault("elbow_drops", side="left"),), figures=(seen,), **entries)


@pytest.mark.parametrize(
    ("before", "after", "wanted"),
    [
        (150, 130, "at_pace"),
        (150, 150, "constrained_stroke"),
        (130, 150, "part_stroke"),
    ],
)
def test_better_is_a_stage_on_and_worse_one_back(
    before: float, after: float, wanted: Stage
) -> None:
    """Sculling and fists were in the plan: its latest stage is that of the fists."""
    then = kept(drops(before), FIRST, sessions=3)
    assert {s.drill for s in then.plan if s.focus == "elbow_drops"} >= {"scull", "fist"}
    (told,) = since_last([then], kept(drops(after), SECOND), VOCABULARY)
    assert told.stage == wanted


def test_a_fault_that_is_not_named_again_has_no_stage() -> None:
    then = kept(drops(150), FIRST, sessions=3)
    (told,) = since_last([then], kept(notes(), SECOND), VOCABULARY)
    assert told.stage is None


def stepped(said: Notes, stage: Stage) -> tuple[tuple[str, ...], set[str | None]]:
    """The drills of the correction, and those of the plan."""
    since = Since(code="elbow_drops", name="x", side="left", became="better", stage=stage)
    review = review_of(said, SECOND, sessions=3, equipment=EQUIPMENT)
    after = step_on(review.model_copy(update={"since": (since,)}), WORDS)
    planned = {swim.drill for visit in after.plan.sessions for swim in visit.swims}
    return after.corrections[0].drills, planned


def test_the_usual_drill_leads_in_and_the_other_is_of_the_stage() -> None:
    drills, planned = stepped(drops(150), "constrained_stroke")
    assert drills == ("scull", "fist")
    assert {"scull", "fist"} <= planned
    drills, planned = stepped(drops(150), "dry_land")
    assert drills == ("scull", "band_pull")
    assert "fist" not in planned


def test_what_the_coach_prescribed_stays() -> None:
    said = drops(150, drills=(drill_set("paddles", 4, 50, trains=("elbow_drops",)),))
    drills, planned = stepped(said, "dry_land")
    assert drills[0] == "paddles"
    assert "paddles" in planned
