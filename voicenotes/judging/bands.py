"""Which band a figure is held against."""

import re
from collections.abc import Sequence

from voicenotes.judging.intervals import Span, compare, span
from voicenotes.notes import Figure
from voicenotes.vocabulary.model import Band, Level, Measure, Stroke, Vocabulary

STANDING = {"published": 0, "common practice": 1, "from memory": 2}
"""The order in which bands are trusted."""


SAME_LENGTH = 0.1
"""Share by which two lengths may differ and be held alike: 25 yards and 25 m (common practice)."""

PHASES = ("entry", "extension", "catch", "pull", "finish", "recovery", "kick")
"""Phases of the stroke that a figure may be of."""


def phases_named(figure: Figure, vocabulary: Vocabulary) -> frozenset[str]:
    """The phases of the stroke that the figure's own words mention."""
    words = " ".join(mention.quote for mention in figure.mentions).lower()
    return frozenset(
        phase
        for phase in PHASES
        if any(re.search(rf"\b{re.escape(form)}\b", words) for form in _forms(phase, vocabulary))
    )


def _forms(phase: str, vocabulary: Vocabulary) -> tuple[str, ...]:
    """The ways to say a phase: as the lexicon has it, or by its name."""
    for slot in ("phase", "part"):
        concept = vocabulary.lexicon.get(slot, {}).get(phase)
        if concept:
            return tuple(form.strip('"').lower() for form in concept.forms)
    return (phase,)


def may_be_meant(
    measure: Measure, figure: Figure, stroke: Stroke, phases: frozenset[str]
) -> tuple[Band, ...]:
    """The bands of a stroke that a figure can be of, for swimmers of any level.

    Where the coach named a phase, its bands come before those of no phase, and bands of other
    phases do not count. A band for one distance does not hold for a figure over another.
    """
    held = [b for b in measure.bands if stroke in b.strokes and _over_same(b, figure)]
    of_phase = [b for b in held if b.phase in phases]
    of_none = [b for b in held if b.phase is None]
    return tuple(of_phase or of_none or ([] if phases else held))


def _over_same(band: Band, figure: Figure) -> bool:
    if band.over_m is None or figure.distance_m is None:
        return True
    return abs(figure.distance_m - band.over_m) <= SAME_LENGTH * band.over_m


def best_standing(bands: Sequence[Band], level: Level) -> tuple[Band, ...]:
    """The bands for a level that are best founded.

    Several are left where they differ in condition (an easy pace, a sprint) or in a phase that
    was not named.
    """
    held = [band for band in bands if level in band.levels]
    best = min((STANDING[band.standing] for band in held), default=0)
    return tuple(band for band in held if STANDING[band.standing] == best)


def choose_band(observed: Span, bands: Sequence[Band]) -> Band | None:
    """The band to hold an observation against, or None where the bands contradict each other.

    Of bands for several conditions the one that lies nearest is meant: the coach chose the
    pace, and a figure is only off where it is off for all of them. Of bands for several phases
    none may be picked by how well it fits, so they must agree on the outcome.
    """
    if not bands:
        return None
    outcomes = [compare(observed, edges(band)) for band in bands]
    if len({band.phase for band in bands}) > 1 and len({o for o, _ in outcomes}) > 1:
        return None
    nearest = min(range(len(bands)), key=lambda i: (outcomes[i][1], i))
    return bands[nearest]


def edges(band: Band) -> Span:
    """The band's ends, infinite where open."""
    return span((band.low, band.high))
