"""Which side a figure is of, where left and right are measured in one breath."""

from collections.abc import Iterator, Sequence

from spacy.tokens import Doc

from voicenotes.notes import Side
from voicenotes.reading.numbers.quantities import UNITS, Quantity
from voicenotes.reading.side_marks import SideMark, side_marks
from voicenotes.reading.text import Narration

SIDED = frozenset(
    "elbow_angle shoulder_roll hip_roll knee_bend hip_bend ankle_point head_turn arm_tilt "
    "hand_depth hand_offset pause distance_per_stroke".split()
)
"""Measures that have a left and a right."""

SENTENCES_BACK = 3
"""How far back a side still holds, where nothing else is said."""


class FigureSides:
    """The sides named in one narration, as its numbers take them."""

    def __init__(self, narration: Narration, found: Sequence[Quantity]) -> None:
        marks = side_marks(narration.doc)
        known = {mark.token for mark in marks}
        rights = [i for i in _rights(narration.doc, found) if i not in known]
        self._marks = sorted(
            (*marks, *(SideMark(token, "right") for token in rights)), key=lambda m: m.token
        )
        self._found = found
        self._sentences = narration.sentences

    def of(self, quantity: Quantity, code: str, sentence: int) -> Side | None:
        """The side of a figure, None where the coach does not say.

        In "left 150, right 110" each number takes the side before it, in "150 left, 110 right"
        the one behind.
        """
        if code not in SIDED:
            return None
        span = self._sentences[sentence].span
        marks = [mark for mark in self._marks if span.start <= mark.token < span.end]
        if code == "distance_per_stroke":  # "each one" is no side
            marks = [mark for mark in marks if mark.side != "both"]
        if len({mark.side for mark in marks}) == 1:
            return marks[0].side
        if not marks:
            return self._from_before(sentence)
        first = min(other.first for other in self._found if other.first >= span.start)
        if marks[0].token < first:
            ahead = [mark for mark in marks if mark.token < quantity.first]
            return ahead[-1].side if ahead else None
        behind = [mark for mark in marks if mark.token >= quantity.last]
        return behind[0].side if behind else None

    def _from_before(self, sentence: int) -> Side | None:
        """The side that the last sided sentence before speaks of alone."""
        for back in range(1, min(SENTENCES_BACK, sentence) + 1):
            span = self._sentences[sentence - back].span
            sides = {m.side for m in self._marks if span.start <= m.token < span.end}
            if sides:
                return sides.pop() if len(sides) == 1 and sides != {"both"} else None
        return None


def _rights(doc: Doc, found: Sequence[Quantity]) -> Iterator[int]:
    """Every "right" that names a side only for the number beside it: "41 right", "right: 85"."""
    numbers = {at for quantity in found for at in range(quantity.first, quantity.last)}
    for token in doc[:-1]:
        if token.lower_ != "right" or token.is_sent_start:
            continue
        before, after = token.nbor(-1), token.nbor()
        beside = before.i in numbers or before.lower_ in UNITS
        if after.text == ":" or (beside and (after.is_punct or after.lower_ == "and")):
            yield token.i
