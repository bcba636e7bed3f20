"""Whether a figure counts as one of this swimmer, now."""

import re

from spacy.tokens import Span, Token

from voicenotes.notes import Status
from voicenotes.reading import cues
from voicenotes.reading.context import SECOND, Context
from voicenotes.reading.figures.roles import Role
from voicenotes.reading.groups import Groups
from voicenotes.reading.numbers.quantities import Quantity
from voicenotes.reading.text import Narration, Sentence

LOOKS = frozenset(
    "put draw measure look count freeze stop ask watch pardon add pause see like want wind compare "
    "zoom".split()
)
"""Verbs after "if" that suppose nothing of the swimmer: "if I put a line on it"."""
SURE = 0.5
"""Certainty from which the learned reader surely hears a figure of the swimmer."""
_NOT_EARLIER = frozenset(
    (
        "gone now",
        "is gone",
        "'s gone",
        "has gone",
        "are gone",
        "cured",
        "sorted now",
        "history",
        "was always",
        "any more",
        "anymore",
        "no longer",
        "finished with",
    )
)
_EARLIER = (
    "in the old", "before christmas", "at christmas", "at easter", "at the start of",
    "originally", "in the winter clip", "in the first clip", "first video",
    "very first", "your first day", "in the winter", "in the summer", "in june", "clip one",
    "last lesson", "last session", "three months ago", "was always",
)  # fmt: skip
_NOW = frozenset("now today".split())
_TURNS = _NOW | frozenset("and but here 's is".split())
"""Words after an earlier time that lead back to the present."""
_OWN_STORY = re.compile(
    r"\b(my time|when i was|i swam|in my day|my own (time|rate|pace)|i was young)\b"
)
"""Words by which coaches tell of themselves."""
_BREAKS = frozenset({",", ";", "and", "but", "while", ":"})


class FigureStatus:
    """Judges each figure of one narration by its own stretch of words, then by its sentence."""

    def __init__(self, narration: Narration, context: Context) -> None:
        self._doc = narration.doc
        self._context = context
        names = [group for group in cues.EARLIER if group not in _NOT_EARLIER]
        groups = Groups({"earlier": [*names, *_EARLIER]}, by_lemma=False)
        self._earlier = [(first, last) for _, first, last in groups.find(narration.doc)]

    def of(self, quantity: Quantity, role: Role, sentence: Sentence, heard: float) -> Status:
        """Why a figure does not count, or "true".

        ``heard`` is how surely the learned reader hears a figure of the swimmer here: one that is
        surely heard is neither somebody else's nor merely supposed.
        """
        status = self._status(quantity, role, sentence)
        return "true" if status in {"other", "supposed"} and heard >= SURE else status

    def _status(self, quantity: Quantity, role: Role, sentence: Sentence) -> Status:
        if quantity.taken_back:
            return "taken_back"
        span = sentence.span
        if role == "observed" and self._is_past(quantity, span):
            return "past"
        if self._is_supposed(quantity, role, span):
            return "supposed"
        setting = self._context.setting(quantity.first)
        words = {token.lower_ for token in span}
        if _OWN_STORY.search(span.text.lower()):
            return "other"
        if setting == "other":
            return "true" if self._about_swimmer(quantity, span) else "other"
        spared = SECOND if role == "observed" else SECOND | {"i", "we", "my"}
        if setting == "general" and not words & spared and self._of_crowd(span):
            return "general"
        if role == "observed" and self._denied(quantity, span):
            return "denied"
        return "true"

    def _of_crowd(self, span: Span) -> bool:
        """Whether people at large are named, and not just "at the most" or "plenty"."""
        crowds = cues.CROWDS - {"most", "some", "many", "lots", "plenty", "others"}
        text = span.text.lower()
        return any(
            t.lower_ in crowds
            or (t.tag_ == "NNS" and t.lower_.endswith("ers") and t.lower_ not in cues.NO_DOERS)
            or (t.lower_ in {"most", "some", "many"} and t.dep_ in {"nsubj", "amod"})
            for t in span
        ) or any(habit in text for habit in cues.HABIT)

    def _segment(self, quantity: Quantity, span: Span) -> tuple[int, int]:
        """The stretch around a number between commas and joining words."""
        first, last = quantity.first, quantity.last
        while first > span.start and self._doc[first - 1].lower_ not in _BREAKS:
            first -= 1
        while last < span.end and self._doc[last].lower_ not in _BREAKS:
            last += 1
        return first, last

    def _is_past(self, quantity: Quantity, span: Span) -> bool:
        """Whether a number belongs to an earlier time: by its own stretch of words, or one before.

        The start of a change ("from 26 to 21") is past where the change is over.
        """
        if quantity.change == "from":
            verbs = [t.tag_ for t in self._doc[span.start : quantity.first] if t.pos_ == "VERB"]
            return bool(verbs) and verbs[-1] in {"VBN", "VBD"}
        first, last = self._segment(quantity, span)
        if {token.lower_ for token in self._doc[first:last]} & _NOW:
            return False
        if any(first <= start < last for start, _ in self._earlier) or self._is_dated(first, last):
            return True
        before = [t.lower_ for t in self._doc[max(span.start, quantity.first - 1) : quantity.first]]
        if before == ["from"] and len(quantity.atoms) == 1:
            return True
        lead = [end for start, end in self._earlier if span.start <= start < first]
        if not lead:
            return False
        return not {t.lower_ for t in self._doc[lead[-1] : quantity.first]} & _TURNS

    def _is_dated(self, first: int, last: int) -> bool:
        """Whether a stretch of words names a month or season, and tells what was then."""
        tokens = self._doc[first:last]
        dated = any(
            token.lower_ in cues.DATES
            and (
                token.i == first or token.dep_ == "nsubj" or token.nbor(-1).lower_ in {"in", "last"}
            )
            for token in tokens
        )
        verbs = {token.tag_ for token in tokens if token.pos_ in {"VERB", "AUX"}}
        return dated and (not verbs or "VBD" in verbs)

    def _is_supposed(self, quantity: Quantity, role: Role, span: Span) -> bool:
        """Whether a condition stands before a number; what is wanted is wanted all the same."""
        for token in self._doc[span.start : quantity.first]:
            if token.lower_ in {"suppose", "imagine"} and role == "observed":
                return True
            if token.lower_ not in {"if", "unless"}:
                continue
            clause = self._doc[token.i + 1 : min(span.end, token.i + 7)]
            if any(_looks(t) for t in clause):
                continue
            if role == "observed":
                return True
            between = self._doc[token.i : quantity.first]
            wants = {t.lemma_.lower() for t in between} & {"want", "like", "aim", "need", "love"}
            return not wants
        return False

    def _about_swimmer(self, quantity: Quantity, span: Span) -> bool:
        """Whether the swimmer is spoken of up to the number, whoever else is named after it."""
        before = self._doc[span.start : quantity.first]
        if any(_other(token) for token in before):
            return False
        if any(t.lower_ == "you" and t.dep_ in {"nsubj", "dobj"} for t in before):
            return True
        return any(_other(token) for token in self._doc[quantity.last : span.end])

    def _denied(self, quantity: Quantity, span: Span) -> bool:
        """ "It's not 170", "nowhere near ninety", "I don't believe the watch when it says 78"."""
        if quantity.limit is not None:
            return False
        before = [token.lower_ for token in self._doc[span.start : quantity.first]]
        if before[-1:] == ["not"] or before[-2:] in (["nowhere", "near"], ["not", "a"]):
            return True
        text, near = " ".join(before), " ".join(before[-6:])
        return any(words in text for words in ("n't believe", "no way")) or any(
            words in near for words in ("were n't", "was n't")
        )


def _looks(token: Token) -> bool:
    """ "If I pop back" only looks; "if you went past sixty" supposes."""
    lemma = token.lemma_.lower()
    if lemma in {"go", "pop", "scroll"}:
        return any(
            t.lower_ in {"back", "forward", "on"} for t in token.doc[token.i + 1 : token.i + 3]
        )
    return lemma in LOOKS


def _other(token: Token) -> bool:
    return token.lemma_.lower() in cues.OTHERS or token.lemma_.lower() in cues.RELATIVES
