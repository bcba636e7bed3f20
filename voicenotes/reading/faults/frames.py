"""The frames reader: faults and strengths from parts, motions, places and qualities.

A frame of the vocabulary matches where all its slots are filled within one clause (or one
sentence, where the frame says so), in the mode that the frame asks for. The part may be carried
over from before when the clause names none ("and then it drifts up").
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from voicenotes.notes import Kind, Status
from voicenotes.reading.clauses import Clause
from voicenotes.reading.context import Context
from voicenotes.reading.faults.concepts import Concepts, Hit
from voicenotes.reading.faults.sightings import Sighting
from voicenotes.reading.faults.strokes import stroke_spoken_of
from voicenotes.reading.text import Narration, Sentence
from voicenotes.vocabulary.model import STROKES, Frame, Stroke, Vocabulary

CERTAINTY = {1: 0.5, 2: 0.7, 3: 0.85}
"""How far a frame is trusted by its number of filled slots: each further slot rules out other
readings (a judgement, not a measured probability)."""

CARRIES_OVER = frozenset("it they that this them those these which he she".split())
"""Words that stand for a part named before."""


@dataclass(frozen=True)
class _Entry:
    """One frame and what it stands for."""

    kind: Kind
    code: str
    frame: Frame
    strokes: tuple[Stroke, ...] = STROKES


@dataclass(frozen=True)
class _Match:
    """A frame that was filled, by which hits."""

    entry: _Entry
    hits: tuple[Hit, ...]

    @property
    def first(self) -> int:
        return min(hit.first for hit in self.hits)

    @property
    def last(self) -> int:
        return max(hit.last for hit in self.hits)


class FramesReader:
    """Reads faults and strengths by the vocabulary's frames."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self._concepts = Concepts(vocabulary.lexicon)
        self._entries = [
            *(
                _Entry("fault", fault.code, frame, fault.strokes)
                for fault in vocabulary.faults.values()
                for frame in fault.frames
            ),
            *(
                _Entry("strength", strength.code, frame)
                for strength in vocabulary.strengths.values()
                for frame in strength.frames
            ),
        ]

    def read(self, narration: Narration, context: Context) -> list[Sighting]:
        """All sightings, in the order they were said; one for each code and sentence."""
        hits = self._concepts.find(narration.doc)
        stroke = stroke_spoken_of(narration.doc.text)
        entries = [entry for entry in self._entries if stroke in entry.strokes]
        sightings: list[Sighting] = []
        carried: list[Hit] = []
        for sentence in narration.sentences:
            inside = [h for h in hits if sentence.span.start <= h.first < sentence.span.end]
            best: dict[tuple[str, str, Status], Sighting] = {}
            for clause in context.clauses(sentence.index):
                for match in _matches(clause, entries, inside, carried, narration):
                    sighting = _sighting(match, clause, sentence, context)
                    if sighting is not None:
                        key = (sighting.kind, sighting.code, sighting.status)
                        if key not in best or best[key].certainty < sighting.certainty:
                            best[key] = sighting
                parts = [h for h in inside if h.slot == "part" and h.first in clause]
                carried = parts or carried
            sightings += best.values()
        return sightings


def _matches(
    clause: Clause,
    entries: list[_Entry],
    inside: list[Hit],
    carried: list[Hit],
    narration: Narration,
) -> Iterator[_Match]:
    """Every frame that is filled in a clause."""
    here = [hit for hit in inside if hit.first in clause]
    if not here:
        return
    words = narration.doc[clause.first : clause.last]
    stands_for = any(token.lower_ in CARRIES_OVER for token in words)
    goes_on = not any(hit.slot == "part" for hit in here)
    borrowed = [h for h in carried if stands_for or (goes_on and h.first >= inside[0].first)]
    for entry in entries:
        pool = here if entry.frame.reach == "clause" else inside
        found = _fill(entry.frame, pool, borrowed)
        if found and any(hit.first in clause for hit in found):
            yield _Match(entry, tuple(hit for hit in found if hit in inside) or found)


def _fill(frame: Frame, pool: list[Hit], carried: list[Hit]) -> tuple[Hit, ...]:
    """The hits that fill a frame, closest together; empty where a slot stays open."""
    if any(f"{hit.concept}" in frame.without for hit in pool):
        return ()
    choices: list[list[Hit]] = []
    for slot in ("part", "motion", "place", "quality", "phase"):
        wanted: tuple[str, ...] = getattr(frame, slot)
        if not wanted:
            continue
        fitting = [hit for hit in pool if hit.slot == slot and hit.concept in wanted]
        if not fitting and slot == "part":
            fitting = [hit for hit in carried if hit.concept in wanted][-1:]
        if not fitting:
            return ()
        choices.append(fitting)
    fillings = [hits for hits in product(*choices) if _apart(hits)]
    return min(fillings, key=lambda hits: _spread(hits, pool), default=())


def _apart(hits: tuple[Hit, ...]) -> bool:
    """Whether every slot is filled by words of its own: one word says one thing."""
    words = [token for hit in hits for token in range(hit.first, hit.last)]
    return len(words) == len(set(words))


def _spread(hits: tuple[Hit, ...], pool: list[Hit]) -> tuple[int, int]:
    """How far apart hits lie; parts that stand between them count against them."""
    first, last = min(h.first for h in hits), max(h.last for h in hits)
    between = sum(h.slot == "part" and first < h.first < last and h not in hits for h in pool)
    return between, last - first


def _sighting(
    match: _Match,
    clause: Clause,
    sentence: Sentence,
    context: Context,
) -> Sighting | None:
    """A match with its status; None where the frame's mode does not fit the clause."""
    entry = match.entry
    status = _status(entry, match, clause, context)
    if status is None:
        return None
    return Sighting(
        kind=entry.kind,
        code=entry.code,
        sentence=sentence.index,
        first=match.first,
        last=match.last,
        status=status,
        certainty=CERTAINTY[min(3, len(entry.frame.slots))],
        seen_by="frames",
    )


def _status(entry: _Entry, match: _Match, clause: Clause, context: Context) -> Status | None:
    """What the clause makes of a filled frame.

    A frame that is stated holds unless denied; one that is missing needs the denial, one that is
    wanted the wish. Asking that a fault should stop, or not be, says that it is there; any other
    wish ("I want that hand wide") names what should be, not what is.
    """
    setting = context.setting(match.first if match.first in clause else clause.first)
    own = {token for hit in match.hits for token in range(hit.first, hit.last)}
    denied = any(t < match.last and t not in own for t in context.negations(clause))
    wished = context.wishes(clause)
    mode = entry.frame.mode
    if mode == "missing":
        return setting if denied and not wished else None
    if mode == "wanted":
        return setting if wished and not denied else None
    if setting != "true":
        return setting
    if wished and (entry.kind == "strength" or not (denied or context.stops(clause))):
        return None
    return "denied" if denied and not wished else "true"
