"""Sightings: what a reader of faults and strengths hands over, before anything is made of it.

Every reader (frames, or a learned one) takes the narration and returns sightings of this one
kind; ``reading.joining`` makes findings of them, with side and severity.
"""

from dataclasses import dataclass
from typing import Literal, Protocol

from voicenotes.notes import Kind, Status
from voicenotes.reading.context import Context
from voicenotes.reading.text import Narration


@dataclass(frozen=True)
class Sighting:
    """One reader saw one fault or strength in one sentence.

    ``first`` and ``last`` are token indexes of the words it rests on (last exclusive).
    ``certainty`` runs from 0 to 1, as do ``cause`` and ``effect``: how surely it is given as the
    reason for something, or as what follows (0 where the reader does not tell). ``seen_by`` is
    the reader's name.
    """

    kind: Kind
    code: str
    sentence: int
    first: int
    last: int
    status: Status
    certainty: float
    seen_by: Literal["frames", "learned"]
    cause: float = 0.0
    effect: float = 0.0


class Reader(Protocol):
    """Reads faults and strengths from a narration."""

    def read(self, narration: Narration, context: Context) -> list[Sighting]:
        """All sightings, in the order they were said."""
        ...
