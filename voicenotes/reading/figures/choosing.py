"""What a number is: by what the learned reader hears in it, its unit, and what is possible."""

from collections.abc import Sequence
from dataclasses import dataclass

from spacy.tokens import Doc

from voicenotes.reading.figures.times import Distance, can_be_time, governing
from voicenotes.reading.figures.values import fits, plausible, readings
from voicenotes.reading.figures.words import MeasureWords, Term, Unit
from voicenotes.reading.learned.numbers import HeardNumber
from voicenotes.reading.numbers.quantities import Quantity
from voicenotes.reading.text import Sentence
from voicenotes.vocabulary.model import Measure

UNNAMED = 0.3
"""What it is multiplied by where the nearest name in the sentence is another measure's."""
TIMES = frozenset({"pace", "split"})
UNLIKELY = 0.1
"""What the share of a measure is multiplied by where the number has a size or form that the measure
seldom has."""


@dataclass(frozen=True)
class Choice:
    """The measure that a number is likeliest of, and how likely (0 to 1) if it is a figure."""

    measure: Measure
    share: float


class MeasureChooser:
    """Chooses the measures of the numbers of one narration."""

    def __init__(self, doc: Doc, words: MeasureWords, distances: Sequence[Distance]) -> None:
        self._doc, self._words = doc, words
        self._distances = distances
        self._terms = words.terms(doc)

    def choose(
        self, quantity: Quantity, unit: Unit | None, sentence: Sentence, heard: HeardNumber
    ) -> Choice | None:
        """The likeliest measure that the unit and the form of a number leave open."""
        nearest = self._nearest(quantity, sentence)
        named = {term.measure for term in nearest}
        choices = [
            Choice(
                measure,
                share
                * self._likeliness(measure, quantity, unit, sentence)
                * (UNNAMED if named and code not in named else 1),
            )
            for code, share in heard.measures.items()
            if (measure := self._words.measures.get(code))
            and self._is_open(measure, quantity, unit)
        ]
        return max(choices, key=lambda choice: choice.share, default=None)

    def own(
        self, quantity: Quantity, unit: Unit | None, sentence: Sentence, heard: HeardNumber
    ) -> Measure | None:
        """The measure of the coach's own, which nobody was taught, that a number's words name.

        Its name must stand in the sentence, nearest of all names, and the size be a usual one.
        """
        nearest = next(iter(self._nearest(quantity, sentence)), None)
        if nearest is None or nearest.measure in heard.measures:
            return None
        measure = self._words.measures[nearest.measure]
        usual = [v for v in plausible(quantity, measure, _words(unit)) if fits(v, measure.usual)]
        return measure if usual and self._is_open(measure, quantity, unit) else None

    def _nearest(self, quantity: Quantity, sentence: Sentence) -> list[Term]:
        """The names of measures that stand nearest to a number in its sentence."""
        inside = [t for t in self._terms if sentence.span.start <= t.first < sentence.span.end]
        least = min((_apart(quantity, term) for term in inside), default=0)
        return [term for term in inside if _apart(quantity, term) == least]

    def _is_open(self, measure: Measure, quantity: Quantity, unit: Unit | None) -> bool:
        if unit is not None and measure.code not in unit.measures:
            return False
        if quantity.pure == "clock":
            return measure.code in TIMES
        return quantity.pure != "ordinal" or measure.code == "breath_interval"

    def _likeliness(
        self, measure: Measure, quantity: Quantity, unit: Unit | None, sentence: Sentence
    ) -> float:
        """1, or less where the measure cannot have such a value."""
        values = readings(quantity, measure, _words(unit))
        if not any(fits(value, measure.possible) for value in values):
            return UNLIKELY**2
        if measure.code not in TIMES:
            return 1.0
        span = sentence.span
        metres = governing(self._distances, quantity, span.start, span.end)
        over = 100.0 if measure.code == "pace" else metres
        odd = metres == 100 if measure.code == "split" else metres not in (None, 100)
        return UNLIKELY if odd or not any(can_be_time(v, over) for v in values) else 1.0


def _words(unit: Unit | None) -> tuple[str, ...] | None:
    return unit.words if unit else None


def _apart(quantity: Quantity, term: Term) -> int:
    return max(term.first - quantity.last, quantity.first - term.last)
