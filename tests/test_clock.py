"""The two clocks. Between marks, numpy's own linear interpolation is the second opinion."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from pydantic import ValidationError

from voicenotes.clock import END_SLACK_S, SAME, Clock, Mark

SECONDS = st.integers(0, 3_600_000).map(lambda thousandths: thousandths / 1000)


@st.composite
def marks(draw: st.DrawFn) -> tuple[Mark, ...]:
    """Marks in order of the narration, none at the same second."""
    narration = sorted(draw(st.sets(SECONDS, min_size=1, max_size=6)))
    return tuple(Mark(narration_s=one, clip_s=draw(SECONDS)) for one in narration)


@given(marks())
def test_the_clock_shows_what_each_mark_says(given_marks: tuple[Mark, ...]) -> None:
    clock = Clock(marks=given_marks)
    for mark in given_marks:
        assert clock.at(mark.narration_s) == pytest.approx(mark.clip_s, abs=0.001)


@given(marks(), SECONDS)
def test_between_marks_it_runs_evenly(given_marks: tuple[Mark, ...], at: float) -> None:
    assume(given_marks[0].narration_s <= at <= given_marks[-1].narration_s)
    narration = [mark.narration_s for mark in given_marks]
    clip = [mark.clip_s for mark in given_marks]
    told = Clock(marks=given_marks).at(at)
    assert told == pytest.approx(float(np.interp(at, narration, clip)), abs=0.001)


@given(SECONDS, SECONDS, SECONDS)
def test_an_offset_moves_every_second_alike(start: float, clip: float, after: float) -> None:
    clock = Clock(marks=(Mark(narration_s=start, clip_s=clip),))
    assert clock.at(start + after) == pytest.approx(clip + after, abs=0.002)
    before = clock.at(max(0.0, start - after))
    if before is None:
        assert clip < min(after, start) + 0.001
    else:
        assert before == pytest.approx(clip - min(after, start), abs=0.002)


@given(SECONDS, st.floats(0.1, 100), SECONDS, st.floats(0, 1))
def test_a_clip_that_stands_still_keeps_its_second(
    start: float, pause: float, clip: float, share: float
) -> None:
    clock = Clock(
        marks=(Mark(narration_s=start, clip_s=clip), Mark(narration_s=start + pause, clip_s=clip))
    )
    assert clock.at(start + share * pause) == pytest.approx(clip, abs=0.001)


@given(marks(), SECONDS, st.floats(1, 3600))
def test_no_second_lies_outside_the_clip(
    given_marks: tuple[Mark, ...], at: float, length: float
) -> None:
    told = Clock(marks=given_marks, length_s=length).at(at)
    assert told is None or 0 <= told <= length


def test_a_clip_that_is_moved_back_leaps() -> None:
    """Played from 0:05 on; at 0:30 of the narration the coach goes back to 0:09."""
    clock = Clock(
        marks=(
            Mark(narration_s=5, clip_s=0),
            Mark(narration_s=30, clip_s=25),
            Mark(narration_s=30, clip_s=9),
        )
    )
    seconds = [clock.at(second) for second in (2, 5, 20, 29, 30, 32)]
    assert seconds == [None, 0, 15, 24, 9, 11]


def test_the_clocks_of_a_talk_over_the_clip_agree() -> None:
    assert [Clock(marks=SAME, length_s=20).at(second) for second in (0, 3.25, 20)] == [0, 3.25, 20]
    assert Clock(marks=SAME, length_s=20).at(20 + END_SLACK_S / 2) == 20
    assert Clock(marks=SAME, length_s=20).at(25) is None


def test_without_marks_nothing_is_known() -> None:
    assert Clock(length_s=60).at(3) is None
    assert Clock(length_s=60).inside(3) == 3
    assert Clock(length_s=60).inside(90) is None


@given(marks())
def test_marks_in_another_order_are_refused(given_marks: tuple[Mark, ...]) -> None:
    assume(len(given_marks) > 1)
    assert all(one.narration_s < other.narration_s for one, other in pairwise(given_marks))
    with pytest.raises(ValidationError, match="follows one at"):
        Clock(marks=given_marks[::-1])
