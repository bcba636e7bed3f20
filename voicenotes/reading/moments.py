"""Moments of the clip that the coach speaks: "at 0:14", "twelve seconds in"."""

from collections.abc import Collection
from dataclasses import dataclass

from spacy.tokens import Doc, Token

from voicenotes.reading.numbers import Quantity, find_quantities
from voicenotes.reading.numbers.pieces import HYPHENS
from voicenotes.reading.text import Narration

CLIP_WORDS = frozenset("clip video film footage recording frame tape timer counter file".split())
LOOKS = frozenset("watch look see freeze pause rewind play stop check go".split())
"""Verbs before a moment of the clip: "watch the breath around eighteen seconds"."""
SECONDS = frozenset("second seconds sec secs s".split())
LEADS = frozenset("at around from by to between".split())
HEDGES = frozenset("around about roughly right just the say approximately exactly".split())
"""Words between "at" and the moment: "at about the twelve second mark"."""
SEEKERS = frozenset("go jump skip rewind scrub pause freeze stop wind forward".split())
"""Verbs that move the clip or hold it: "go back to nine", "pause it at twelve"."""
OPENERS = frozenset(
    "and so then here now okay ok right again but well up also back just look see there watch "
    "first second later earlier um uh er yeah , . - – — …".split()
)
"""Words that may stand before a moment that opens its sentence."""
ENDS = frozenset(
    "you she he we i they your her his the to there this that and look watch see when where as "
    ", . ; : - – — … ? !".split()
)
"""What may follow a moment, beside nothing: "twelve seconds in, you"."""
NO_MOMENT = frozenset(
    "rest recovery a an per pace apart off each of for or later earlier before after ago long "
    "more less quicker slower faster between every behind ahead hundred hundreds fifty metres "
    "split".split()
)
"""A word after a time that makes it no moment: "at twenty seconds rest"."""
TIMED = frozenset(
    "turn touch finish split pace race hold leave rest interval send hundred fifty lap clock time "
    "swim".split()
)
"""Lemmas of what is timed: "you turned at thirty-one seconds"."""
STANDS = frozenset("be sit stay come stand".split())
"""Lemmas of verbs before a value: "the pause is at three seconds"."""
POINTS = frozenset({"mark", "point"})
LEAST_S = 3.0
"""Shorter times are pauses and glides more often than moments, unless the clip is named."""
NEAR = 8
"""Tokens before a moment within which a verb of looking belongs to it."""
JOINS = frozenset("and , again then also or &".split())
LIST_GAP = 5
"""Tokens between moments of one list: "at 14 seconds, and again at 22 seconds"."""


@dataclass(frozen=True)
class Moment:
    """A spoken moment: its tokens (last exclusive) and the second of the clip it names."""

    first: int
    last: int
    clip_s: float


def find_moments(
    narration: Narration, taken: Collection[tuple[int, int]] = ()
) -> tuple[Moment, ...]:
    """The moments of the clip that are spoken, in order; the end of a range is left out.

    ``taken`` holds token ranges (last exclusive) whose numbers belong to drills and sets.
    """
    doc = narration.doc
    found: list[tuple[Moment, bool]] = []  # with whether it was taken back
    for quantity in find_quantities(doc):
        if any(first < quantity.last and quantity.first < last for first, last in taken):
            continue
        listed = bool(found) and _goes_with(doc, *found[-1], quantity)
        if _Spoken(doc, quantity).is_moment(listed=listed):
            end = _unit_end(doc, quantity)
            moment = Moment(quantity.first, end, float(quantity.low or 0.0))
            found.append((moment, quantity.taken_back))
    kept = [moment for moment, taken_back in found if not taken_back]
    return tuple(m for at, m in enumerate(kept) if not at or not _ends_range(doc, kept[at - 1], m))


def _unit_end(doc: Doc, quantity: Quantity) -> int:
    """Where the time's own words end: behind "seconds", or "-second"."""
    last = max(quantity.anchor, quantity.last)
    end = last + 1 if last < len(doc) and doc[last].text in HYPHENS else last
    return end + 1 if end < len(doc) and doc[end].lower_ in SECONDS else last


def _goes_with(doc: Doc, before: Moment, taken_back: bool, quantity: Quantity) -> bool:
    """Whether a time stands in one list with a moment ("at 14 and 22 seconds"), or in its place."""
    between = doc[before.last : quantity.first]
    same = doc[before.first].sent.start == doc[quantity.first].sent.start
    words = {token.lower_ for token in between} - POINTS - HEDGES - LEADS
    return same and len(between) <= LIST_GAP and bool(words) and (taken_back or words <= JOINS)


def _ends_range(doc: Doc, before: Moment, moment: Moment) -> bool:
    between = [token.lower_ for token in doc[before.last : moment.first]]
    return between in (["to"], ["until"], ["till"])


class _Spoken:
    """One time with the words around it."""

    def __init__(self, doc: Doc, quantity: Quantity) -> None:
        self._quantity = quantity
        self._sent = doc[quantity.first].sent
        end = _unit_end(doc, quantity)
        self._has_unit = any(t.lower_ in SECONDS for t in doc[quantity.last - 1 : end])
        self._clock = quantity.pure == "clock"
        self._before: list[Token] = list(doc[self._sent.start : quantity.first])
        self._after = [
            t.lower_ for t in doc[end : min(self._sent.end, end + 4)] if t.text not in HYPHENS
        ]

    def is_moment(self, *, listed: bool) -> bool:
        """Whether it names a moment; ``listed`` where a moment stands right before it."""
        if self._quantity.low is None or self._quantity.limit or self._follows(NO_MOMENT):
            return False
        timed = self._clock or self._has_unit
        if timed and (self._is_into() or self._is_point()):
            return True
        lead = self._lead()
        counts_nothing = timed or not self._after or self._after[0] in ENDS
        if lead is None or listed:
            return listed and counts_nothing
        if self._is_sought(lead) or self._is_numbered():
            return counts_nothing
        return (timed or self._is_spelled()) and self._is_placed(lead)

    def _is_into(self) -> bool:
        """ "Twelve seconds in", "a minute five into the clip"."""
        after = [*self._after, "", "", ""]
        if after[0] == "into" or after[:2] == ["in", "to"]:
            rest = after[1:] if after[0] == "into" else after[2:]
            return rest[0] in {"", "it", "this", "that", *CLIP_WORDS} or rest[1] in CLIP_WORDS
        if after[0] != "in":
            return False
        if after[1] in {"the", "this", "that"}:
            return after[2] in CLIP_WORDS
        return after[1] in ENDS | {""}

    def _is_point(self) -> bool:
        """ "At the fourteen second mark"."""
        return self._follows(POINTS) and "the" in self._words(-3)

    def _follows(self, words: frozenset[str]) -> bool:
        return bool(self._after) and self._after[0] in words

    def _lead(self) -> int | None:
        """Where among the words before it the preposition stands that places it."""
        at = len(self._before) - 1
        while at >= 0 and self._before[at].lower_ in HEDGES - LEADS | {"second"}:
            at -= 1
        if at > 0 and self._before[at].lower_ == "around" and self._before[at - 1].lower_ == "at":
            at -= 1
        return at if at >= 0 and self._before[at].lower_ in LEADS else None

    def _words(self, first: int) -> list[str]:
        return [token.lower_ for token in self._before[first:]]

    def _is_sought(self, lead: int) -> bool:
        """ "Go back to nine", "pause it at twelve", "back at nine seconds"."""
        ahead = self._before[max(0, lead - 4) : lead]
        sought = any(token.lemma_.lower() in SEEKERS and not _is_named(token) for token in ahead)
        to = self._before[lead].lower_ == "to"
        back = bool(ahead) and ahead[-1].lower_ in {"back", "again"}
        return (sought and (not to or back or len(ahead) < 3)) or (
            back and (self._clock or self._has_unit)
        )

    def _is_numbered(self) -> bool:
        """ "At second fourteen"."""
        return self._words(-1) == ["second"]

    def _is_spelled(self) -> bool:
        """ "At zero fourteen"."""
        return self._quantity.surface.lower().startswith(("zero ", "oh ", "nought "))

    def _is_placed(self, lead: int) -> bool:
        """ "At 0:14 ...", "watch it at eighteen seconds", "the elbow drops at 14 seconds"."""
        if self._before[lead].lower_ == "to":
            return False
        near = {token.lemma_.lower() for token in self._before[-NEAR:]}
        of_clip = self._quantity.surface.startswith("0:") or self._is_spelled()
        stands = any(t.lemma_.lower() in STANDS for t in self._before[max(0, lead - 2) : lead])
        if not of_clip and (stands or (self._quantity.low or 0.0) < LEAST_S):
            return False
        opens = all(token.lower_ in OPENERS for token in self._before[:lead])
        return opens or bool(near & LOOKS) or not near & TIMED


def _is_named(token: Token) -> bool:
    """Whether a word is a thing ("your pause"), by the article or owner before it."""
    return token.i > token.sent.start and token.nbor(-1).pos_ in {"DET", "ADJ", "PRON"}
