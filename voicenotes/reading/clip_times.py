"""Which moment of the clip each note is about: as the coach says, or as the clock tells."""

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import TypeVar

from spacy.tokens import Span

from voicenotes.clock import Clock
from voicenotes.notes import (
    Cause,
    DrillSet,
    Figure,
    Finding,
    Mention,
    Notes,
    Priority,
    SetAside,
)
from voicenotes.reading.faults.sightings import Sighting
from voicenotes.reading.moments import LIST_GAP, Moment
from voicenotes.reading.text import Narration

Many = TypeVar("Many", Finding, Figure, DrillSet)
Single = TypeVar("Single", Cause, Priority, SetAside)

CARRY_S = 10.0
"""Seconds of narration for which a moment still holds once its sentence has ended."""
GOES_ON = frozenset("it that this there same again they these those".split())
"""Words that open a sentence about the same picture: "It's about 150"."""
MOVES_ON = frozenset("next overall generally elsewhere otherwise later finally".split())


def with_clip_times(
    notes: Notes,
    narration: Narration,
    moments: Sequence[Moment],
    sightings: Iterable[Sighting],
    clock: Clock,
) -> Notes:
    """The notes with the clip's seconds in their mentions, where known.

    A moment that the coach names is that of its sentence, or of the words beside it where a
    sentence names several; it holds on where its own sentence says nothing else, or the next one
    goes on about it. For the rest the clock tells, and for all where both clocks agree.
    ``sightings`` say where in its sentence a fault or strength stands.
    """
    placing = _Placing(narration, moments, notes, sightings, clock)
    return notes.model_copy(
        update={
            "findings": tuple(placing.mentions_of(f, f.code) for f in notes.findings),
            "figures": tuple(map(placing.mentions_of, notes.figures)),
            "drills": tuple(map(placing.mentions_of, notes.drills)),
            "causes": tuple(map(placing.mention_of, notes.causes)),
            "priorities": tuple(map(placing.mention_of, notes.priorities)),
            "set_aside": tuple(map(placing.mention_of, notes.set_aside)),
        }
    )


class _Placing:
    """Puts the clip's seconds into mentions."""

    def __init__(
        self,
        narration: Narration,
        moments: Sequence[Moment],
        notes: Notes,
        sightings: Iterable[Sighting],
        clock: Clock,
    ) -> None:
        self._starts = [sentence.start for sentence in narration.sentences]
        self._clock = clock
        self._tokens: dict[tuple[str, int], list[int]] = defaultdict(list)
        firsts: dict[int, int] = {}
        for sighting in sightings:
            at, middle = sighting.sentence, (sighting.first + sighting.last) // 2
            self._tokens[sighting.code, at].append(middle)
            firsts[at] = min(middle, firsts.get(at, middle))
        told = [m for finding in notes.findings for m in finding.mentions]
        told += [m for figure in notes.figures for m in figure.mentions]
        told += [entry.mention for entry in notes.set_aside]
        # Talk over the recording itself: a moment named is one of the swimmer's own file on the
        # coach's screen, which the recording is not.
        known = [] if clock.agrees else moments
        inside = [m for m in known if clock.inside(m.clip_s) is not None]
        self._spoken = SpokenOf(narration, inside, {self._sentence(m) for m in told}, firsts)

    def mentions_of(self, entry: Many, code: str = "") -> Many:
        """An entry with the clip's seconds in its mentions; ``code`` where sightings tell of it."""
        placed = tuple(self.one(mention, code) for mention in entry.mentions)
        return entry.model_copy(update={"mentions": placed})

    def mention_of(self, entry: Single) -> Single:
        """The same for an entry that was said once."""
        return entry.model_copy(update={"mention": self.one(entry.mention)})

    def one(self, mention: Mention, code: str = "") -> Mention:
        """A mention with the clip's seconds."""
        sentence = self._sentence(mention)
        places: Sequence[int | None] = self._tokens.get((code, sentence)) or [None]
        spoken = [s for place in places for s in self._spoken.of(sentence, place)]
        if not spoken:
            told = self._clock.at(mention.start)
            spoken = [told] if told is not None else []
        return mention.model_copy(update={"clip_s": tuple(dict.fromkeys(spoken))})

    def _sentence(self, mention: Mention) -> int:
        return max(0, bisect_right(self._starts, mention.start) - 1)


class SpokenOf:
    """The clip's moments of what is said where."""

    def __init__(
        self,
        narration: Narration,
        moments: Sequence[Moment],
        told: Collection[int],
        firsts: Mapping[int, int],
    ) -> None:
        """``told`` are the sentences in which something was said of the swimmer; ``firsts`` the
        tokens at which the first fault or strength of a sentence stands."""
        self._narration, self._told, self._firsts = narration, told, firsts
        self._by_sentence: dict[int, list[Moment]] = defaultdict(list)
        starts = [sentence.span.start for sentence in narration.sentences]
        for moment in moments:
            self._by_sentence[max(0, bisect_right(starts, moment.first) - 1)].append(moment)

    def of(self, sentence: int, token: int | None = None) -> tuple[float, ...]:
        """Seconds of the clip named for a sentence, or for its words at a token; () for none."""
        own = self._by_sentence.get(sentence)
        if own:
            return _seconds(self._group(sentence, list(_groups(own)), token))
        carried = self._carried(sentence)
        return (
            _seconds(list(_groups(self._by_sentence[carried]))[-1]) if carried is not None else ()
        )

    def _group(self, sentence: int, groups: list[list[Moment]], token: int | None) -> list[Moment]:
        """Of several lists of moments in a sentence, the one that a token belongs to.

        Where a moment comes before all that is said, each is said of what follows it ("at 0:14
        the elbow drops, and at 0:22 ..."); else of what goes before.
        """
        if token is None or len(groups) == 1:
            return [moment for group in groups for moment in group]
        if groups[0][0].first < self._firsts[sentence]:
            return [g for g in groups if g[0].first <= token or g is groups[0]][-1]
        return next((g for g in groups if g[-1].last > token), groups[-1])

    def _carried(self, sentence: int) -> int | None:
        """The sentence before whose moment still holds in this one."""
        sentences = self._narration.sentences
        goes_on = _opens_with(sentences[sentence].span, GOES_ON)
        for before in range(sentence - 1, -1, -1):
            moved = _opens_with(sentences[before + 1].span, MOVES_ON)
            late = sentences[sentence].start - sentences[before].end > CARRY_S
            if moved or late or (before in self._told and not goes_on):
                return None
            if before in self._by_sentence:
                return before
        return None


def _opens_with(span: Span, words: frozenset[str]) -> bool:
    return any(token.lower_ in words for token in span[:3])


def _groups(moments: Sequence[Moment]) -> Iterator[list[Moment]]:
    """Moments of one sentence, those of one list together."""
    group: list[Moment] = []
    for moment in moments:
        if group and moment.first - group[-1].last > LIST_GAP:
            yield group
            group = []
        group.append(moment)
    yield group


def _seconds(moments: Sequence[Moment]) -> tuple[float, ...]:
    return tuple(dict.fromkeys(moment.clip_s for moment in moments))
