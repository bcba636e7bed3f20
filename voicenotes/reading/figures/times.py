"""Distances that are swum, and whether a number can be the time for one."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from spacy.tokens import Doc, Token

from voicenotes.notes import Interval
from voicenotes.reading.figures.words import UnitWords
from voicenotes.reading.numbers.pieces import HYPHENS
from voicenotes.reading.numbers.quantities import Quantity

FASTEST, SLOWEST = 36.0, 480.0
"""Seconds per 100 m between which people swim: 50 m in 20.91 s is 41.8, drills end at eight minutes
(common practice)."""
SHORTEST_S, LONGEST_S = 8.0, 7200.0
"""Seconds between which a swim of unknown distance takes (common practice)."""
MILE_M = 1609.0
SHORT = frozenset({15.0, 20.0, 25.0, 33.0, 50.0, 75.0, 100.0, 150.0})
"""Distances that other numbers might be too, in metres or yards; from 200 on few are."""
SAID_AS_WORDS = {"hundreds": 100.0, "100s": 100.0, "fifties": 50.0, "50s": 50.0, "mile": MILE_M}
SWUM = frozenset(
    "free freestyle fly butterfly back backstroke breast breaststroke race time swim split warm "
    "pool medley im kick final repeat effort test easy aerobic metre metres meter meters m yard "
    "yards trial hard steady pull tempo".split()
)
"""Words after a distance: "fifty fly", "four hundred time trial"."""
METRES = frozenset({"metre", "metres", "meter", "meters", "m", "yard", "yards"})
OWNERS = frozenset(
    "first second third fourth fifth last next final each every per your that this opening closing "
    "middle another whole broken race my our his her timed".split()
)
"""Words before a distance: "your first fifty"."""
ARTICLES = frozenset("the a for of in on over to through at any".split())
HUNDRED_LEADS = frozenset("per for in each your first the".split())
POOLS = frozenset("pool length lengths time".split())


@dataclass(frozen=True)
class Distance:
    """A distance swum, in metres, and the tokens that say so (last exclusive)."""

    first: int
    last: int
    metres: float


def find_distances(
    doc: Doc, found: Sequence[Quantity], units: Sequence[UnitWords | None]
) -> list[Distance]:
    """The distances swum among the numbers of a text, and those said as words ("hundreds")."""
    starts = {quantity.first for quantity in found}
    out = [
        Distance(quantity.first, quantity.last, quantity.low or 0.0)
        for quantity, unit in zip(found, units, strict=True)
        if _is_distance(doc, quantity, unit, starts)
    ]
    numbers = {token for q in found for token in range(q.first, q.last)}
    out += [
        Distance(token.i, token.i + 1, SAID_AS_WORDS[token.lower_])
        for token in doc
        if token.lower_ in SAID_AS_WORDS and token.i not in numbers
    ]
    return sorted(out, key=lambda distance: distance.first)


def _is_distance(doc: Doc, q: Quantity, unit: UnitWords | None, starts: Collection[int]) -> bool:
    """Whether a number is a distance; ``starts`` are the tokens at which numbers start."""
    value = q.low
    single = value is not None and value == q.high and not q.limit and not q.pure
    if value is None or not single or (q.joined and not q.plural):
        return False
    before = [t.lower_ for t in doc[max(doc[q.first].sent.start, q.first - 3) : q.first]]
    if not unit and _is_plain(doc, q, before):
        return True
    if value >= 200:
        named = unit is None or unit[0] in {"metre", "meter"}
        # "Two fifty pace" is a time; nobody races 250.
        raced = unit is not None and unit[0] == "pace" and value % 100 == 0
        return raced or (named and value % 50 == 0)
    if value not in SHORT:
        return False
    end = min(doc[q.first].sent.end, q.anchor + 5)
    after = [t for t in doc[q.anchor : end] if t.text not in HYPHENS]
    said_after = [t.lower_ for t in after]
    if said_after[:1] and said_after[0] in METRES:
        return value >= 25 or (len(after) > 1 and said_after[1] in SWUM)
    if unit:
        return False
    if q.plural or (said_after and said_after[0] in SWUM):
        return True
    return _is_told(before, value, timed=q.anchor in starts or _time_follows(after))


def _is_plain(doc: Doc, q: Quantity, before: Sequence[str]) -> bool:
    """ "Third hundred", "hundred pace"; "a length of 25"."""
    bare_hundred = [t.lower_ for t in doc[q.first : q.last]] == ["hundred"]
    if bare_hundred and before[-1:] not in (["a"], ["one"], ["about"], ["nearly"]):
        return True
    pool = len(before) > 1 and before[-1] == "of" and before[-2] in POOLS
    return pool and q.low in {25.0, 50.0}


def _is_told(before: Sequence[str], value: float, *, timed: bool) -> bool:
    """Whether the words before a number make it a distance, or a time after it does."""
    last = before[-1] if before else ""
    if last in OWNERS:
        return value >= 25
    if last in {"a", "one"} and value == 100:
        return timed or (len(before) > 1 and before[-2] in HUNDRED_LEADS)
    if last in ARTICLES and (last == "the" and value >= 25):
        return True
    return timed or list(before[-2:]) == ["for", "a"]


def _time_follows(after: Sequence[Token]) -> bool:
    """ "Fifty in forty-one", "the hundred took you a minute fifty"."""
    lead = after[0].lower_ if after else ""
    if lead in {"was", "at"}:
        return any(token.like_num for token in after[1:3])
    if lead in {"in", "took", "takes", "came", ":"}:
        return any(token.like_num or token.lower_ in {"a", "you"} for token in after[1:4])
    return False


def governing(distances: Sequence[Distance], q: Quantity, start: int, end: int) -> float | None:
    """The distance that a time was taken over, in metres: the nearest between two tokens."""
    inside = [d for d in distances if start <= d.first < end and not q.first <= d.first < q.last]
    if not inside:
        return None

    def gap(d: Distance) -> float:
        return (q.first - d.last) if d.first < q.first else (d.first - q.last) + 0.5

    return min(inside, key=gap).metres


def can_be_time(interval: Interval, metres: float | None) -> bool:
    """Whether somebody can swim a distance in metres in a time in seconds."""
    ends = [end for end in interval if end is not None]
    if metres is None:
        return bool(ends) and all(SHORTEST_S <= end <= LONGEST_S for end in ends)
    return bool(ends) and all(FASTEST <= end * 100 / metres <= SLOWEST for end in ends)
