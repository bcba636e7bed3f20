"""Left, right or both: which side a stretch of words speaks of."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from spacy.tokens import Doc, Span

from voicenotes.notes import Side
from voicenotes.reading import cues
from voicenotes.reading.clauses import clauses_of
from voicenotes.reading.side_marks import SideMark, side_marks
from voicenotes.reading.text import Narration

__all__ = ["Limb", "SaidSide", "SideMark", "Sides", "settle_sides", "side_marks"]

Limb = Literal["arm", "leg", "pair", None]
"""What the side is asked of: an arm, a leg, arms that move as a pair, or anything (the head)."""

Source = Literal["only", "clause", "sentence", "set", "passage", "plural"]
WEIGHTS: dict[Source, float] = {
    "only": 3.0, "clause": 3.0, "sentence": 2.0, "set": 1.0, "passage": 1.0, "plural": 0.5,
}  # fmt: skip
"""How far a side is trusted by where it was named (chosen on annotated narrations)."""

PLAIN = frozenset({"only", "clause", "sentence"})
"""Where a side is plainly said; what is said of a set counts less ("both arms, eight 25s")."""

SHARED = 0.8
"""Said of one side at least this much as of the other, a fault is of both (chosen likewise)."""

SAME_ENDS = frozenset("thing story again here there on with".split())
"""Words after "the same" that leave it a whole; "the same elbow" is still the one spoken of."""

PASSAGE = 4
"""Sentences over which a coach goes on about an arm without naming its side again."""

PLURALS = frozenset("hands arms elbows wrists palms forearms fingertips thumbs".split())


@dataclass(frozen=True)
class SaidSide:
    """A side, and where it was named: from the clause itself to the passage before it.

    ``also`` is True where it is added to something said before ("the right one waits as well").
    """

    side: Side
    source: Source
    also: bool = False


class Sides:
    """Which side any stretch of a narration speaks of."""

    def __init__(self, narration: Narration) -> None:
        self._doc = narration.doc
        self._sentences = narration.sentences
        self._marks = _joined(side_marks(narration.doc), narration.doc)
        self._at = [mark.token for mark in self._marks]

    def within(self, first: int, last: int) -> tuple[SideMark, ...]:
        """The sides named in a token range (last exclusive)."""
        return self._marks[bisect_left(self._at, first) : bisect_left(self._at, last)]

    def of(self, sentence: int, first: int, last: int, limb: Limb = None) -> SaidSide | None:
        """The side that a token range of a sentence speaks of, None where nothing says.

        Looked for in the words themselves, then their clause, then the rest of the sentence; but
        for legs, also in the sentences before, as long as the coach goes on about one arm or
        one breath. A side that is of other limbs does not count, nor for an arm or leg the way
        that something goes or turns ("breathes to the left").
        """
        span = self._sentences[sentence].span
        if limb == "pair":
            paired = any(token.lower_ in PLURALS for token in span)
            return SaidSide("both", "plural") if paired else None
        if limb and self._both_measured(span, limb):
            return SaidSide("both", "sentence")
        clauses = clauses_of(span, sentence)
        home = next((c for c in clauses if first in c), clauses[0])
        reaches: tuple[tuple[Source, int, int], ...] = (
            ("clause", first, last),
            ("clause", home.first, home.last),
            ("sentence", span.start, home.first),
            ("sentence", home.last, span.end),
        )
        for source, start, end in reaches:
            marks = _of_limb(self.within(start, end), limb)
            if marks:
                before = source == "sentence" and end == home.first
                found = self._settle(marks, nearest=before)
                if found != "both" and _says_same(span):
                    return SaidSide("both", "sentence")
                if any(mark.side == found and self._only(mark.token) for mark in marks):
                    return SaidSide(found, "only")
                return SaidSide(found, "set" if _prescribes(span) else source, _adds(span))
        if limb == "leg":
            return None
        named = {token.lower_ for token in self._doc[home.first : home.last]}
        if limb == "arm" and named & PLURALS:
            return SaidSide("both", "plural")
        return self._from_passage(sentence, limb)

    def _only(self, token: int) -> bool:
        """Whether a side is said to be the only one ("only the left", "the left only")."""
        if self._doc[token].lower_ == "both":
            return False
        start = self._doc[token].sent.start
        ahead = [t.lower_ for t in self._doc[max(start, token - 2) : token]]
        behind = [t.lower_ for t in self._doc[token + 1 : token + 3]]
        return ahead[:1] == ["only"] or "only" in behind[:1] or behind[1:] == ["only"]

    def _both_measured(self, span: Span, limb: Limb) -> bool:
        """Whether left and right are each given a number ("22 on the left, 14 on the right")."""
        marks = _of_limb(self.within(span.start, span.end), limb)
        numbers = sum(token.like_num and token.lower_ != "one" for token in span)
        return {"left", "right"} <= {mark.side for mark in marks} and numbers > 1

    def _from_passage(self, sentence: int, limb: Limb) -> SaidSide | None:
        """The side of an arm, or the side breathed to, last named in the sentences before."""
        for back in range(1, min(PASSAGE, sentence) + 1):
            span = self._sentences[sentence - back].span
            marks = _of_limb(self.within(span.start, span.end), limb)
            if limb is None:
                marks = [mark for mark in marks if mark.of in {"way", None}]
            if marks and marks[-1].side != "both":
                return SaidSide(self._settle(marks, nearest=True), "passage")
        return None

    def _settle(self, marks: Sequence[SideMark], *, nearest: bool) -> Side:
        """One side out of those named in a stretch; both where they are joined."""
        sides = {mark.side for mark in marks}
        if len(sides) == 1 or nearest:
            return marks[-1].side
        if "both" in sides:
            return "both"
        between = {token.lower_ for token in self._doc[marks[0].token : marks[-1].token]}
        return "both" if between & {"and", "nor", "or"} else marks[0].side


def _prescribes(span: Span) -> bool:
    """Whether a sentence sets repetitions ("eight 25s, both arms")."""
    counts = any(token.like_num for token in span)
    return any(
        token.lower_ in cues.SET_DISTANCES or (counts and token.lower_ in {"times", "reps", "rest"})
        for token in span
    )


def _says_same(span: Span) -> bool:
    """Whether a sentence says of the one side what it says of the other ("so does the right")."""
    words = [token.lower_ for token in span]
    if "likewise" in words:
        return True
    if {("so", "does"), ("so", "is"), ("so", "do")} & set(pairwise(words)):
        return True
    followers = [after for word, after in pairwise(words) if word == "same"]
    return any(after in SAME_ENDS or not after.isalnum() for after in followers)


def _adds(span: Span) -> bool:
    """Whether a sentence adds to what was said before ("as well", "too")."""
    words = [token.lower_ for token in span]
    if {("as", "well"), (",", "also"), ("also", ",")} & set(pairwise(words)):
        return True
    return any(token.lower_ == "too" and token.nbor().is_punct for token in span[:-1])


def _joined(marks: Sequence[SideMark], doc: Doc) -> tuple[SideMark, ...]:
    """The marks, with "the left and the right hand" read as both."""
    joined = list(marks)
    for i, (one, other) in enumerate(pairwise(marks)):
        between = [token.lower_ for token in doc[one.token + 1 : other.token]]
        if between and between[0] in {"and", "or", "nor"} and len(between) <= 2:
            joined[i] = replace(one, side="both", of=other.of)
            joined[i + 1] = replace(other, side="both")
    return tuple(joined)


def _of_limb(marks: Sequence[SideMark], limb: Limb) -> list[SideMark]:
    """The marks that can be of a limb: its own first, then those that leave it open."""
    if limb is None:  # "both eyes out" says nothing of a head's side
        return [mark for mark in marks if mark.side != "both"]
    own = [mark for mark in marks if mark.of == limb]
    return own or [mark for mark in marks if mark.of is None]


def settle_sides(said: Sequence[SaidSide], *, one_sided: bool = False) -> Side | None:
    """The side of a finding, out of those of its mentions; None where none says.

    Left and right, each plainly said, are both; otherwise the side said most plainly and most
    often counts, and a side only carried over gives way. ``one_sided`` findings (rolling more to
    one side) cannot be of both.
    """
    weights: dict[Side, float] = defaultdict(float)
    for one in said:
        if not (one_sided and one.side == "both"):
            weights[one.side] += WEIGHTS[one.source]
    if not weights:
        return None
    plain = {one.side for one in said if one.source in PLAIN} & set(weights)
    alone = {one.side for one in said if one.source == "only"}
    if len(alone) == 1:
        return alone.pop()
    if "both" in plain and weights["both"] >= max(weights.values()) / 2:
        return "both"
    if {"left", "right"} <= set(weights) and not one_sided:
        less, more = sorted((weights["left"], weights["right"]))
        added = any(one.also for one in said)
        if added or ({"left", "right"} <= plain and less >= SHARED * more):
            return "both"
    return max(weights, key=lambda side: weights[side])
