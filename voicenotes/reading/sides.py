"""Left, right or both: which side a stretch of words speaks of."""

import re
from bisect import bisect_left
from dataclasses import dataclass

from spacy.tokens import Doc, Span, Token

from voicenotes.notes import Side
from voicenotes.reading.clauses import Clause, clauses_of
from voicenotes.reading.text import Narration

SIDED_WORDS = frozenset(
    "hand arm elbow wrist forearm shoulder leg foot knee ankle hip side palm thumb finger "
    "fingertip stroke pull entry catch recovery one lat armpit toe calf thigh heel fin ear "
    "cheek goggle lung flank".split()
)
"""Words that a "right" before them makes a side, never an adverb."""

OWNERS = frozenset("the your his her their its my on this that to only".split())
NOT_SIDES = frozenset("all just about is 's spot dead exactly quite bang alright".split())
TAKES_BACK = re.compile(r"\b(no|sorry|wait|correction|i mean|scratch|rather)\b")
REFERS_BACK = frozenset("it that this same its them those these one there again".split())


@dataclass(frozen=True)
class SideMark:
    """A side named at a token."""

    token: int
    side: Side


def side_marks(doc: Doc) -> tuple[SideMark, ...]:
    """Every side named in the narration, in order; "the other" is worked out from the last one."""
    marks: list[SideMark] = []
    for token in doc:
        side = _named(token)
        if side is None and token.lower_ in {"other", "opposite"} and _stands_for_part(token):
            side = _opposite(marks)
        if side is not None:
            marks.append(SideMark(token.i, side))
    return tuple(marks)


def _named(token: Token) -> Side | None:
    word = token.lower_
    if word == "left":
        verb = token.tag_ in {"VBD", "VBN"} and token.head.pos_ != "NOUN"
        return None if verb and not _before_part(token, 1) else "left"
    if word == "right":
        return "right" if _right_is_side(token) else None
    if word in {"both", "either", "each", "neither"} and _before_part(token, 3):
        return "both"
    if word == "both" and token.dep_ in {"nsubj", "dobj", "pobj", "appos", "npadvmod"}:
        return "both"
    if word == "way" and token.i and token.nbor(-1).lower_ in {"each", "either"}:
        return "both"
    return None


def _before_part(token: Token, words: int) -> bool:
    following = token.doc[token.i + 1 : token.i + 1 + words]
    return any(t.lemma_.lower() in SIDED_WORDS for t in following)


def _right_is_side(token: Token) -> bool:
    """Tells "your right drifts" from "right over", "all right", "that's right", "right, so"."""
    doc = token.doc
    before = doc[token.i - 1].lower_ if token.i else ""
    follower = doc[token.i + 1] if token.i + 1 < len(doc) else None
    if _before_part(token, 1) or (before == "left" or "left" in _neighbours(token)):
        return True
    if before in NOT_SIDES or follower is None:
        return before in OWNERS
    if before in OWNERS:
        adverb = follower.pos_ in {"ADP", "ADV", "SCONJ"} and follower.lower_ not in {
            "is", "at", "in", "as", "too", "though", "only", "on", "now", "here",
        }  # fmt: skip
        return not adverb and follower.pos_ not in {"NOUN", "ADJ", "PROPN"}
    return before in {"no", "sorry", ","} and follower.lower_ == "side"


def _neighbours(token: Token) -> set[str]:
    """The words joined to a token by "and" or "or"."""
    doc, i = token.doc, token.i
    joined = set()
    if i >= 2 and doc[i - 1].lower_ in {"and", "or", "to", "than"}:
        joined.add(doc[i - 2].lower_)
    if i + 2 < len(doc) and doc[i + 1].lower_ in {"and", "or", "to", "than"}:
        joined.add(doc[i + 2].lower_)
    return joined


def _stands_for_part(token: Token) -> bool:
    following = token.doc[token.i + 1 : token.i + 2]
    return (
        not following
        or following[0].lemma_.lower() in SIDED_WORDS
        or following[0].is_punct
        or following[0].pos_ in {"AUX", "VERB"}
    )


def _opposite(marks: list[SideMark]) -> Side | None:
    last = next((mark.side for mark in reversed(marks) if mark.side != "both"), None)
    if last is None:
        return None
    return "right" if last == "left" else "left"


class Sides:
    """Which side any stretch of a narration speaks of."""

    def __init__(self, narration: Narration) -> None:
        self._doc = narration.doc
        self._sentences = narration.sentences
        self._marks = side_marks(narration.doc)
        self._at = [mark.token for mark in self._marks]

    def within(self, first: int, last: int) -> tuple[SideMark, ...]:
        """The sides named in a token range (last exclusive)."""
        return self._marks[bisect_left(self._at, first) : bisect_left(self._at, last)]

    def of(self, sentence: int, first: int, last: int) -> Side | None:
        """The side that a token range of a sentence speaks of, None where nothing says.

        Looked for in the words themselves, then their clause, then the clauses before it, then,
        where the sentence refers back ("and then it drifts up"), the sentence before. A side
        that the speaker corrects counts as last said ("the right, no sorry, the left hand").
        """
        span = self._sentences[sentence].span
        clauses = clauses_of(span, sentence)
        home = next((i for i, clause in enumerate(clauses) if first in clause), 0)
        for reach in (
            (first, last),
            (clauses[home].first, clauses[home].last),
            (span.start, clauses[home].first),
        ):
            marks = self.within(*reach)
            if marks:
                return self._settle(marks, whole=reach != (span.start, clauses[home].first))
        if sentence and self._refers_back(span, clauses[home]):
            before = self._sentences[sentence - 1].span
            marks = self.within(before.start, before.end)
            sides = {mark.side for mark in marks}
            if len(sides) == 1:
                return marks[-1].side
        return None

    def _refers_back(self, span: Span, clause: Clause) -> bool:
        words = [token.lower_ for token in self._doc[clause.first : clause.last]]
        return any(word in REFERS_BACK for word in words)

    def _settle(self, marks: tuple[SideMark, ...], *, whole: bool) -> Side:
        """One side out of those named in a stretch; the last where they are not joined."""
        sides = {mark.side for mark in marks}
        if len(sides) == 1:
            return marks[-1].side
        between = self._doc[marks[-2].token : marks[-1].token].text.lower()
        if TAKES_BACK.search(between) or not whole:
            return marks[-1].side
        if "both" in sides:
            return "both"
        return "both" if re.search(r"\b(and|nor|or)\b", between) else marks[0].side
