"""Units as they are said: "strokes to the minute", "of a second", "metres out of each stroke"."""

from collections.abc import Iterable, Iterator

from spacy.tokens import Doc

from voicenotes.reading.number_pieces import HYPHENS
from voicenotes.reading.quantities import Quantity

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
WINDOW = 9
"""Tokens after a number among which its unit stands."""


def plain_units(words: Iterable[str]) -> UnitWords:
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


def following(doc: Doc, quantity: Quantity) -> list[tuple[UnitWords, int]]:
    """Ever longer stretches after a number, in plain form, each with the token it ends before."""
    start = quantity.anchor
    if doc[start - 1].lower_ in _FRACTIONS and start < len(doc) and doc[start].lower_ == "a":
        start += 1  # the "a" of "half a second" is no "per"
    end = min(doc[quantity.first].sent.end, start + WINDOW)
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
