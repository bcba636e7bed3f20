"""Finds the lexicon's concepts (parts, motions, places, qualities, phases) in a text."""

from dataclasses import dataclass

from spacy.tokens import Doc

from voicenotes.reading.groups import Groups
from voicenotes.vocabulary.model import Concept


@dataclass(frozen=True)
class Hit:
    """One concept found; ``last`` is exclusive."""

    slot: str
    concept: str
    first: int
    last: int


class Concepts:
    """The lexicon, ready to be looked for."""

    def __init__(self, lexicon: dict[str, dict[str, Concept]]) -> None:
        self._groups = Groups(
            {
                f"{slot}.{name}": concept.forms
                for slot, concepts in lexicon.items()
                for name, concept in concepts.items()
            },
            by_lemma=True,
        )

    def find(self, doc: Doc) -> list[Hit]:
        """Every concept in the text, in order. Of two in one slot, the longer hides the shorter."""
        longest: dict[tuple[str, int], int] = {}
        hits = []
        for name, first, last in self._groups.find(doc):
            slot, concept = name.split(".", 1)
            hits.append(Hit(slot, concept, first, last))
            for token in range(first, last):
                longest[slot, token] = max(longest.get((slot, token), 0), last - first)
        return [hit for hit in hits if hit.last - hit.first == longest[hit.slot, hit.first]]
