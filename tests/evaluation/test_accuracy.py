"""The reading on annotated narrations must not fall behind what it has reached.

The floors lie a little below the figures in ``tests/gold/ACCURACY.md``.
"""

from pathlib import Path

import pytest

from voicenotes.evaluation.evaluate import evaluate
from voicenotes.evaluation.scoring import Score
from voicenotes.vocabulary.load import load_vocabulary

DEV = Path(__file__).parent.parent / "dev"


@pytest.fixture(scope="module")
def score() -> Score:
    return evaluate(DEV, load_vocabulary())


@pytest.mark.parametrize(
    ("kind", "floor"),
    [
        ("faults", 0.86), ("strengths", 0.88), ("observed", 0.87), ("targets", 0.9),
        ("drills", 0.95), ("causes", 0.65),
    ],
)  # fmt: skip
def test_what_is_noted_is_read(score: Score, kind: str, floor: float) -> None:
    assert score.tallies[kind].f1 >= floor


def test_what_must_not_be_read_is_left_out(score: Score) -> None:
    assert score.details["sprung"] <= 0.03 * score.details["traps"]
    assert score.details["off_topic"] == 0


def test_sides_and_doses_are_right(score: Score) -> None:
    assert score.share("side_right", "fault_pairs") >= 0.92
    assert score.share("dose_right", "drill_pairs") >= 0.95
