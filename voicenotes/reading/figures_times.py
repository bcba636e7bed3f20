"""Distances that are swum, and whether a number can be the time for one."""

from dataclasses import dataclass

from spacy.tokens import Doc, Token

from voicenotes.notes import Interval
from voicenotes.reading.figures_units import UnitWords
from voicenotes.reading.number_words import HYPHENS
from voicenotes.reading.numbers import Quantity

FASTEST, SLOWEST = 36.0, 480.0
"""Seconds per 100 m between which people swim: 50 m in 20.91 s is 41.8, drills end at eight minutes
(common practice)."""
SHORTEST_TIME = 8.0
"""Seconds: no length is swum in less (common practice)."""
MILE_M = 1609.0
_SWUM = frozenset(
    "free freestyle fly butterfly back backstroke breast breaststroke race time swim split warm "
    "pool medley im kick final repeat effort test easy aerobic metre metres meter meters m yard "
    "yards trial hard steady pull tempo".split()
)
_METRES = frozenset({"metre", "metres", "meter", "meters", "m", "yard", "yards"})
_OWNERS = frozenset(
    "first second third fourth fifth last next final each every per your that this opening closing "
    "middle another whole broken race my our his her timed".split()
)
_ARTICLES = frozenset("the a for of in on over to through at any".split())
_SMALL = frozenset({15.0, 20.0, 25.0, 33.0, 50.0, 75.0, 100.0, 150.0})


@dataclass(frozen=True)
class Distance:
    """A distance swum, in metres, and the tokens that say so (last exclusive)."""

    first: int
    last: int
    metres: float


def find_distances(
    doc: Doc, found: list[Quantity], units: list[UnitWords | None]
) -> list[Distance]:
    """The distances swum among the numbers of a text, and miles and hundreds said as words."""
    out = [
        Distance(q.first, q.last, q.low or 0.0)
        for q, unit in zip(found, units, strict=True)
        if _is_distance(doc, q, unit, {other.first for other in found})
    ]
    numbers = {token for q in found for token in range(q.first, q.last)}
    at = {token for d in out for token in range(d.first, d.last)}
    for token in doc:
        if token.i in at or token.i in numbers:
            continue
        if token.lower_ in {"hundreds", "100s"}:
            out.append(Distance(token.i, token.i + 1, 100.0))
        elif token.lower_ == "mile":
            out.append(Distance(token.i, token.i + 1, MILE_M))
        elif token.lower_ in {"fifties", "50s"}:
            out.append(Distance(token.i, token.i + 1, 50.0))
    return sorted(out, key=lambda d: d.first)


def _is_distance(doc: Doc, q: Quantity, unit: UnitWords | None, starts: set[int]) -> bool:
    value = q.low
    if value is None or value != q.high or q.pure or q.limit or q.joined and not q.plural:
        return False
    after = [
        t for t in doc[q.anchor : min(doc[q.first].sent.end, q.anchor + 5)] if t.text not in HYPHENS
    ]
    next_ = after[0].lower_ if after else ""
    said = [t.lower_ for t in doc[q.first : q.last]]
    lead = doc[q.first - 1].lower_ if q.first else ""
    if said == ["hundred"] and lead not in {"a", "one", "about", "nearly"} and not unit:
        return True
    if (
        lead == "of"
        and value in {25.0, 50.0}
        and q.first > 1
        and doc[q.first - 2].lower_ in {"pool", "length", "lengths", "time"}
    ):
        return True
    if value >= 200:
        return value % 50 == 0 and not (unit and unit[0] not in {"metre", "meter"})
    if value not in _SMALL:
        return False
    if next_ in _METRES:
        return value >= 25 or (len(after) > 1 and after[1].lower_ in _SWUM)
    if unit:
        return False
    if q.plural or next_ in _SWUM:
        return True
    before = [t.lower_ for t in doc[max(doc[q.first].sent.start, q.first - 3) : q.first]]
    timed = q.anchor in starts or _time_follows(after)
    if not before:
        return timed
    if before[-1] in _OWNERS:
        return value >= 25
    if before[-1] in {"a", "one"} and value == 100:
        return timed or (
            len(before) > 1 and before[-2] in {"per", "for", "in", "each", "your", "first", "the"}
        )
    if before[-1] in _ARTICLES:
        return timed or before[-1] == "the" and value >= 25 or before[-2:] == ["for", "a"]
    return timed


def _time_follows(after: list[Token]) -> bool:
    """ "Fifty in forty-one", "the hundred took you a minute fifty"."""
    if not after or after[0].lower_ not in {"in", "took", "at", "was", "came", ":", ",", "takes"}:
        return False
    if after[0].lower_ in {"was", "at", ","}:
        return any(t.like_num for t in after[1:3]) and after[0].lower_ != ","
    return any(t.like_num or t.lower_ in {"a", "you"} for t in after[1:4])


def governing(distances: list[Distance], q: Quantity, start: int, end: int) -> float | None:
    """The distance that a time was taken over: the nearest in its sentence, before it first."""
    inside = [d for d in distances if start <= d.first < end and not q.first <= d.first < q.last]
    if not inside:
        return None

    def gap(d: Distance) -> float:
        return (q.first - d.last) if d.first < q.first else (d.first - q.last) + 0.5

    return min(inside, key=gap).metres


def can_be_time(interval: Interval, metres: float | None) -> bool:
    """Whether somebody can swim a distance in a time in seconds."""
    ends = [end for end in interval if end is not None]
    if not ends:
        return False
    if metres is None:
        return all(SHORTEST_TIME <= end <= 7200 for end in ends)
    return all(FASTEST <= end * 100 / metres <= SLOWEST for end in ends)
