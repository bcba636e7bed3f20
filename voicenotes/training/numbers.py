"""Which numbers of a talk are figures: every number found in it, held against the annotation."""

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from itertools import accumulate
from typing import Any

from voicenotes.reading.figures.values import plausible
from voicenotes.reading.figures.words import MeasureWords
from voicenotes.reading.numbers.find import find_ordinals, find_quantities
from voicenotes.reading.numbers.quantities import Quantity
from voicenotes.reading.text import Narration
from voicenotes.training.corpus import Number, Talk
from voicenotes.transcript import Cue, Transcript
from voicenotes.vocabulary.model import Vocabulary

LINE_S, PAUSE_S = 5.0, 1.0
"""Seconds that a line and the pause after it are taken to last: only their order matters."""
CLOSE = 0.011
"""Share by which a value may differ from the annotated one."""
ROLES = ("observed", "target")

Found = tuple[int, int, int, set[tuple[str, str]]]
"""A number: unit, first and last character in it, and the measures and roles that it fits."""


def told(talk: Talk) -> Narration:
    """A talk as a narration, each unit a cue."""
    step = LINE_S + PAUSE_S
    cues = tuple(
        Cue(start=step * i, end=step * i + LINE_S, text=unit.text)
        for i, unit in enumerate(talk.units)
    )
    return Narration(Transcript(name=talk.name, cues=cues, duration=step * len(cues)))


def mark_numbers(talks: Iterable[Talk], vocabulary: Vocabulary) -> None:
    """Sets the numbers of every unit of annotated talks.

    A number is a figure where an annotated figure of its line has its value. Where a line's figure
    is not among the numbers that were found, what its other numbers are cannot be told.
    """
    words = MeasureWords(vocabulary)
    for talk in talks:
        _mark(talk, words)


def _mark(talk: Talk, words: MeasureWords) -> None:
    found = _found(talk, words)
    fitted = {(unit, *fit) for unit, _, _, fits in found for fit in fits}
    lines = _figures_by_unit(talk)
    marks: dict[int, list[Number]] = {}
    for unit, first, last, fits in found:
        wanted = {(unit, f["measure"], role) for f in lines[unit] for role in ROLES if f.get(role)}
        measures, roles = {m for m, _ in fits}, {r for _, r in fits}
        role = next(iter(roles)) if len(roles) == 1 else None
        if not fits and wanted <= fitted | _said_elsewhere(talk, fitted, unit):
            role = "none"
        measure = next(iter(measures)) if len(measures) == 1 else None
        marks.setdefault(unit, []).append(Number(first, last, role, measure))
    for at, said in enumerate(talk.units):
        said.numbers = tuple(marks.get(at, ()))


def is_value(figure: Mapping[str, Any], role: str, values: Sequence[Any]) -> bool:
    """Whether one of the intervals is what a figure states in a role."""
    stated = figure.get(role)
    return stated is not None and any(
        all(
            (a is None and b is None)
            or (a is not None and b is not None and abs(a - b) <= CLOSE * max(abs(a), 0.1))
            for a, b in zip(stated, value, strict=True)
        )
        for value in values
    )


def _figures_by_unit(talk: Talk) -> list[list[dict[str, Any]]]:
    return [
        [figure for figure in talk.figures if set(unit.lines) & set(figure["at"])]
        for unit in talk.units
    ]


def _said_elsewhere(
    talk: Talk, fitted: set[tuple[int, str, str]], unit: int
) -> set[tuple[int, str, str]]:
    """What a figure of several lines states on another of them, as if it were said on this one."""
    named = {
        (i, figure["measure"], role)
        for figure in talk.figures
        for role in ROLES
        for i, other in enumerate(talk.units)
        if figure.get(role) and set(other.lines) & set(figure["at"])
        and set(talk.units[unit].lines) & set(figure["at"])
    }  # fmt: skip
    return {(unit, measure, role) for i, measure, role in named & fitted}


def _found(talk: Talk, words: MeasureWords) -> list[Found]:
    narration = told(talk)
    starts = [0, *accumulate(len(unit.text) + 1 for unit in talk.units)]
    lines, doc = _figures_by_unit(talk), narration.doc
    found = []
    for quantity in (*find_quantities(doc), *find_ordinals(doc)):
        first = doc[quantity.first].idx
        last = doc[quantity.last - 1].idx + len(doc[quantity.last - 1])
        unit = bisect_right(starts, first) - 1
        said = words.unit(doc, quantity)
        fits = _fits(quantity, said.words if said else None, lines[unit], words)
        start = starts[unit]
        found.append((unit, first - start, min(last - start, len(talk.units[unit].text)), fits))
    return found


def _fits(
    quantity: Quantity,
    unit: tuple[str, ...] | None,
    figures: Sequence[Mapping[str, Any]],
    words: MeasureWords,
) -> set[tuple[str, str]]:
    """The measures and roles whose annotated value a quantity has."""
    return {
        (figure["measure"], role)
        for figure in figures
        for role in ROLES
        if is_value(figure, role, plausible(quantity, words.measures[figure["measure"]], unit))
    }
