"""A swimmer's course over time: what became of each fault, and each measure day by day."""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from voicenotes.history.kept import Kept, KeptFigure
from voicenotes.history.verdicts import course
from voicenotes.notes import Interval, Side
from voicenotes.review import Became
from voicenotes.vocabulary.model import Stroke, Vocabulary


class Point(NamedTuple):
    """What was seen of a measure on a day, in its unit, and what was aimed at."""

    day: date
    seen: Interval
    aim: Interval | None


class Line(NamedTuple):
    """One measure of one side over time, oldest first."""

    side: Side | None
    points: tuple[Point, ...]


class Measured(NamedTuple):
    """A measure with a line for each side; over one distance where one was said."""

    measure: str
    name: str
    unit: str
    distance_m: float | None
    lines: tuple[Line, ...]


class Fault(NamedTuple):
    """A fault of one side: the days that it was first and last a correction, and what the last
    review that looked at it says. ``became`` is "new" where no later one did."""

    code: str
    name: str
    side: Side | None
    stroke: Stroke
    first: date
    last: date
    became: Became
    told_on: date


class Progress(NamedTuple):
    """A swimmer's course."""

    swimmer: str
    days: tuple[date, ...]
    faults: tuple[Fault, ...]
    measures: tuple[Measured, ...]


def progress_of(reviews: Sequence[Kept], vocabulary: Vocabulary) -> Progress:
    """The course of one swimmer's reviews, oldest first; at least one."""
    return Progress(
        swimmer=reviews[-1].swimmer,
        days=tuple(kept.made_on for kept in reviews),
        faults=_faults(reviews, vocabulary),
        measures=_measures(reviews, vocabulary),
    )


def _faults(reviews: Sequence[Kept], vocabulary: Vocabulary) -> tuple[Fault, ...]:
    """Faults in the order in which they were last told of, the latest first."""
    found: dict[tuple[str, Side | None, Stroke], Fault] = {}
    for kept, since in zip(reviews, course(reviews, vocabulary), strict=True):
        day = kept.made_on
        for one in kept.corrections:
            key = (one.code, one.side, kept.stroke)
            first = found[key].first if key in found else day
            found[key] = Fault(one.code, one.name, one.side, kept.stroke, first, day, "new", day)
        for told in since:
            key = (told.code, told.side, kept.stroke)
            if key in found and told.became != "not looked at":
                found[key] = found[key]._replace(became=told.became, told_on=day)
    return tuple(sorted(found.values(), key=lambda fault: fault.told_on, reverse=True))


def _measures(reviews: Sequence[Kept], vocabulary: Vocabulary) -> tuple[Measured, ...]:
    points: dict[tuple[str, str, float | None], dict[Side | None, list[Point]]] = {}
    for kept in reviews:
        for figure in kept.figures:
            if figure.observed is not None:
                key = (figure.measure, figure.unit, figure.distance_m)
                sides = points.setdefault(key, {})
                sides.setdefault(figure.side, []).append(_point(kept.made_on, figure))
    return tuple(
        Measured(
            measure=measure,
            name=known.name if (known := vocabulary.measures.get(measure)) else _plain(measure),
            unit=unit,
            distance_m=distance_m,
            lines=tuple(
                Line(side, tuple(sides[side])) for side in sorted(sides, key=lambda s: s or "")
            ),
        )
        for (measure, unit, distance_m), sides in points.items()
    )


def _point(day: date, figure: KeptFigure) -> Point:
    return Point(day, figure.observed or (None, None), figure.aim)


def _plain(code: str) -> str:
    return code.replace("_", " ")
