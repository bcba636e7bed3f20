"""Spoken figures: numbers with a measure, a side, and a role as observation or target.

The learned reader says what a number is; the rules here say what its value, unit, convention, side
and distance are, and which observation a target belongs to.
"""

from collections.abc import Collection, Sequence
from typing import Literal

from spacy.tokens import Span

from voicenotes.notes import Figure, SetAside
from voicenotes.reading.figures.choosing import MeasureChooser
from voicenotes.reading.figures.joining import Said, join_figures
from voicenotes.reading.figures.noise import is_noise
from voicenotes.reading.figures.remarks import remark_on
from voicenotes.reading.figures.sides import FigureSides
from voicenotes.reading.figures.times import find_distances, governing
from voicenotes.reading.figures.values import value_of
from voicenotes.reading.figures.words import MeasureWords
from voicenotes.reading.learned.numbers import HeardNumber
from voicenotes.reading.learned.reader import LearnedReading, reason_of
from voicenotes.reading.numbers.find import find_ordinals, find_quantities
from voicenotes.reading.numbers.quantities import Quantity
from voicenotes.reading.text import Narration, Sentence
from voicenotes.vocabulary.model import Measure, Vocabulary
from voicenotes.vocabulary.once import once_for

_words = once_for(MeasureWords)
OVER_DISTANCES = frozenset({"pace", "split", "stroke_count", "swolf"})
"""Measures that are taken over a distance."""
NONE = 0.35
"""Share from which a number is no figure of the swimmer. On narrations left out, as good (F1) as a
half, with fewer numbers taken that are none."""
NONE_NAMED = 0.95
"""The same for one that names its measure itself ("at your one fifty pace")."""
NAMED = 0.5
"""Share from which a number that does not count is plainly of a measure, so that it is told."""


def read_figures(
    narration: Narration,
    vocabulary: Vocabulary,
    taken: Collection[tuple[int, int]],
    heard: Sequence[LearnedReading],
) -> tuple[tuple[Figure, ...], tuple[SetAside, ...]]:
    """Figures of the swimmer in their measures' own units, and those that do not count.

    ``taken`` holds token ranges (last exclusive) whose numbers belong to drills and sets;
    ``heard`` what the learned reader says of each sentence.
    """
    if not vocabulary.measures:
        return (), ()
    return join_figures(narration, FigureReader(narration, vocabulary, taken, heard).read())


class FigureReader:
    """Reads the numbers of one narration in the order they were said."""

    def __init__(
        self,
        narration: Narration,
        vocabulary: Vocabulary,
        taken: Collection[tuple[int, int]],
        heard: Sequence[LearnedReading],
    ) -> None:
        self._narration, self._doc, self._heard = narration, narration.doc, heard
        self._found = _free_quantities(narration, taken)
        words = _words(vocabulary)
        self._units = [words.unit(self._doc, quantity) for quantity in self._found]
        plain = [unit.words if unit else None for unit in self._units]
        self._distances = find_distances(self._doc, self._found, plain)
        self._swum = {distance.first for distance in self._distances}
        self._chooser = MeasureChooser(self._doc, words, self._distances)
        self._sides = FigureSides(narration, self._found)

    def read(self) -> list[Said]:
        """All figures, those included that do not count."""
        read: list[Said] = []
        unit_end, sentences = 0, iter(self._narration.sentences)
        sentence = next(sentences, None)
        for at, (quantity, unit) in enumerate(zip(self._found, self._units, strict=True)):
            while sentence and quantity.first >= sentence.span.end:
                sentence = next(sentences, None)
            inside = quantity.first < unit_end or quantity.first in self._swum
            if sentence is None or inside or is_noise(self._doc, quantity, unit):
                continue
            said = self._said(at, sentence)
            if said is not None:
                unit_end = max(unit_end, unit.last if unit else 0)
                read.append(said)
        return read

    def _said(self, at: int, sentence: Sentence) -> Said | None:
        """What a number says of the swimmer; None where it is no figure of anybody."""
        quantity, unit = self._found[at], self._units[at]
        heard = self._heard_in(quantity, sentence)
        if heard is None:
            return None
        own = self._chooser.own(quantity, unit, sentence, heard)
        choice = self._chooser.choose(quantity, unit, sentence, heard)
        measure = own or (choice.measure if choice else None)
        if measure is None:
            return None
        named = unit is not None and bool(set(unit.words) & set(measure.terms))
        counts = own is not None or heard.none < (NONE_NAMED if named else NONE)
        if not counts and choice is not None and choice.share < NAMED:
            return None
        return self._as_figure(at, measure, sentence, heard, counts=counts)

    def _heard_in(self, quantity: Quantity, sentence: Sentence) -> HeardNumber | None:
        pieces, start = self._heard[sentence.index].pieces, sentence.span.start_char
        if pieces is None:
            return None
        last = self._doc[quantity.last - 1]
        return pieces.number(self._doc[quantity.first].idx - start, last.idx + len(last) - start)

    def _as_figure(
        self, at: int, measure: Measure, sentence: Sentence, heard: HeardNumber, *, counts: bool
    ) -> Said:
        quantity, unit = self._found[at], self._units[at]
        before, after = self._stretch(at, sentence.span)
        value = value_of(self._doc, quantity, measure, unit.words if unit else None, sentence.span)
        role: Literal["observed", "target"] = (
            "target" if heard.target > heard.observed else "observed"
        )
        status = "true" if counts else reason_of(self._heard[sentence.index])
        if counts and quantity.first and self._doc[quantity.first - 1].lower_ == "not":
            status = "denied"  # "it's not 170"
        return Said(
            quantity,
            sentence.index,
            measure,
            value,
            role,
            self._sides.of(quantity, measure.code, sentence.index),
            "taken_back" if quantity.taken_back else status,
            remark_on(self._doc, before, quantity.last, after) if role == "observed" else None,
            self._distance(quantity, sentence.span) if measure.code in OVER_DISTANCES else None,
        )

    def _stretch(self, at: int, span: Span) -> tuple[int, int]:
        """The tokens around a number that belong to no other, within its sentence."""
        quantity, unit = self._found[at], self._units[at]
        others = [q for q in self._found if q.first not in self._swum]
        ahead = [other.last for other in others if other.first < quantity.first]
        end = unit.last if unit else quantity.last
        following = (other.first for other in others if other.first >= end)
        return max([span.start, *ahead[-1:]]), min(span.end, next(following, span.end))

    def _distance(self, quantity: Quantity, span: Span) -> float | None:
        return governing(self._distances, quantity, span.start, span.end)


def _free_quantities(narration: Narration, taken: Collection[tuple[int, int]]) -> list[Quantity]:
    """The quantities that belong to no drill, in order."""
    found = (*find_quantities(narration.doc), *find_ordinals(narration.doc))
    return sorted(
        (
            quantity
            for quantity in found
            if not any(first < quantity.last and quantity.first < last for first, last in taken)
        ),
        key=lambda quantity: quantity.first,
    )
