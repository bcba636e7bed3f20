"""Links between faults: what brings about what, and the coach's own order of work."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from voicenotes.notes import Cause, Priority
from voicenotes.reading.groups import Groups
from voicenotes.reading.sightings import Sighting
from voicenotes.reading.text import Narration, Sentence

CAUSE_FIRST = (
    "so", "which makes", "that makes", "makes", "which means", "that means", "that 's why",
    "that is why", "which is why", "leads to", "which leads", "causes", "which throws",
    "which pushes",
    "which drags", "which drops", "drags", "throws", "tips", "pushes", "pulls", "therefore",
    "results in", "as a result", "and that sends", "sends", "is what makes", "is what drops",
    "is what 's dropping", "is what puts", "is why", "'s why", "forces", "brings", "that 's what",
    "and then the", "kills", "is the reason", "and because of that", "because of that",
    "because of this", "and it 's that", "has to", "have to", "which is what",
)  # fmt: skip
"""Groups that stand between a cause and what follows from it."""

EFFECT_FIRST = (
    "because", "'cause", "'cos", "cos", "since", "comes from", "coming from", "come from",
    "it 's from",
    "down to", "due to", "caused by", "thanks to", "the reason is", "as a result of", "blame",
    "comes of", "starts with", "it is from", "to make up for", "the price of", "owing to",
    "on account of", "it 's the", "all from", "as you 're", "stems from",
)  # fmt: skip
"""Groups that stand between an effect and what it comes from."""

ORDINALS = (
    ("first", "first thing", "number one", "number 1", "one :", "priority one", "firstly",
     "top of the list",
     "job one", "main thing", "the big one", "biggest thing", "most important", "first job"),
    ("second", "second thing", "number two", "number 2", "two :", "secondly", "after that",
     "next up"),
    ("third", "third thing", "number three", "number 3", "three :", "thirdly", "finally",
     "lastly", "last"),
)  # fmt: skip
"""Ways to count off what to work on, by rank."""

IN_ORDER = ("in order of importance", "in this order", "in that order", "in order", "priorities")
"""Groups after which the faults of the same sentence are named by rank."""


OPENING_WORDS = 6
"""A rank is counted off at the start of a sentence ("So first thing, that left hand")."""


@dataclass(frozen=True)
class _Joint:
    """A group between cause and effect."""

    direction: Literal["cause_first", "effect_first"]
    first: int
    last: int


def find_causes(narration: Narration, sightings: Sequence[Sighting]) -> tuple[Cause, ...]:
    """Pairs of faults that the coach links, each once, with the sentence that links them."""
    faults = [s for s in sightings if s.kind == "fault" and s.status in {"true", "general"}]
    told = {s.code for s in faults if s.status == "true"}
    causes: dict[tuple[str, str], Cause] = {}
    for sentence in narration.sentences:
        for joint in _joints(sentence):
            for cause, effect in _pairs(joint, sentence, faults):
                if cause != effect and {cause, effect} <= told and (effect, cause) not in causes:
                    mention = narration.mention(sentence.span)
                    link = Cause(cause=cause, effect=effect, mention=mention)
                    causes.setdefault((cause, effect), link)
    return tuple(causes.values())


def _joints(sentence: Sentence) -> list[_Joint]:
    return [
        _Joint("cause_first" if name == "cause_first" else "effect_first", first, last)
        for name, first, last in _joint_groups().find(sentence.span)
    ]


def _pairs(joint: _Joint, sentence: Sentence, faults: Sequence[Sighting]) -> list[tuple[str, str]]:
    """The pair of codes nearest to a joint, cause first; at most one."""
    here = [s for s in faults if s.sentence == sentence.index]
    before = [s for s in here if s.last <= joint.first]
    after = [s for s in here if s.first >= joint.last - 1]
    if joint.direction == "effect_first" and joint.first <= sentence.span.start + 1:
        before, after = _opened(joint, after, faults, sentence)
    elif not before:
        before = [s for s in faults if s.sentence == sentence.index - 1]
    if not before or not after:
        return []
    left = max(before, key=lambda s: (s.sentence, s.last)).code
    right = min(after, key=lambda s: s.first).code
    return [(left, right) if joint.direction == "cause_first" else (right, left)]


def _opened(
    joint: _Joint, after: list[Sighting], faults: Sequence[Sighting], sentence: Sentence
) -> tuple[list[Sighting], list[Sighting]]:
    """Effect and cause of a sentence that opens with "because".

    The cause stands up to the comma and the effect behind it, or in the sentence before.
    """
    comma = next((t.i for t in sentence.span if t.text == "," and t.i > joint.last), None)
    cause = [s for s in after if comma is None or s.first < comma]
    effect = [s for s in after if comma is not None and s.first > comma]
    return effect or [s for s in faults if s.sentence == sentence.index - 1], cause


def find_priorities(narration: Narration, sightings: Sequence[Sighting]) -> tuple[Priority, ...]:
    """The coach's own order of work: faults counted off by rank, each code once."""
    ranked: dict[str, tuple[int, int, Sighting]] = {}
    faults = [s for s in sightings if s.kind == "fault" and s.status == "true"]
    for sentence in narration.sentences:
        here = sorted((s for s in faults if s.sentence == sentence.index), key=lambda s: s.first)
        rank = _rank(sentence)
        if rank is None:
            continue
        for place, sighting in enumerate(here):
            ranked.setdefault(sighting.code, (rank, place, sighting))
    order = sorted(ranked.values(), key=lambda entry: (entry[0], entry[2].sentence, entry[1]))
    return tuple(
        Priority(
            rank=number,
            code=sighting.code,
            mention=narration.mention(narration.sentences[sighting.sentence].span),
        )
        for number, (_, _, sighting) in enumerate(order, start=1)
    )


def _rank(sentence: Sentence) -> int | None:
    """The rank that a sentence counts off: 1 to 3; None where it counts nothing off."""
    found = _rank_groups().find(sentence.span)
    if any(name == "order" for name, *_ in found):
        return 1
    opening = sentence.span.start + OPENING_WORDS
    return min((int(name) for name, first, _ in found if first < opening), default=None)


@lru_cache(maxsize=1)
def _joint_groups() -> Groups:
    return Groups({"cause_first": CAUSE_FIRST, "effect_first": EFFECT_FIRST}, by_lemma=False)


@lru_cache(maxsize=1)
def _rank_groups() -> Groups:
    lists = {str(rank): groups for rank, groups in enumerate(ORDINALS, start=1)}
    return Groups({**lists, "order": IN_ORDER}, by_lemma=False)
