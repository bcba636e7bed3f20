"""What the words around a number say of which measure it belongs to."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator, Sequence

from voicenotes.reading.figures.weights import Signs
from voicenotes.reading.figures.words import MeasureWords, Term, Unit
from voicenotes.reading.numbers.quantities import Quantity
from voicenotes.reading.text import Narration

LATEST_BACK = 2
"""Sentences back to which the last thing named may be what a number measures."""
_BREAKS = frozenset({",", ";", ":", "-", "–", "—", "but", "and", "while", "whereas", "where"})
_LINKS = frozenset(
    "distance time angle score reading number one is 's was are were at of to : , about around on "
    "reads only just roughly by - it maybe bent turned angled".split()
)
"""Words between a name and its number: "rate is about 60"."""
_LEADS = frozenset("of at on for in degree degrees".split())
_LINKS_AFTER = _LEADS | frozenset("the your that his her a both their this my each".split())
"""Words between a number and its name: "forty degrees of your roll"."""

Claims = Sequence[tuple[int, int, str]]
"""Figures read so far: first token, sentence, measure."""


class Surroundings:
    """The measures' words in one narration, and how they stand to its numbers."""

    def __init__(
        self,
        narration: Narration,
        words: MeasureWords,
        found: Sequence[Quantity],
        units: Sequence[Unit | None],
    ) -> None:
        self._doc = narration.doc
        self._words = words
        self._terms = words.terms(narration.doc)
        self._bars = words.bars(narration.doc)
        self._firsts = [term.first for term in self._terms]
        self._starts = [sentence.span.start for sentence in narration.sentences]
        self._numbers = [quantity.first for quantity in found]
        pairs = list(zip(found, units, strict=True))
        self._ends = [max(q.last, u.last if u else 0) for q, u in pairs]
        self._inside = {at for q in found for at in range(q.first, q.last)}
        self._units = {at for q, u in pairs if u for at in range(q.anchor, u.last)}
        self._owned: dict[int, int] = {}

    def bounds(self, sentence: int) -> tuple[int, int]:
        """First token of a sentence and of the one after it."""
        after = self._starts[sentence + 1] if sentence + 1 < len(self._starts) else len(self._doc)
        return self._starts[sentence], after

    def region(self, quantity: Quantity, sentence: int) -> tuple[int, int]:
        """The tokens around a quantity that no other one has, within its sentence."""
        start, after = self.bounds(sentence)
        at = bisect_left(self._numbers, quantity.first)
        left = max([start, *self._ends[max(0, at - 2) : at]])
        right = min([after, *self._numbers[at + 1 : at + 2]])
        return left, right

    def barred(self, quantity: Quantity, sentence: int) -> set[str]:
        """The measures that a quantity cannot be of, for the words around it."""
        left, right = self.region(quantity, sentence)
        return {code for code, first, _ in self._bars if left <= first < right}

    def own(self, quantity: Quantity, measure: str) -> None:
        """Notes the words right after a figure that say what it measures: they say no more."""
        start = bisect_left(self._firsts, quantity.last)
        for term in self._terms[start : start + 12]:
            if term.names and term.measure == measure and self._is_beside(quantity, term):
                self._owned.update(dict.fromkeys(range(term.first, term.last), quantity.first))

    def signs(
        self, quantity: Quantity, unit: Unit | None, sentence: int, claims: Claims
    ) -> dict[str, Signs]:
        """How much the words around a quantity speak for each measure."""
        signs: dict[str, Signs] = defaultdict(lambda: defaultdict(float))
        for code in self._latest(quantity, unit, sentence):
            signs[code]["latest"] = 1.0
        hinted: dict[tuple[str, str], float] = {}
        left, right = self.region(quantity, sentence)
        for term in self._near(quantity, unit, sentence, claims):
            of_measure = signs[term.measure]
            value = term.weight * self._closeness(quantity, term)
            if not term.names:
                key = (term.measure, term.words)
                hinted[key] = max(hinted.get(key, 0.0), value)
                continue
            of_measure["names_near"] = max(of_measure["names_near"], value)
            if self._is_beside(quantity, term):
                of_measure["beside"] = max(of_measure["beside"], term.weight)
            if left <= term.first < right:
                place = "names_before" if term.first < quantity.first else "names_after"
                of_measure[place] = max(of_measure[place], value)
        for (code, _), value in hinted.items():
            signs[code]["hints"] = min(1.0, signs[code]["hints"] + value)
        return signs

    def _near(
        self, quantity: Quantity, unit: Unit | None, sentence: int, claims: Claims
    ) -> Iterator[Term]:
        """The terms of the sentence that are free to speak for a quantity.

        Words inside numbers and their units are not, nor those that an earlier figure of
        another measure has used.
        """
        start, after = self.bounds(sentence)
        own_unit = range(quantity.anchor, unit.last) if unit else range(0)
        begin, end = bisect_left(self._firsts, start), bisect_left(self._firsts, after)
        for term in self._terms[begin:end]:
            at = term.first
            if at in self._inside or (at in self._units and not (at in own_unit and term.names)):
                continue
            if self._owned.get(at, quantity.first) != quantity.first:
                continue
            claimed = next((code for first, _, code in claims if first > at), term.measure)
            if claimed != term.measure and self._words.speaks_for(term.words, claimed):
                continue
            yield term

    def _closeness(self, quantity: Quantity, term: Term) -> float:
        """1 beside the quantity, less the more words, breaks and other numbers lie between."""
        ahead = term.first < quantity.first
        first = term.last if ahead else quantity.last
        last = quantity.first if ahead else term.first
        between = self._doc[first : max(first, last)]
        breaks = sum(token.lower_ in _BREAKS for token in between)
        numbers = bisect_left(self._numbers, last) - bisect_left(self._numbers, first)
        return 1 / (1 + 0.06 * len(between) + 0.25 * breaks + 0.4 * max(0, numbers))

    def _is_beside(self, quantity: Quantity, term: Term) -> bool:
        """ "Rate's 124", "a swolf of 42"; "forty degrees of roll", "150 at the elbow"."""
        if term.last <= quantity.first:
            return all(t.lower_ in _LINKS for t in self._doc[term.last : quantity.first])
        between = [t.lower_ for t in self._doc[quantity.last : term.first]]
        if not between or len(between) > 5 or "," in between:
            return not between
        return between[0] in _LEADS and all(word in _LINKS_AFTER for word in between)

    def _latest(self, quantity: Quantity, unit: Unit | None, sentence: int) -> set[str]:
        """The measures of the last thing named before a quantity, if not long ago."""
        start = self._starts[max(0, sentence - LATEST_BACK)]
        begin, end = bisect_left(self._firsts, start), bisect_left(self._firsts, quantity.first)
        named = [
            term
            for term in self._terms[begin:end]
            if term.names and (unit is None or term.measure in unit.measures)
        ]
        return {term.measure for term in named if term.last == named[-1].last}
