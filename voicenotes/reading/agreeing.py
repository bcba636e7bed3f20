"""Decides between the two readers: which of their sightings are worth a coach's time."""

from collections.abc import Collection, Sequence
from typing import NamedTuple

from voicenotes.notes import Kind
from voicenotes.reading.sightings import Sighting

SURE_ALONE: dict[Kind, float] = {"fault": 0.7, "strength": 0.5}
"""From here on the learned reader is believed alone. A false fault costs more trust than false
praise. Chosen on narrations by coaches it had not learned from."""

SURE_TOGETHER = 0.3
"""From here on the learned reader bears out what a frame sees, and repeats what was surely said
elsewhere in the narration: coaches come back to a fault in passing (chosen likewise)."""


class _Place(NamedTuple):
    """One code in one sentence."""

    sentence: int
    kind: Kind
    code: str


def agree(
    frames: Sequence[Sighting], learned: Sequence[Sighting], known: Collection[tuple[Kind, str]]
) -> list[Sighting]:
    """The sightings that count, and those to set aside, in the order they were said.

    What a frame sees counts where the learned reader bears it out, and always for codes that
    it was never taught (``known`` are those it was): a coach's own faults work from the start.
    """
    sure = {_place(s): s.certainty for s in learned if s.status == "true"}
    framed = {_place(s) for s in frames if s.status == "true"}
    told = {(p.kind, p.code) for p, c in sure.items() if c >= _needed(p, framed)}
    kept = [s for s in frames if _frame_counts(s, sure, known)]
    for sighting in learned:
        again = (sighting.kind, sighting.code) in told
        needed = SURE_TOGETHER if again else SURE_ALONE[sighting.kind]
        if sighting.status != "true" or sighting.certainty >= needed:
            kept.append(sighting)
    true = {_place(s) for s in kept if s.status == "true"}
    counted = [s for s in kept if s.status == "true" or _place(s) not in true]
    return sorted(counted, key=lambda s: (s.sentence, s.first, s.kind, s.code, s.seen_by))


def _needed(place: _Place, framed: Collection[_Place]) -> float:
    return SURE_TOGETHER if place in framed else SURE_ALONE[place.kind]


def _frame_counts(
    sighting: Sighting, sure: dict[_Place, float], known: Collection[tuple[Kind, str]]
) -> bool:
    if sighting.status != "true" or (sighting.kind, sighting.code) not in known:
        return True
    return sure.get(_place(sighting), 0.0) >= SURE_TOGETHER


def _place(sighting: Sighting) -> _Place:
    return _Place(sighting.sentence, sighting.kind, sighting.code)
