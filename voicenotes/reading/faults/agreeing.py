"""Decides between the two readers: which of their sightings are worth a coach's time."""

from collections.abc import Collection, Sequence
from typing import NamedTuple

from voicenotes.notes import Kind
from voicenotes.reading.faults.sightings import Sighting

SURE_ALONE: dict[Kind, float] = {"fault": 0.7, "strength": 0.4}
"""From here on the learned reader is believed alone. A false fault costs more trust than false
praise. Chosen on narrations by coaches it had not learned from."""

SURE_TOGETHER = 0.4
"""From here on the learned reader bears out what a frame sees. The same is enough to say again
what was surely said elsewhere, where it is what the sentence is about: coaches come back to a fault
("keep that head low"). Chosen likewise."""


IN_PASSING = 0.3
"""From here on a fault that counts elsewhere is named well enough for a link."""


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
    surest: dict[int, float] = {}
    for place, certainty in sure.items():
        surest[place.sentence] = max(certainty, surest.get(place.sentence, 0.0))
    kept = [s for s in frames if _frame_counts(s, sure, known)]
    for sighting in learned:
        about = sighting.certainty >= surest.get(sighting.sentence, 0.0)
        again = about and (sighting.kind, sighting.code) in told
        needed = SURE_TOGETHER if again else _needed(_place(sighting), framed)
        if sighting.status != "true" or sighting.certainty >= needed:
            kept.append(sighting)
    true = {_place(s) for s in kept if s.status == "true"}
    counted = [s for s in kept if s.status == "true" or _place(s) not in true]
    return sorted(counted, key=lambda s: (s.sentence, s.first, s.kind, s.code, s.seen_by))


def _needed(place: _Place, framed: Collection[_Place]) -> float:
    return SURE_TOGETHER if place in framed else SURE_ALONE[place.kind]


def in_passing(
    learned: Sequence[Sighting], counted: Sequence[Sighting], least: float = IN_PASSING
) -> list[Sighting]:
    """Faults that count elsewhere, heard too faintly here to be said again.

    They make no mention, but a link may name them ("and that's what drops the hips").
    """
    told = {(s.kind, s.code) for s in counted if s.status == "true"}
    known = {_place(s) for s in counted if s.status == "true"}
    return [
        s
        for s in learned
        if s.status == "true"
        and s.certainty >= least
        and (s.kind, s.code) in told
        and _place(s) not in known
    ]


def _frame_counts(
    sighting: Sighting, sure: dict[_Place, float], known: Collection[tuple[Kind, str]]
) -> bool:
    if sighting.status != "true" or (sighting.kind, sighting.code) not in known:
        return True
    return sure.get(_place(sighting), 0.0) >= SURE_TOGETHER


def _place(sighting: Sighting) -> _Place:
    return _Place(sighting.sentence, sighting.kind, sighting.code)
