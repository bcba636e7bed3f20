"""Links between faults: what brings about what, and the coach's own order of work."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import permutations, product

from voicenotes.notes import Cause, Priority
from voicenotes.reading import cues
from voicenotes.reading.faults.sightings import Sighting
from voicenotes.reading.groups import Groups
from voicenotes.reading.text import Narration, Sentence
from voicenotes.vocabulary.model import Vocabulary

CAUSE_FIRST = (
    "so", "which makes", "that makes", "makes", "make", "which means", "that means", "means",
    "that 's why", "that is why", "which is why", "is why", "'s why", "leads to", "leads straight",
    "causes", "throws", "drags", "drops", "tips", "pushes", "pulls", "sends", "sending", "forces",
    "brings", "kills", "costs", "robs", "leaves", "leave", "lets", "sets off", "gives you",
    "therefore", "hence", "thus", "consequently", "as a consequence", "results in", "as a result",
    "is the result", "in turn", "out of that", "from that", "from there", "from this",
    "that 's what", "which is what", "is what", "'s what", "that 's where", "is the reason",
    "that 's the reason", "and because of that", "because of that", "because of this",
    "and then the", "goes with it", "go with it", "follow", "follows", "doing that", "does that",
    "no wonder", "is behind", "has to", "have to",
)  # fmt: skip
"""Groups that stand between a cause and what follows from it."""

EFFECT_FIRST = (
    "because", "'cause", "'cos", "cos", "cuz", "since", "comes from", "coming from", "come from",
    "comes straight from", "comes off", "comes of", "stems from", "it 's from", "it is from",
    "all from", "down to", "due to", "caused by", "thanks to", "owing to", "on account of",
    "as a result of", "the reason is", "the reason 's", "blame", "starts with",
    "to make up for", "the price of", "and it 's that", "and it 's the", "as you 're",
    "hang on it", "hangs on it",
)  # fmt: skip
"""Groups that stand between an effect and what it comes from."""

OPENERS = frozenset(
    "because cause cos cuz since when with without as while if every each whenever once".split()
)
"""Words by which a sentence opens with its cause ("With the chin up, the hips drop")."""

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

TOGETHER = 1.5
"""Both faults are named in one sentence. This and the weights below make up the sum by which a pair
is believed: a logistic regression over annotated narrations, rounded and adjusted by trial."""
WORDED = 1.0
"""The linking word stands between them in the right order."""
AGAINST = -0.5
"""The linking word says the opposite."""
USUAL = 2.0
"""The vocabulary knows the one to lead to the other."""
TURNED_ROUND = -1.0
"""The vocabulary knows only the opposite."""
LEARNED = 2.0
"""Times the learned reader's certainty that the one is given as cause, the other as effect."""
ENOUGH = 3.0
"""From this sum on a pair is a link."""


@dataclass(frozen=True)
class _Joint:
    """A group between cause and effect (or effect and cause) at a token range."""

    cause_first: bool
    first: int
    last: int


@dataclass(frozen=True)
class _Place:
    """A sentence that may link faults: who is named in it, and in the one before."""

    sentence: Sentence
    here: Mapping[str, Sequence[Sighting]]
    before: Mapping[str, Sequence[Sighting]]
    joints: Sequence[_Joint]

    @property
    def named(self) -> list[str]:
        """Codes named here or just before, in order."""
        return list(dict.fromkeys([*self.before, *self.here]))


def find_causes(
    narration: Narration, sightings: Sequence[Sighting], vocabulary: Vocabulary
) -> tuple[Cause, ...]:
    """Pairs of faults that the coach links, each once, with the sentence that links them.

    Only faults that are true of the swimmer are linked. A pair counts where enough speaks for it
    together: a linking word between the two, the learned reader, and what usually leads to what.
    """
    faults = [s for s in sightings if s.kind == "fault"]
    told = {s.code for s in faults if s.status == "true"}
    named: dict[int, dict[str, list[Sighting]]] = defaultdict(lambda: defaultdict(list))
    for sighting in faults:
        if sighting.code in told and sighting.status != "denied":
            named[sighting.sentence][sighting.code].append(sighting)
    best: dict[tuple[str, str], tuple[float, Sentence]] = {}
    for sentence in narration.sentences:
        here = named.get(sentence.index, {})
        place = _Place(sentence, here, named.get(sentence.index - 1, {}), _joints(sentence))
        for cause, effect in permutations(place.named if here else [], 2):
            if cause not in here and effect not in here:
                continue
            score = _believed(place, cause, effect, vocabulary)
            if score > best.get((cause, effect), (0.0, sentence))[0]:
                best[cause, effect] = (score, sentence)
    linked = [
        (sentence.index, Cause(cause=a, effect=b, mention=narration.mention(sentence.span)))
        for (a, b), (score, sentence) in best.items()
        if score >= ENOUGH and score > best.get((b, a), (0.0, sentence))[0]
    ]
    return tuple(cause for _, cause in sorted(linked, key=lambda entry: entry[0]))


def _believed(place: _Place, cause: str, effect: str, vocabulary: Vocabulary) -> float:
    """How much speaks for one fault bringing about another in a sentence: the sum."""
    together = cause in place.here and effect in place.here
    score = TOGETHER if together else 0.0
    direction = _direction(place, cause, effect)
    if direction <= 0 and _lists(place.sentence):
        return 0.0  # named in setting a drill or in counting off: listed, not linked
    score += WORDED if direction > 0 else AGAINST if direction < 0 else 0.0
    faults = vocabulary.faults
    if cause in faults and effect in faults:
        if effect in faults[cause].leads_to:
            score += USUAL
        elif cause in faults[effect].leads_to:
            score += TURNED_ROUND
    score += LEARNED * (_given(place, cause, "cause") + _given(place, effect, "effect"))
    score -= LEARNED * (
        max((s.cause for s in place.here.get(effect, ())), default=0.0)
        + max((s.effect for s in place.here.get(cause, ())), default=0.0)
    )
    return score


def _given(place: _Place, code: str, role: str) -> float:
    """How surely a code is given as cause or effect here (or just before, where not here)."""
    seen = place.here.get(code) or place.before.get(code, ())
    return max((s.cause if role == "cause" else s.effect for s in seen), default=0.0)


def _direction(place: _Place, cause: str, effect: str) -> int:
    """1 where a linking word puts cause and effect this way round, -1 the other, else 0."""
    causes, effects = place.here.get(cause, ()), place.here.get(effect, ())
    if not causes or not effects:
        return max((_across(j, bool(effects), place) for j in place.joints), default=0)
    found = [
        _between(joint, a, b, place.sentence)
        for a, b in product(causes, effects)
        for joint in place.joints
    ]
    found += [_opened(a, b, place.sentence) for a, b in product(causes, effects)]
    return 1 if 1 in found else min(found, default=0)


def _across(joint: _Joint, effect_here: bool, place: _Place) -> int:
    """The direction of a link to the sentence before ("That's why the hips drop")."""
    return 1 if joint.cause_first == effect_here else -1


def _between(joint: _Joint, cause: Sighting, effect: Sighting, sentence: Sentence) -> int:
    if cause.first == effect.first:
        return 0
    ordered = cause.first < effect.first
    left, right = (cause, effect) if ordered else (effect, cause)
    if not joint.cause_first and joint.first <= sentence.span.start + 2:
        return 1 if ordered else -1  # "because the chin's up, the hips drop"
    if not (left.first < joint.first and right.last > joint.last):
        return 0
    return 1 if ordered == joint.cause_first else -1


def _opened(cause: Sighting, effect: Sighting, sentence: Sentence) -> int:
    """The direction where a sentence opens with its cause ("With the chin up, ...")."""
    opening = [token.lower_ for token in sentence.span[:3]]
    if not OPENERS & set(opening) or cause.first == effect.first:
        return 0
    return 1 if cause.first < effect.first else -1


def _lists(sentence: Sentence) -> bool:
    """Whether a sentence sets repetitions, or counts off what to work on."""
    set_out = any(token.lower_ in cues.SET_DISTANCES for token in sentence.span)
    return set_out or _rank(sentence) is not None


def _joints(sentence: Sentence) -> list[_Joint]:
    """The linking words of a sentence; of those that overlap, the longest."""
    found = [
        _Joint(name == "cause_first", first, last)
        for name, first, last in _joint_groups().find(sentence.span)
    ]
    return [
        joint
        for joint in found
        if not any(
            other.first <= joint.first
            and joint.last <= other.last
            and other.last - other.first > joint.last - joint.first
            for other in found
        )
    ]


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
