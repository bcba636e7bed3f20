"""The words of the measures: what names or hints at each, and the units said with it."""

from collections import defaultdict
from dataclasses import dataclass
from math import sqrt

from spacy.tokens import Doc

from voicenotes.reading.figures_units import UnitWords, following, plain_units
from voicenotes.reading.groups import Groups
from voicenotes.reading.quantities import Quantity
from voicenotes.vocabulary.model import Vocabulary

_GROUP_WEIGHT = 1.4
"""A group of words says more than one word does."""
_INSIDE = frozenset({"second", "metre", "meter"})
"""Units that may stand inside a quantity: "a second and a half"."""


@dataclass(frozen=True)
class Term:
    """A word of a measure found in the text; ``names`` is False for a mere hint.

    ``weight`` is less the more measures share the word.
    """

    words: str
    measure: str
    weight: float
    first: int
    last: int
    names: bool


@dataclass(frozen=True)
class Unit:
    """The unit said with a quantity: its plain words, the measures it fits, the token after it."""

    words: UnitWords
    measures: frozenset[str]
    last: int


class MeasureWords:
    """The words of all measures: built once from the vocabulary."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.measures = vocabulary.measures
        self._units: dict[UnitWords, set[str]] = defaultdict(set)
        self._naming: dict[str, set[str]] = defaultdict(set)
        self._hinting: dict[str, set[str]] = defaultdict(set)
        for code, measure in self.measures.items():
            for unit in measure.units:
                self._units[plain_units(unit.lower().split())].add(code)
            for term in measure.terms:
                self._naming[term].add(code)
            for hint in measure.hints:
                self._hinting[hint].add(code)
        terms = dict.fromkeys([*self._naming, *self._hinting])
        bars = {code: measure.bars for code, measure in self.measures.items() if measure.bars}
        self._groups = Groups({term: [term] for term in terms}, by_lemma=True)
        self._bars = Groups(bars, by_lemma=True)

    def terms(self, doc: Doc) -> list[Term]:
        """Every term of every measure in a text, in order."""
        found: list[Term] = []
        for words, first, last in self._groups.find(doc):
            naming, hinting = self._naming.get(words, ()), self._hinting.get(words, ())
            weight = (_GROUP_WEIGHT if " " in words else 1.0) / sqrt(len(naming) or 1)
            found += [Term(words, code, weight, first, last, True) for code in sorted(naming)]
            weight = 1.0 / sqrt(len(hinting) or 1)
            found += [Term(words, code, weight, first, last, False) for code in sorted(hinting)]
        return found

    def bars(self, doc: Doc) -> list[tuple[str, int, int]]:
        """Measure, first and last token of every word that bars one."""
        return self._bars.find(doc)

    def speaks_for(self, words: str, code: str) -> bool:
        """Whether a term names or hints at a measure."""
        return code in self._naming.get(words, ()) or code in self._hinting.get(words, ())

    def unit(self, doc: Doc, quantity: Quantity) -> Unit | None:
        """The longest unit that is said right after a quantity, or within it ("a second")."""
        best = None
        for words, last in following(doc, quantity):
            if words in self._units:
                best = Unit(words, frozenset(self._units[words]), last)
        if best is None and quantity.pure not in {"clock", "ordinal"}:
            for token in doc[quantity.first : quantity.anchor]:
                inside = plain_units([token.lower_])
                if inside in self._units and inside[0] in _INSIDE:
                    best = Unit(inside, frozenset(self._units[inside]), quantity.anchor)
        return best
