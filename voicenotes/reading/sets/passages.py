"""Passages: which sentences make up one prescription, from the drill's name to its dose."""

from collections.abc import Callable
from dataclasses import dataclass, field

from voicenotes.reading.sets.cues import AID, DESCRIBED, NAMED, PLAIN, DrillCue
from voicenotes.reading.sets.segments import DOSES, Segment, differ

REACH = 2
"""Sentences over which rest, equipment and purpose still belong to the set before them."""
PATIENCE = 7
"""Sentences that a drill announced in a list may be explained for before its dose is named."""
ZONE = 4
"""Sentences around a whole set within which shorter doses ("ten of those") are prescriptions."""
BESIDE = 6
"""Tokens between a plain word ("easy") and the distance it belongs to."""


@dataclass
class Passage:
    """One prescription: the segments that say it, those that say more of it, what is swum."""

    segments: list[Segment]
    swum: DrillCue | None
    strong: bool
    after: list[Segment] = field(default_factory=list)
    same: bool = False
    """True where its amount is that of the set before."""

    @property
    def end(self) -> int:
        """The last sentence that it was said in."""
        return self.segments[-1].sentence

    @property
    def whole(self) -> bool:
        """Whether a whole set was said."""
        return any(segment.whole for segment in self.segments)

    @property
    def told(self) -> bool:
        """Whether it is prescribed in so many words: "I want you to do some catch-up"."""
        first = self.segments[0]
        named = self.swum is not None and self.swum.tier == NAMED
        return named and self.strong and first.tells and not first.dismisses


def passages_of(segments: list[Segment], not_given: Callable[[Segment], bool]) -> list[Passage]:
    """Prescriptions in the order they were said.

    ``not_given`` says whether a sentence speaks of others, of earlier, or in general.
    """
    sets = [s.sentence for s in segments if s.whole and not s.reports]
    done: list[Passage] = []
    told: list[Passage] = []
    waiting: Passage | None = None
    for segment in segments:
        zoned = any(abs(segment.sentence - sentence) <= ZONE for sentence in sets)
        if waiting and segment.sentence - waiting.end > (PATIENCE if waiting.strong else REACH):
            waiting = None
        dosed = _is_dosed(segment, waiting, zoned)
        if dosed and waiting and _completes(segment, waiting):
            waiting.segments.append(segment)
            done.append(waiting)
            waiting = None
        elif dosed and segment.swum:
            if not _goes_on(segment, done):
                done.append(Passage([segment], segment.swum, True))
            waiting = None
        elif dosed:
            _leftover(segment, done, zoned)
        elif segment.swum and segment.same and done and not segment.dismisses:
            done.append(Passage([segment], segment.swum, True, same=True))
            waiting = None
        elif segment.swum and not _says_more(segment, done) and not not_given(segment):
            waiting = _announced(segment, waiting)
            told += [waiting] if waiting and zoned and waiting.told else []
        elif segment.swum is None and done and not waiting:
            _add_after(segment, done)
    return _in_order(done, told)


def _in_order(done: list[Passage], told: list[Passage]) -> list[Passage]:
    """Prescriptions with a dose, and those told in so many words without one."""
    codes = {passage.swum.code for passage in done if passage.swum}
    for passage in told:
        if passage not in done and passage.swum and passage.swum.code not in codes:
            done.append(passage)
            codes.add(passage.swum.code)
    return sorted(done, key=lambda passage: passage.segments[0].first)


def _is_dosed(segment: Segment, waiting: Passage | None, zoned: bool) -> bool:
    """Whether a segment prescribes an amount; numbers of the swimmer's own do not."""
    if segment.supposes:
        return False
    if segment.whole:
        return not (segment.reports and not segment.asks)
    if not segment.loose or segment.reports:
        return False
    counted = any(said.kind in {"reps", "span"} for said in segment.said)
    cue = segment.swum
    if cue is None and waiting is None:
        return segment.calls and segment.asks
    if cue is None:
        leans = segment.refers_back or segment.terse
        return counted and leans and (zoned or (waiting is not None and waiting.strong))
    if cue.tier == PLAIN and not _beside(segment):
        return False
    if cue.tier == DESCRIBED and not counted:
        return segment.asks or (zoned and segment.terse)
    return segment.asks or segment.terse or (zoned and (cue.tier != DESCRIBED or cue.weight >= 3))


def _beside(segment: Segment) -> bool:
    """Whether a plain word such as "easy" stands beside the amount."""
    plain = [cue for cue in segment.cues if cue.tier == PLAIN]
    doses = [said for said in segment.said if said.kind in DOSES]
    return any(
        max(cue.first - said.last, said.first - cue.last) <= BESIDE
        for cue in plain
        for said in doses
    )


def _completes(segment: Segment, waiting: Passage) -> bool:
    """Whether a dose is that of the drill announced before it."""
    cue, drill = segment.swum, waiting.swum
    if drill is None or (cue is not None and cue.code == drill.code):
        return drill is not None
    if any(said.kind in {"reps", "set"} for part in waiting.segments for said in part.said):
        return False
    leans = segment.refers_back or (segment.starts_with_dose and not segment.opens)
    if cue is None:
        return waiting.strong or leans
    if cue.tier == PLAIN:
        return segment.refers_back and not segment.opens
    if segment.sentence - waiting.segments[-1].sentence <= 1 and leans and segment.starts_with_dose:
        return cue.tier < (NAMED if waiting.strong else DESCRIBED)
    return cue.tier < min(DESCRIBED, drill.tier) and segment.refers_back


def _goes_on(segment: Segment, done: list[Passage]) -> bool:
    """Whether a dose is that of the set just given, said again or filled in."""
    last = done[-1] if done else None
    if last is None or segment.opens or segment.sentence - last.end > 1 or last.whole:
        return False
    if last.swum is None or segment.swum is None or segment.swum.code != last.swum.code:
        return False
    last.segments.append(segment)
    return True


def _says_more(segment: Segment, done: list[Passage]) -> bool:
    """Whether a segment without a dose says more of a set that was given just before."""
    cue = segment.swum
    if cue is None or segment.opens:
        return False
    for passage in reversed(done):
        same = passage.swum is not None and passage.swum.code == cue.code
        if same and segment.sentence - passage.end <= ZONE:
            passage.after.append(segment)
            return True
    rests = any(said.kind == "rest" for said in segment.said)
    return (cue.tier == AID or rests) and bool(done) and _add_after(segment, done)


def _add_after(segment: Segment, done: list[Passage]) -> bool:
    """Adds what a sentence says to the set before it, or to both sets ("those two")."""
    rests = segment.swum is None and any(said.kind == "rest" for said in segment.said)
    if segment.sentence - done[-1].end > REACH or (segment.opens and not rests):
        return False
    for passage in done[-2:] if segment.of_both else done[-1:]:
        passage.after.append(segment)
    return True


def _announced(segment: Segment, waiting: Passage | None) -> Passage | None:
    if segment.swum and segment.swum.tier == AID and not segment.opens:
        return waiting  # equipment spoken of
    if waiting and waiting.strong and not segment.opens:
        waiting.after.append(segment)
        return waiting
    return Passage([segment], segment.swum, segment.asks and not segment.reports)


def _leftover(segment: Segment, done: list[Passage], zoned: bool) -> None:
    """A dose with no drill: more of the set just given, or a set of something unknown."""
    current = done[-1] if done else None
    if current and segment.sentence - current.end <= REACH and not segment.opens:
        given = [s for part in current.segments for s in part.said if s.kind == "set"]
        wanted = [s for s in segment.said if s.kind == "set"]
        if not wanted or any(not differ(a, b) for a in given for b in wanted):
            current.after.append(segment)
            return
    if segment.asks and (segment.calls or (segment.whole and (zoned or segment.tells))):
        done.append(Passage([segment], None, True))
