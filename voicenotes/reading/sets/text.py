"""A stretch of the narration as plain words in which sets can be found.

Number words become digits, and the plural stays: "eight twenty-fives" reads "8 25s". That tells
"four hundreds" (4 x 100) from "four hundred" (400), which number readers for general use do not.
"""

from dataclasses import dataclass
from functools import lru_cache

from spacy.tokens import Doc
from text_to_num import text2num

DISTANCES = frozenset(
    {10, 12, 15, 20, 25, 30, 33, 50, 66, 75, 100, 125, 150, 175, 200, 250, 300, 350, 400, 450}
    | {500, 600, 700, 750, 800, 900, 1000, 1200, 1500, 2000, 3000}
)
"""Distances that sets are swum in: lengths of 25, 33 and 50 m pools and parts of them."""

_SMALL = (
    "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
    "sixteen seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety"
).split()
_LARGE = ("hundred", "thousand")
NUMBER_WORDS = frozenset([*_SMALL, *_LARGE])
_COUNTED_ONE = frozenset("hundred thousand length time times lot more minute x by fifty".split())
"""Words before which "one" is a number, not a pronoun."""
_DROPPED = frozenset("- – — ' ’ ( ) \" “ ”".split())


def _plural(word: str) -> str:
    return word[:-1] + "ies" if word.endswith("y") else word + ("es" if word == "six" else "s")


PLURALS = {_plural(word): word for word in NUMBER_WORDS}


@dataclass(frozen=True)
class SetText:
    """Words in lower case, single spaces between and around them; ``tokens`` holds, for each
    word, where it starts in ``text`` and the tokens it stands for (last exclusive).
    """

    text: str
    tokens: tuple[tuple[int, int, int], ...]

    def range(self, start: int, end: int) -> tuple[int, int]:
        """First and last token (exclusive) of a piece of ``text``."""
        inside = [(f, t) for at, f, t in self.tokens if start <= at < end]
        return (inside[0][0], max(last for _, last in inside)) if inside else (0, 0)


def set_text(doc: Doc, first: int, last: int) -> SetText:
    """The tokens from ``first`` to ``last`` (exclusive) as plain words.

    A sentence that starts without a final mark before it starts with "|".
    """
    text, tokens = " ", []
    for word, start, end in _words(doc, first, last):
        tokens.append((len(text), start, end))
        text += word + " "
    return SetText(text, tuple(tokens))


def _words(doc: Doc, first: int, last: int) -> list[tuple[str, int, int]]:
    out: list[tuple[str, int, int]] = []
    at = first
    while at < last:
        if doc[at].is_sent_start and at > first and not doc[at - 1].is_punct:
            out.append(("|", at, at))
        run = _number_run(doc, at, last)
        if run:
            out += _numbers(doc, run)
            at = run[-1] + 1
            continue
        word = doc[at].lower_
        if word in {"'s", "’s"} and out and (out[-1][0].isdigit() or _is_time(out[-1][0])):
            if out[-1][0].isdigit():
                out[-1] = (out[-1][0] + "s", out[-1][1], at + 1)
        elif word not in _DROPPED:
            out += [(part, at, at + 1) for part in _split(word)]
        at += 1
    return out


def _is_time(word: str) -> bool:
    return word.startswith(("minute", "second"))


def _split(word: str) -> list[str]:
    """ "8x25" is three words; everything else stays one."""
    for sign in ("x", "×", "*"):
        parts = word.split(sign)
        if len(parts) == 2 and parts[0].isdigit() and parts[1].rstrip("sm").isdigit():
            return [parts[0], "x", parts[1]]
    return ["x"] if word in {"×", "*"} else [word]


def _number_run(doc: Doc, at: int, last: int) -> list[int]:
    """Indexes of the number words that stand together from ``at`` on."""
    run: list[int] = []
    here = at
    while here < last and not (run and doc[here].is_sent_start):
        word = doc[here].lower_
        if word in NUMBER_WORDS or word in PLURALS:
            if word == "one" and not run and not _one_counts(doc, here, last):
                break
            run.append(here)
            if word in PLURALS:
                break
        elif word == "a" and not run and here + 1 < last and doc[here + 1].lower_ in _LARGE:
            run.append(here)
        elif not (run and word in {"-", "and"} and _goes_on(doc, here, run, last)):
            break
        here += 1
    return run


def _one_counts(doc: Doc, at: int, last: int) -> bool:
    after = at + 1 + (at + 1 < last and doc[at + 1].text == "-")
    word = doc[after].lower_ if after < last else ""
    return word in _COUNTED_ONE or word in NUMBER_WORDS or word in PLURALS or word[:1].isdigit()


def _goes_on(doc: Doc, at: int, run: list[int], last: int) -> bool:
    """Whether a hyphen, or the "and" of "a hundred and fifty", joins two number words."""
    if at + 1 >= last or doc[at + 1].lower_ not in NUMBER_WORDS | PLURALS.keys():
        return False
    return doc[at].text == "-" or doc[run[-1]].lower_ in _LARGE


def _numbers(doc: Doc, run: list[int]) -> list[tuple[str, int, int]]:
    words = tuple(doc[at].lower_ for at in run)
    out, taken = [], 0
    joined = len(words) == 2 and run[1] - run[0] == 2  # "one-fifty", said as one
    for number, count in _partition(words, joined):
        out.append((number, run[taken], run[taken + count - 1] + 1))
        taken += count
    return out


@lru_cache(maxsize=1024)
def _partition(words: tuple[str, ...], joined: bool) -> tuple[tuple[str, int], ...]:
    """Digits and how many words each takes; a plural at the end is a distance."""
    if words[-1] in PLURALS:
        singular = (*words[:-1], PLURALS[words[-1]])
        for cut in range(1, len(words)):
            reps, distance = _value(singular[:cut]), _value(singular[cut:], joined=True)
            if reps and distance in DISTANCES:
                return ((str(reps), cut), (f"{distance}s", len(words) - cut))
        alone = _value(singular)
        if alone is not None:
            return ((f"{alone}s", len(words)),)
        return (*_partition(words[:-1], joined), (f"{_value(singular[-1:])}s", 1))
    for cut in range(len(words), 0, -1):
        value = _value(words[:cut], joined=joined)
        if value is not None:
            rest = words[cut:]
            return ((str(value), cut), *(_partition(rest, joined) if rest else ()))
    return ((words[0], 1), *(_partition(words[1:], joined) if words[1:] else ()))


def _value(words: tuple[str, ...], *, joined: bool = False) -> int | None:
    """The number that words say; ``joined`` reads "one fifty" as 150."""
    said = ("one", *words[1:]) if words[0] == "a" else words
    if said in {("hundred",), ("thousand",)}:
        said = ("one", *said)
    try:
        return int(text2num(" ".join(said), "en"))
    except ValueError:
        if joined and len(said) == 2 and said[0] in _SMALL[1:10] and said[1] in _SMALL[20:]:
            return 100 * _SMALL.index(said[0]) + int(text2num(said[1], "en"))
        return None
