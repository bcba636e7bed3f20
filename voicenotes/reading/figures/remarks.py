"""What the coach says of an observed value: good, too much, too little."""

from typing import Literal

from spacy.tokens import Doc, Token

Remark = Literal["good", "too_much", "too_little"]

GOOD = frozenset(
    "good great lovely perfect fine happy grand super beautiful nice decent excellent ideal "
    "champion "
    "gorgeous brilliant tidy textbook spot right smashing delighted pleased sensible".split()
)
LITTLE = frozenset(
    "low slow little few short shallow small flat early weak narrow tight stiff lazy "
    "sluggish".split()
)
"""Adjectives after "too" or "way too" that say a value is less than it should be."""
_NEGATIONS = frozenset("not n't never no hardly".split())
_DEGREES = frozenset("much many far".split())


def remark_on(doc: Doc, first: int, number: int, last: int) -> Remark | None:
    """What is said of a number between two tokens that enclose no other one.

    ``first`` is where the words before it start, ``number`` the number itself, ``last`` where
    the words behind it end. A word of praise counts only behind the number, where it does not
    ask for another value.
    """
    for token in doc[first:last]:
        if token.lower_ == "too" and token.i + 1 < last:
            excess = _excess(doc[token.i + 1])
            if excess is not None and not _denied(doc, token.i, first):
                return excess
    for token in doc[number:last]:
        if token.tag_ == "MD":
            return None
        if token.lower_ == "enough" and _denied(doc, token.i, number):
            return "too_little"
        if token.lower_ in GOOD and not _denied(doc, token.i, number):
            return "good"
    return None


def _excess(token: Token) -> Remark | None:
    if token.lower_ in LITTLE:
        return "too_little"
    return "too_much" if token.lower_ in _DEGREES or token.pos_ in {"ADJ", "ADV"} else None


def _denied(doc: Doc, at: int, first: int) -> bool:
    return any(token.lower_ in _NEGATIONS for token in doc[max(first, at - 3) : at])
