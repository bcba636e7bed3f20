"""The words of the measures: what names each, and the units said with it.

Units are matched in one form, however they are said: "strokes to the minute", "of a second",
"metres out of each stroke".
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from spacy.tokens import Doc

from voicenotes.reading.groups import Groups
from voicenotes.reading.numbers.pieces import HYPHENS
from voicenotes.reading.numbers.quantities import Quantity
from voicenotes.vocabulary.model import Vocabulary

UnitWords = tuple[str, ...]

_RATE_WORDS = frozenset("a an per each every the one any".split())
_RATE_LEADS = frozenset("to in for with out of on from".split())
_RATED = frozenset(
    "minute min second stroke length lap cycle hundred 100 100s 25 50 fifty breath arm pair".split()
)
_CYCLIC = frozenset("minute min second stroke length lap cycle".split())
"""What a rate may be "to the"; "for the hundred" tells when, not how much."""
_PASSED_OVER = frozenset(
    "full single whole clean good complete proper different of steady solid".split()
)
_KEPT = frozenset({"bpm", "rpm", "spm", "cms", "secs", "°", "css", "rpe"})
_FRACTIONS = frozenset("half quarter quarters tenth tenths".split())
_WINDOW = 9
"""Tokens after a number among which its unit stands."""


def _plain_units(words: Iterable[str]) -> UnitWords:
    """A unit as said, in one form: "strokes to the minute" and "strokes a minute" are one."""
    return tuple(word for word, _ in _plain(list(words)))


def _plain(words: list[str]) -> Iterator[tuple[str, int]]:
    """The words in one form, each with the number of words used up to its end."""
    at = 0
    while at < len(words):
        word = words[at]
        rate = _rate(words, at)
        if rate is not None and not (word == "of" and words[at + 1 : at + 2] == ["a"]):
            yield "/", rate
            yield _single(words[rate]), rate + 1
            at = rate + 1
        elif word == "of" and words[at + 1 : at + 2] == ["a"]:
            at += 2
        else:
            if word not in _PASSED_OVER and word not in HYPHENS:
                yield _single(word), at + 1
            at += 1


def _rate(words: list[str], at: int) -> int | None:
    """Where the thing counted by starts ("minute" of "to the minute"); None where there is none."""
    step = at
    while step < len(words) and step - at < 3 and words[step] in _RATE_LEADS:
        step += 1
    if words[at] == "/":
        step = at + 1
    elif (
        step >= len(words)
        or words[step] not in _RATE_WORDS
        or (
            words[step] in {"the", "one"}
            and (step == at or words[step - 1] not in {"to", "in", "of"})
        )
    ):
        return None
    else:
        step += 1
    if step < len(words) and words[step] == "arm" and words[step + 1 : step + 2] == ["stroke"]:
        step += 1
    if step >= len(words) or _single(words[step]) not in _RATED:
        return None
    circumstance = words[step - 1] in {"the", "one"} and _single(words[step]) not in _CYCLIC
    return None if circumstance else step


def _single(word: str) -> str:
    return word if word in _KEPT or len(word) < 4 else word.removesuffix("s")


def _following(doc: Doc, quantity: Quantity) -> list[tuple[UnitWords, int]]:
    """Ever longer stretches after a number, in plain form, each with the token it ends before."""
    start = quantity.anchor
    if doc[start - 1].lower_ in _FRACTIONS and start < len(doc) and doc[start].lower_ == "a":
        start += 1  # the "a" of "half a second" is no "per"
    end = min(doc[quantity.first].sent.end, start + _WINDOW)
    words: list[str] = []
    for token in doc[start:end]:
        if token.is_punct and token.text not in HYPHENS:
            break
        words.append(token.lower_)
    plain = list(_plain(words))
    return [
        (tuple(word for word, _ in plain[: size + 1]), start + plain[size][1])
        for size in range(len(plain))
    ]


_INSIDE = frozenset({"second", "metre", "meter"})
"""Units that may stand inside a quantity: "a second and a half"."""


@dataclass(frozen=True)
class Term:
    """A word that names a measure, found in the text; token indexes, last exclusive."""

    measure: str
    first: int
    last: int


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
        for code, measure in self.measures.items():
            for unit in measure.units:
                self._units[_plain_units(unit.lower().split())].add(code)
            for term in measure.terms:
                self._naming[term].add(code)
        self._groups = Groups({term: [term] for term in self._naming}, by_lemma=True)

    def terms(self, doc: Doc) -> list[Term]:
        """Every name of every measure in a text, in order."""
        return [
            Term(code, first, last)
            for words, first, last in self._groups.find(doc)
            for code in sorted(self._naming[words])
        ]

    def unit(self, doc: Doc, quantity: Quantity) -> Unit | None:
        """The longest unit that is said right after a quantity, or within it ("a second")."""
        best = None
        for words, last in _following(doc, quantity):
            if words in self._units:
                best = Unit(words, frozenset(self._units[words]), last)
        if best is None and quantity.pure not in {"clock", "ordinal"}:
            for token in doc[quantity.first : quantity.anchor]:
                inside = _plain_units([token.lower_])
                if inside in self._units and inside[0] in _INSIDE:
                    best = Unit(inside, frozenset(self._units[inside]), quantity.anchor)
        return best
