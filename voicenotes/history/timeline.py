"""A measure over the days of a swimmer's reviews, drawn: a strip for each side, ranges shaded."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from voicenotes.feedback.charts import Scale, scale_of
from voicenotes.history.progress import Line, Measured, Point
from voicenotes.notes import Interval, Side

WIDTH = 640.0
"""Width of the drawing in its own units; the page scales it."""

LEFT, RIGHT = 74.0, 612.0
"""Where the days begin and end; sides are named to the left of them."""

STRIP, GAP, FOOT = 120.0, 14.0, 26.0
"""Height of a side's strip, between two of them, and of the words below."""

INSET = 18.0
"""Room in a strip above its highest value, for the words, and below its lowest."""

MOST_WORDS = 8
"""Values told in words in a strip: with more of them they would lie on each other."""


@dataclass(frozen=True)
class Dot:
    """What was seen on a day: at ``x``, from ``low`` down to ``high`` up; ``label`` is where its
    words stand, None where they would be too many."""

    point: Point
    x: float
    low: float
    high: float
    label: float | None
    inside: bool


@dataclass(frozen=True)
class Shade:
    """A range as long as it held."""

    x: float
    y: float
    width: float
    height: float


@dataclass(frozen=True)
class Strip:
    """One side: its top and bottom, its range, what was seen, and a line through the middles."""

    side: Side | None
    top: float
    bottom: float
    shades: tuple[Shade, ...]
    dots: tuple[Dot, ...]
    line: str


@dataclass(frozen=True)
class Timeline:
    """A measure over time; the scale is the same for every side and every measure's days."""

    figure: Measured
    height: float
    strips: tuple[Strip, ...]
    days: tuple[tuple[float, date], ...]
    """Where the first and the last day are told."""


def timeline(figure: Measured, days: Sequence[date]) -> Timeline:
    """The drawing of a measure; ``days`` are those of all reviews, oldest first."""
    first, last = days[0].toordinal(), days[-1].toordinal()
    across = (
        Scale(first, last, LEFT, RIGHT) if last > first else Scale(first - 1, last + 1, LEFT, RIGHT)
    )
    every = [i for line in figure.lines for p in line.points for i in (p.seen, p.aim) if i]
    known = [interval for interval in every if interval != (None, None)] or [(0.0, 1.0)]
    strips, top = [], 0.0
    for line in figure.lines:
        strips.append(_strip(line, top, across, known))
        top += STRIP + GAP
    told = dict.fromkeys([days[0], days[-1]])
    return Timeline(
        figure=figure,
        height=top - GAP + FOOT,
        strips=tuple(strips),
        days=tuple((across.at(day.toordinal(), LEFT), day) for day in told),
    )


def _strip(line: Line, top: float, across: Scale, known: Sequence[Interval]) -> Strip:
    bottom = top + STRIP
    up = scale_of(known, bottom - INSET / 2, top + INSET)
    step = -(-len(line.points) // MOST_WORDS)
    dots = tuple(
        _dot(point, across, up, top, bottom, told=(len(line.points) - 1 - place) % step == 0)
        for place, point in enumerate(line.points)
    )
    return Strip(
        side=line.side,
        top=top,
        bottom=bottom,
        shades=tuple(_shades(line.points, across, up, top, bottom)),
        dots=dots,
        line=" ".join(f"{dot.x:.1f},{(dot.low + dot.high) / 2:.1f}" for dot in dots),
    )


def _dot(point: Point, across: Scale, up: Scale, top: float, bottom: float, *, told: bool) -> Dot:
    low, high = up.at(point.seen[0], bottom), up.at(point.seen[1], top)
    return Dot(
        point=point,
        x=across.at(point.day.toordinal(), LEFT),
        low=low,
        high=high,
        label=max(top + 12, high - 8) if told else None,
        inside=_inside(point),
    )


def _inside(point: Point) -> bool:
    if point.aim is None:
        return False
    (low, high), (least, most) = point.seen, point.aim
    over = most is not None and (high is None or high > most)
    under = least is not None and (low is None or low < least)
    return not over and not under


def _shades(
    points: Sequence[Point], across: Scale, up: Scale, top: float, bottom: float
) -> list[Shade]:
    """Each range from the day it was first aimed at to the day of the next; the last to the end."""
    found: list[tuple[Point, float]] = []
    for point in points:
        if not found or found[-1][0].aim != point.aim:
            found.append((point, across.at(point.day.toordinal(), LEFT) if found else LEFT))
    ends = [start for _, start in found[1:]] + [RIGHT]
    shades = []
    for (point, start), end in zip(found, ends, strict=True):
        if point.aim is not None:
            high, low = up.at(point.aim[1], top), up.at(point.aim[0], bottom)
            shades.append(Shade(start, high, round(end - start, 1), max(2.0, round(low - high, 1))))
    return shades
