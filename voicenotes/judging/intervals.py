"""Intervals as spoken, held against ranges."""

import math
from typing import Literal, NamedTuple

from voicenotes.notes import Interval

Outcome = Literal["inside", "under", "over", "straddles"]


class Span(NamedTuple):
    """An interval with both ends filled in; an open end is infinite."""

    low: float
    high: float


def span(interval: Interval) -> Span:
    """The interval with infinite ends where it is open, low end first."""
    low = -math.inf if interval[0] is None else interval[0]
    high = math.inf if interval[1] is None else interval[1]
    return Span(min(low, high), max(low, high))


def closed(interval: Interval, possible: tuple[float, float]) -> Span:
    """The interval with an open end closed at what is possible.

    "At least sixty" says nothing of how far it goes on; what a body or a pool allows does.
    """
    low, high = span(interval)
    return Span(
        low if math.isfinite(low) else min(possible[0], high),
        high if math.isfinite(high) else max(possible[1], low),
    )


def compare(observed: Span, allowed: Span) -> tuple[Outcome, float]:
    """Where an observation lies against a range, and by how much, in their unit.

    The margin is the distance to the nearest edge when it lies wholly outside, 0 inside, and
    how far it reaches over the edge when it straddles one (over both: the farther reach).
    """
    if allowed.low <= observed.low and observed.high <= allowed.high:
        return "inside", 0.0
    if observed.high < allowed.low:
        return "under", _tidy(allowed.low - observed.high)
    if observed.low > allowed.high:
        return "over", _tidy(observed.low - allowed.high)
    return "straddles", _tidy(max(allowed.low - observed.low, observed.high - allowed.high))


def meet(one: Span, other: Span) -> bool:
    """Whether two intervals share a value."""
    return one.low <= other.high and other.low <= one.high


def _tidy(value: float) -> float:
    """Rid of the dust of binary fractions: 0.7 - 0.2 is 0.5."""
    return round(value, 6)
