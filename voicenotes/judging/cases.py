"""A figure made ready to be judged: its measure, the target it is held to, the bands that fit."""

from dataclasses import dataclass

from voicenotes.judging.bands import best_standing, choose_band, may_be_meant, phases_named
from voicenotes.judging.intervals import Span, closed, compare, span
from voicenotes.notes import Figure, Interval
from voicenotes.review import Brief, Verdict
from voicenotes.vocabulary.model import Band, Measure, Vocabulary


@dataclass(frozen=True)
class Case:
    """One figure of a known measure.

    ``target`` is the figure's own spoken target, or one that the coach gave apart from it.
    ``bands`` are those for the swimmer's level; ``for_anyone`` are those of every level.
    """

    index: int
    figure: Figure
    measure: Measure
    target: Interval | None
    bands: tuple[Band, ...]
    for_anyone: tuple[Band, ...]

    @property
    def observed(self) -> Span | None:
        """The observation with open ends closed at what is possible; None for bare targets."""
        if self.figure.observed is None:
            return None
        return closed(self.figure.observed, self.measure.possible)


def cases(figures: tuple[Figure, ...], vocabulary: Vocabulary, brief: Brief) -> list[Case]:
    """The figures whose measure the vocabulary knows, in the order they were said."""
    found = []
    for index, figure in enumerate(figures):
        measure = vocabulary.measures.get(figure.measure)
        if measure is None:
            continue
        anyone = may_be_meant(measure, figure, brief.stroke, phases_named(figure, vocabulary))
        target = spoken_target(figures, index)
        bands = best_standing(anyone, brief.level)
        found.append(Case(index, figure, measure, target, bands, anyone))
    return found


def spoken_target(figures: tuple[Figure, ...], index: int) -> Interval | None:
    """The target spoken for a figure, with it or apart.

    Coaches measure left and right and then say one target for both, so a target said alone
    holds for figures of its measure, over the same distance, on a side that it covers; of
    several the nearest in time.
    """
    figure = figures[index]
    if figure.target is not None or figure.observed is None:
        return figure.target
    apart = [
        other
        for other in figures
        if other.observed is None
        and other.target is not None
        and (other.measure, other.distance_m) == (figure.measure, figure.distance_m)
        and (other.side in (None, "both") or other.side == figure.side)
    ]
    if not apart:
        return None
    said = figure.mentions[0].start
    return min(apart, key=lambda other: abs(other.mentions[0].start - said)).target


def verdicts_of(case: Case) -> list[Verdict]:
    """The figure against the spoken target first, then against the band."""
    if case.observed is None:
        return []
    band = choose_band(case.observed, case.bands)
    found = []
    if case.target is not None:
        found.append(hold(case.index, case.observed, case.target))
    if band is not None:
        found.append(hold(case.index, case.observed, (band.low, band.high), band))
    return found


def hold(index: int, value: Span, allowed: Interval, band: Band | None = None) -> Verdict:
    """A figure's value against a range: a band's where one is given, else a spoken target."""
    outcome, margin = compare(value, span(allowed))
    return Verdict(
        figure=index,
        outcome=outcome,
        margin=margin,
        low=allowed[0],
        high=allowed[1],
        against="band" if band else "spoken target",
        band=band,
    )
