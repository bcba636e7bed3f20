"""Where left, right or both is named, of which limb, or as a direction."""

import re
from dataclasses import dataclass, replace
from typing import Literal

from spacy.tokens import Doc, Token

from voicenotes.notes import Side

ARM_WORDS = frozenset(
    "hand arm elbow wrist forearm shoulder palm thumb finger fingertip stroke pull entry catch "
    "recovery lat armpit paddle lead".split()
)
LEG_WORDS = frozenset("leg foot knee ankle toe calf thigh heel fin".split())
HEAD_WORDS = frozenset("ear cheek goggle eye eyebrow nostril cheekbone temple".split())
SIDED_WORDS = (
    ARM_WORDS | LEG_WORDS | HEAD_WORDS | frozenset("hip side one lung flank buttock".split())
)
"""Words that a "right" before them makes a side, never an adverb."""

OWNERS = frozenset("the your his her their its my on this that to only".split())
NOT_SIDES = frozenset("all just about is 's spot dead exactly quite bang alright".split())
BREATHING = frozenset("breathe breath breathing breather air inhale gulp".split())
BEARERS = frozenset("only ever always on every from out".split())
AGAINST = frozenset("than unlike versus".split())
"""Words after which a side is only there to compare with."""

TAKES_BACK = re.compile(
    r"\b(no ?(,|\.|!|sorry|wait|hang|it)|sorry|wait|correction|i mean|i meant|scratch|or rather|"
    r"make that|hang on|beg your pardon|tell a lie|other way round)"
)
CORRECTED_WITHIN = 14
"""Words between a side and the one that takes its place ("the right, no, hang on, the left")."""

Of = Literal["arm", "leg", "way", None]


@dataclass(frozen=True)
class SideMark:
    """A side named at a token.

    ``of`` says what it is the side of: an arm, a leg, the way something goes or turns
    ("breathes to the left"), or None where the words leave that open ("on the left").
    """

    token: int
    side: Side
    of: Of = None


def side_marks(doc: Doc) -> tuple[SideMark, ...]:
    """Every side named in the narration, in order; "the other" is worked out from the last one.

    A side that the speaker corrects ("the right, no sorry, the left") counts as last said, one
    that is denied ("not the left") or only compared with ("more than the left") not at all.
    """
    marks: list[SideMark] = []
    for token in doc:
        side = _named(token)
        if side is None and token.lower_ in {"other", "opposite"} and _turns_to_other(token):
            side = _opposite(marks)
        if side is None or _set_aside(token):
            continue
        mark = SideMark(token.i, side, _side_of_what(token))
        if marks and _corrects(doc, marks[-1], mark):
            marks[-1] = replace(marks[-1], side=side)
        marks.append(mark)
    return tuple(marks)


def _named(token: Token) -> Side | None:
    word = token.lower_
    if word == "left":
        verb = token.tag_ in {"VBD", "VBN"} and token.head.pos_ != "NOUN"
        sure = _before_part(token, 1) or _owned(token) or _behind_part(token)
        return None if verb and not sure else "left"
    if word == "right":
        return "right" if _right_is_side(token) else None
    if word == "write" and _before_part(token, 1) and (not token.i or _owned(token)):
        return "right"  # as recognition spells it
    if word in {"both", "either", "each", "neither"} and _before_part(token, 3):
        return None if token.nbor().lower_ == "one" and word == "each" else "both"
    if word == "both" and token.dep_ in {"nsubj", "dobj", "pobj", "appos", "npadvmod"}:
        return "both"
    if word == "both" or (word in {"pair", "two"} and _owned(token)):
        of_them = [t.lower_ for t in token.doc[token.i + 1 : token.i + 3]]
        return "both" if of_them == ["of", "them"] else None
    if word == "way" and token.i and token.nbor(-1).lower_ in {"each", "either"}:
        return "both"
    return None


def _owned(token: Token) -> bool:
    return bool(token.i) and token.nbor(-1).lower_ in OWNERS


def _behind_part(token: Token) -> bool:
    """ "the hand left, she comes in": a side put behind its part."""
    if not token.i or token.nbor(-1).lemma_.lower() not in ARM_WORDS | LEG_WORDS:
        return False
    follower = token.doc[token.i + 1 : token.i + 2]
    return not follower or follower[0].is_punct or follower[0].lower_ in {"she", "he", "it", "is"}


def _before_part(token: Token, words: int) -> bool:
    following = token.doc[token.i + 1 : token.i + 1 + words]
    return any(t.lemma_.lower() in SIDED_WORDS for t in following)


def _right_is_side(token: Token) -> bool:
    """Tells "your right drifts" from "right over", "all right", "that's right", "right, so"."""
    doc = token.doc
    before = doc[token.i - 1].lower_ if token.i else ""
    follower = doc[token.i + 1] if token.i + 1 < len(doc) else None
    if (
        _before_part(token, 1)
        or _behind_part(token)
        or (before == "left" or "left" in _neighbours(token))
    ):
        return True
    if before in NOT_SIDES or follower is None:
        return before in OWNERS
    if before in OWNERS:
        adverb = follower.pos_ in {"ADP", "ADV", "SCONJ"} and follower.lower_ not in {
            "is", "at", "in", "as", "too", "though", "only", "on", "now", "here",
        }  # fmt: skip
        return not adverb and follower.pos_ not in {"NOUN", "ADJ", "PROPN"}
    if before and doc[token.i - 1].lemma_.lower() in BREATHING:
        return follower.is_punct or follower.lower_ not in {"after", "at", "when", "away", "on"}
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


def _turns_to_other(token: Token) -> bool:
    """Whether "the other" turns to the other side ("and on the other arm", "the other one's fine").

    Where it only goes with the one spoken of ("waits for the other hand", "over by the other
    shoulder"), the coach still speaks of the first.
    """
    doc, sentence = token.doc, token.sent
    follower = doc[token.i + 1 : token.i + 2]
    if follower and not (
        follower[0].lemma_.lower() in SIDED_WORDS
        or follower[0].is_punct
        or follower[0].pos_ in {"AUX", "VERB"}
    ):
        return False
    before = [t.lower_ for t in doc[sentence.start : token.i]]
    if {"one", "front", "until", "wait", "waits", "waiting"} & set(before):
        return False
    led = before[-2] if len(before) > 1 else ""
    return led in {"on", "", "and", "but", ",", "now", "so", "with"}


def _opposite(marks: list[SideMark]) -> Side | None:
    last = next((mark.side for mark in reversed(marks) if mark.side != "both"), None)
    if last is None:
        return None
    return "right" if last == "left" else "left"


def _set_aside(token: Token) -> bool:
    """Whether a side is named to be denied, or to compare another with."""
    before = [t.lower_ for t in token.doc[max(token.sent.start, token.i - 4) : token.i]]
    if AGAINST & set(before):
        return True
    denied = bool({"not", "n't"} & set(before[-2:]))
    return denied and (_before_part(token, 1) or token.lower_ != "both")


def _side_of_what(token: Token) -> Of:
    doc, noun = token.doc, token.doc[token.i + 1 : token.i + 2]
    part = noun[0].lemma_.lower() if noun else ""
    if token.lower_ in {"both", "either", "each"}:
        parts = [t.lemma_.lower() for t in doc[token.i + 1 : token.i + 4]]
        part = next((p for p in parts if p in SIDED_WORDS), part)
    if part in ARM_WORDS:
        return "arm"
    if part in LEG_WORDS:
        return "leg"
    if part in HEAD_WORDS:
        return "way"  # "over in front of your left eye"
    first = token.i
    while first > token.sent.start and doc[first - 1].lower_ in {"the", "your", "her", "his", "my"}:
        first -= 1
    led = doc[first - 1] if first > token.sent.start else None
    if led is None:
        return None
    heading = led.lower_ in {"to", "toward", "towards", "over", "onto"} or led.pos_ == "VERB"
    nearby = {t.lemma_.lower() for t in doc[max(token.sent.start, token.i - 7) : token.i]}
    return "way" if (heading and part != "one") or nearby & BREATHING else None


def _corrects(doc: Doc, before: SideMark, mark: SideMark) -> bool:
    """Whether a side takes the place of the one said just before it."""
    if mark.token - before.token > CORRECTED_WITHIN or mark.side == before.side:
        return False
    return bool(TAKES_BACK.search(doc[before.token + 1 : mark.token].text.lower()))
