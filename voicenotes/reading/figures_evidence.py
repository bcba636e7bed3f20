"""What the words around a number say of which measure it belongs to."""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterator, Sequence

from voicenotes.reading.figures_terms import MeasureWords, Term, Unit
from voicenotes.reading.figures_weights import Signs
from voicenotes.reading.quantities import Quantity
from voicenotes.reading.text import Narration

SENTENCES_BACK = 3
"""How far back a word still tells what a number measures."""
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
        self.tokens = {at for term in self._terms for at in range(term.first, term.last)}

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
        best: dict[tuple[str, str, str], float] = defaultdict(float)
        left, right = self.region(quantity, sentence)
        for term in self._near(quantity, unit, sentence, claims):
            kind, value = self._worth(quantity, term, sentence)
            best[term.measure, kind, term.words] = max(best[term.measure, kind, term.words], value)
            if kind != "names":
                continue
            if self._is_beside(quantity, term):
                beside = best[term.measure, "beside", ""]
                best[term.measure, "beside", ""] = max(beside, term.weight)
            if left <= term.first < right:
                local = best[term.measure, "names_local", term.words]
                best[term.measure, "names_local", term.words] = max(local, value)
        signs: dict[str, Signs] = defaultdict(lambda: defaultdict(float))
        self._add_latest(signs, quantity, unit, sentence)
        for (code, kind, _), value in best.items():
            signs[code][kind] += value
            if kind == "names":
                signs[code]["names_near"] = max(signs[code]["names_near"], value)
        for of_measure in signs.values():
            for kind in list(of_measure):
                most = 1.0 if kind.startswith("hints") else 2.0
                of_measure[kind] = min(of_measure[kind], most)
        return signs

    def _near(
        self, quantity: Quantity, unit: Unit | None, sentence: int, claims: Claims
    ) -> Iterator[Term]:
        """The terms of the sentence and those before it that are free to speak for a quantity.

        Words inside numbers and their units are not, nor those that an earlier figure of
        another measure has used.
        """
        start, after = self.bounds(sentence)
        own_unit = range(quantity.anchor, unit.last) if unit else range(0)
        begin = bisect_left(self._firsts, self._starts[max(0, sentence - SENTENCES_BACK)])
        for term in self._terms[begin : bisect_left(self._firsts, after)]:
            at = term.first
            if at in self._inside or (at in self._units and not (at in own_unit and term.names)):
                continue
            if at >= start and self._owned.get(at, quantity.first) != quantity.first:
                continue
            claimed = next((code for first, _, code in claims if first > at), term.measure)
            if claimed != term.measure and self._words.speaks_for(term.words, claimed):
                continue
            yield term

    def _worth(self, quantity: Quantity, term: Term, sentence: int) -> tuple[str, float]:
        """Which sign a term is, and how strong."""
        if term.first >= self._starts[sentence]:
            kind = "names" if term.names else "hints"
            return kind, term.weight * self._closeness(quantity, term)
        back = sentence - (bisect_right(self._starts, term.first) - 1)
        if term.names:
            return f"names_{back}", term.weight
        return "hints_back", term.weight / back

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

    def _add_latest(
        self, signs: dict[str, Signs], quantity: Quantity, unit: Unit | None, sentence: int
    ) -> None:
        """Marks the measures of the last thing named before a quantity."""
        start = self._starts[max(0, sentence - 2)]
        begin, end = bisect_left(self._firsts, start), bisect_left(self._firsts, quantity.first)
        named = [
            term
            for term in self._terms[begin:end]
            if term.names and (unit is None or term.measure in unit.measures)
        ]
        if not named:
            return
        here, before = self._starts[sentence], self._starts[max(0, sentence - 1)]
        wordless = bisect_left(self._numbers, before) == bisect_left(self._numbers, here)
        for term in named[-7:]:
            if term.last != named[-1].last:
                continue
            signs[term.measure]["latest"] = 1.0
            if before <= term.first < here and wordless:
                signs[term.measure]["intro"] = 1.0
