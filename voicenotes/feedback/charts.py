"""How far from the aim, drawn: a row for each side with its range and what was seen in it."""

from collections.abc import Sequence
from dataclasses import dataclass

from voicenotes.feedback.view import Bar, Chart, Measured
from voicenotes.notes import Interval

WIDTH = 320.0
"""Width of the drawing in its own units; the page scales it."""

LEFT, RIGHT = 62.0, 308.0
"""Where the scale begins and ends; sides are named to the left of it."""

MARGIN = 0.22
"""Room beside the outermost value, as a share of the distance between the outermost two."""

FIRST_TOP, ROW, LABEL = 4.0, 38.0, 16.0
"""Height above the first row, of a row, and of the words below a range."""


@dataclass(frozen=True)
class Scale:
    """Maps values to places in the drawing, from ``start`` to ``end``."""

    low: float
    high: float
    start: float = LEFT
    end: float = RIGHT

    def at(self, value: float | None, otherwise: float) -> float:
        """Where a value lies; an open end lies at ``otherwise``."""
        if value is None:
            return otherwise
        share = (value - self.low) / (self.high - self.low)
        return round(self.start + min(1.0, max(0.0, share)) * (self.end - self.start), 1)


def draw(figures: Sequence[Measured]) -> Chart | None:
    """One drawing for figures of one measure; None where nothing was seen, or nothing aimed at."""
    rows = [f for f in figures if f.observed is not None]
    if not any(f.aim for f in rows):
        return None
    scale = scale_of([i for f in rows for i in (f.observed, f.aim) if i is not None])
    bars: list[Bar] = []
    top, first = FIRST_TOP, rows[0]
    for row, after in zip(rows, [*rows[1:], None], strict=True):
        first = first if first.aim == row.aim else row
        ends = row.aim is not None and (after is None or after.aim != row.aim)
        bars.append(_bar(row, scale, top, first if ends else None))
        top += ROW + (LABEL if ends else 0)
    return Chart(height=top, bars=tuple(bars))


def _bar(figure: Measured, scale: Scale, top: float, told: Measured | None) -> Bar:
    seen = figure.observed or (None, None)
    start, end = _places(seen, scale)
    band = _places(figure.aim, scale) if figure.aim else None
    return Bar(
        figure=figure,
        top=top,
        start=start,
        end=end,
        label=_within((start + end) / 2, 30),
        band=band,
        band_of=told,
        band_label=_within(sum(band) / 2, 62) if band else 0.0,
    )


def _places(interval: Interval, scale: Scale) -> tuple[float, float]:
    return scale.at(interval[0], LEFT), scale.at(interval[1], RIGHT)


def _within(middle: float, half: float) -> float:
    """Where words are centred so that they stay in the drawing."""
    return round(min(WIDTH - half, max(half, middle)), 1)


def scale_of(intervals: Sequence[Interval], start: float = LEFT, end: float = RIGHT) -> Scale:
    """A scale on which all of some intervals lie; one end at least must be known."""
    ends = [value for interval in intervals for value in interval if value is not None]
    low, high = min(ends), max(ends)
    room = MARGIN * (high - low) or max(1.0, abs(high) * MARGIN)
    return Scale(0.0 if 0 <= low < room else low - room, high + room, start, end)
