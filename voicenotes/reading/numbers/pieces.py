"""Plain numbers in words and digits, as text_to_num and a pattern or two read them."""

import re
from dataclasses import dataclass, replace

from text_to_num import find_numbers


@dataclass(frozen=True)
class Atom:
    """One spoken number; ``first`` and ``last`` are token indexes, last exclusive.

    ``high`` differs from ``value`` only where one token holds a range ("58-64" with a long dash).
    ``clock`` is the number read as minutes and seconds, in seconds, where that is possible.
    ``pure`` says what else is out of the question: ``clock`` for "1:40", ``fraction`` for
    "half a second", ``article`` for "a second".
    """

    first: int
    last: int
    value: float
    high: float
    clock: float | None = None
    pure: str = ""
    joined: bool = False
    """True for two numbers said as one ("one fifty-five")."""
    plural: bool = False
    scale: float = 1.0
    """What the number was counted in: 0.1 for "six tenths"."""


HYPHENS = frozenset("-–—")
_DIGIT_NAMES = "zero one two three four five six seven eight nine".split()
_DIGIT_WORDS = frozenset([*_DIGIT_NAMES, *"0123456789", "oh", "o", "nought"])
_ORDINAL = re.compile(
    r"(first|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|eleventh|twelfth"
    r"|\w+teenth|\w+ieth)s?$"
)
_DIGITS = re.compile(r"(\d{1,3}(?:,\d{3})+|\d+(?:\.\d+)?|\.\d+)(s?|ish|deg|m|cm)$")
_CLOCK = re.compile(r"(\d{1,2}):(\d{2}(?:\.\d+)?)s?$")
_RANGE = re.compile(r"(\d+(?:\.\d+)?)[–—](\d+(?:\.\d+)?)$")
_BEFORE_POINT = frozenset(
    "this that which other last next first second third same old new the a my your some what "
    "to no any every".split()
)
"""Words after which "point" is a thing or a deed."""


class _Piece:
    """A word as text_to_num wants it."""

    def __init__(self, word: str, at: int, *, apart: bool) -> None:
        self.word, self.at, self.apart = word, at, apart and word != "one"
        self.starts_new = apart and word == "one"

    def text(self) -> str:
        return self.word

    def nt_separated(self, previous: object) -> bool:
        return self.starts_new

    def not_a_number_part(self) -> bool:
        return self.apart


def cardinals(words: list[str]) -> list[Atom]:
    """The numbers said as words in a sentence given in lower case, decimals included."""
    pieces: list[_Piece] = []
    for at, word in enumerate(words):
        if word in HYPHENS:
            continue
        apart = word in {"second", "seconds"} or bool(_ORDINAL.match(word))
        apart = apart or (word in {"and", "one"} and _parts(words, at))
        if word == "point" and _starts_decimal(words, at):
            if pieces and pieces[-1].word in {"oh", "o"}:
                pieces[-1].word = "zero"
            elif not (pieces and is_cardinal(pieces[-1].word)):
                pieces.append(_Piece("zero", at, apart=False))
        pieces.append(_Piece(_as_said(words, at, word), at, apart=apart))
    return [
        Atom(
            pieces[hit.start].at,
            pieces[hit.end - 1].at + 1,
            hit.value,
            hit.value,
            plural=words[pieces[hit.end - 1].at].endswith(("s", "ies")),
        )
        for hit in find_numbers(pieces, "en", threshold=0)
        if not hit.is_ordinal and not _starts_ordinal(words, pieces[hit.end - 1].at + 1)
    ]


def _starts_decimal(words: list[str], at: int) -> bool:
    """Whether the "point" at this place is the one of "point six"."""
    before = words[at - 1] if at else ""
    return words[at + 1 : at + 2] != [] and words[at + 1] in _DIGIT_WORDS and (
        before not in _BEFORE_POINT
        or words[max(0, at - 2) : at] == ["down", "to"]
    )  # fmt: skip


def _parts(words: list[str], at: int) -> bool:
    """Whether an "and", or the "one" after "hundred", stands between two numbers, not in one."""
    after_hundred = at > 0 and words[at - 1] in {"hundred", "thousand"}
    if not after_hundred:
        return words[at] == "and"
    at += words[at] == "and"
    after = [*words[at : at + 3], "", "", ""]
    follows = after[2] if after[1] in HYPHENS else after[1]
    return after[0] == "one" and (
        follows.endswith(("ty", "teen", "hundred")) or follows in {"ten", "eleven", "twelve"}
    )


def is_cardinal(word: str) -> bool:
    """Whether a single word is a number word."""
    return bool(find_numbers([_Piece(word, 0, apart=False)], "en", threshold=0))


def _as_said(words: list[str], at: int, word: str) -> str:
    """A word as text_to_num knows it: "one point oh five", "point 3", "threes", "fifty'd"."""
    if at > 0 and words[at - 1] == "point":
        if word in {"oh", "o"}:
            return "zero"
        if word.isdigit() and len(word) == 1:
            return _DIGIT_NAMES[int(word)]
    word = word.removesuffix("'d")
    return word[:-1] if word.endswith("s") and word[:-1] in _DIGIT_NAMES[2:] else word


def _starts_ordinal(words: list[str], at: int) -> bool:
    """Whether a number is the first half of an ordinal or a date ("twenty-fifth")."""
    at += at < len(words) and words[at] in HYPHENS
    return at < len(words) and bool(_ORDINAL.match(words[at])) and words[at] != "tenths"


def digits(words: list[str]) -> list[Atom]:
    """The numbers written in digits in a sentence given in lower case, clock times included."""
    atoms = []
    for at, word in enumerate(words):
        if match := _CLOCK.match(word):
            seconds = int(match[1]) * 60 + float(match[2])
            atoms.append(Atom(at, at + 1, seconds, seconds, seconds, "clock"))
        elif match := _RANGE.match(word):
            atoms.append(Atom(at, at + 1, float(match[1]), float(match[2])))
        elif match := _DIGITS.match(word):
            value = float(match[1].replace(",", ""))
            if words[at - 1 : at] != ["point"]:
                atoms.append(Atom(at, at + 1, value, value, plural=match[2] == "s"))
    return [replace(atom, clock=_written_clock(atom)) for atom in atoms]


def _written_clock(atom: Atom) -> float | None:
    """Recognition writes "one forty" as 140: minutes and two digits of seconds."""
    if atom.pure == "clock" or atom.value != int(atom.value) or not 100 <= atom.value < 6000:
        return atom.clock
    minutes, seconds = divmod(int(atom.value), 100)
    return float(minutes * 60 + seconds) if seconds < 60 else None
