import math

import hypothesis.strategies as st
from hypothesis import assume, given

from voicenotes.judging.intervals import Span, closed, compare, span

ENDS = st.floats(-500, 500).map(lambda x: round(x, 2))
SPANS = st.tuples(ENDS, ENDS).map(lambda ends: Span(min(ends), max(ends)))


def test_one_value_over_a_range_is_over_by_the_distance_to_its_edge() -> None:
    assert compare(Span(155, 155), Span(90, 120)) == ("over", 35)


def test_a_value_on_the_edge_is_inside() -> None:
    assert compare(Span(120, 120), Span(90, 120)) == ("inside", 0)


def test_an_interval_across_an_edge_straddles_by_how_far_it_reaches() -> None:
    assert compare(Span(115, 130), Span(90, 120)) == ("straddles", 10)
    assert compare(Span(80, 130), Span(90, 120)) == ("straddles", 10)


def test_a_limit_is_held_at_its_one_end() -> None:
    at_most = span((None, 0.2))
    assert compare(Span(0.7, 0.7), at_most) == ("over", 0.5)
    assert compare(Span(0.1, 0.2), at_most) == ("inside", 0)


def test_an_open_observation_goes_as_far_as_is_possible() -> None:
    """At least 60 may be anything up to 90."""
    assert compare(closed((60, None), (0, 90)), Span(40, 70)) == ("straddles", 20)
    assert compare(closed((60, None), (0, 90)), span((50, None))) == ("inside", 0)
    assert compare(closed((None, 20), (0, 90)), Span(35, 50)) == ("under", 15)


def test_ends_said_the_wrong_way_round_are_the_same_interval() -> None:
    assert span((50, 40)) == Span(40, 50)


@given(SPANS, SPANS)
def test_the_outcome_agrees_with_every_value_of_the_observation(seen: Span, allowed: Span) -> None:
    outcome, margin = compare(seen, allowed)
    ends = [allowed.low <= end <= allowed.high for end in seen]
    if outcome == "inside":
        assert all(ends)
        assert margin == 0
    elif outcome == "under":
        assert seen.high < allowed.low
    elif outcome == "over":
        assert seen.low > allowed.high
    else:
        assert not all(ends)
        assert seen.low <= allowed.high
        assert seen.high >= allowed.low
    assert margin >= 0
    assert math.isfinite(margin)


@given(SPANS, SPANS, st.floats(0.1, 100))
def test_widening_the_range_by_the_margin_takes_the_observation_in(
    seen: Span, allowed: Span, more: float
) -> None:
    outcome, margin = compare(seen, allowed)
    assume(outcome != "inside")
    reach = margin + (seen.high - seen.low) + more
    assert compare(seen, Span(allowed.low - reach, allowed.high + reach))[0] == "inside"


@given(SPANS, SPANS)
def test_looking_from_the_other_end_turns_under_into_over(seen: Span, allowed: Span) -> None:
    turned = {"under": "over", "over": "under", "inside": "inside", "straddles": "straddles"}
    outcome, margin = compare(seen, allowed)
    mirrored = compare(Span(-seen.high, -seen.low), Span(-allowed.high, -allowed.low))
    assert mirrored == (turned[outcome], margin)


@given(st.one_of(st.none(), ENDS), st.one_of(st.none(), ENDS), SPANS)
def test_a_closed_interval_is_finite_and_holds_what_was_said(
    low: float | None, high: float | None, possible: Span
) -> None:
    shut = closed((low, high), possible)
    assert math.isfinite(shut.low)
    assert math.isfinite(shut.high)
    for end in (low, high):
        assert end is None or shut.low <= end <= shut.high
