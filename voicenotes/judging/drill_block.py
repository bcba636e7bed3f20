"""The drill block of a session."""

import math
from dataclasses import dataclass

from voicenotes.judging.corrections import can_do
from voicenotes.judging.doses import EASY_SWIM, added_drill
from voicenotes.judging.kit import Kit, Own, Past, Window
from voicenotes.review import Correction, Swim
from voicenotes.vocabulary.model import Drill

MOST_LINES = 4
"""Lines of a drill block beyond which no drill is added: more are not kept in mind (common
practice)."""

FEWEST_REPS = 4
"""Fewer repetitions of an added drill than this are not worth the change (common practice)."""

_Block = tuple[Swim, ...]


@dataclass(frozen=True)
class Limits:
    """Seconds that a block may take with added drills, and with the coach's sets again."""

    added: float
    again: float


def drill_block(home: _Block, limits: Limits, kit: Kit, past: Past, window: Window) -> _Block:
    """The drills of a session, by stage: the coach's that come in now, then what time allows.

    For each fault to work on now, those that need it most first, one of the coach's earlier
    sets comes again, or a drill is added where there is none. A session without any drill gets
    one, room or not.
    """
    block = home
    while more := _next(block, limits, kit, past, window):
        block += (more,)
    for own in _earlier(past, block):
        if own.swim.seconds <= _left(block, limits.again):
            block += (again(own, past),)
    if not any(swim.part == "drills" for swim in block):
        block += _least(kit, past, window)
    return tuple(sorted(block, key=lambda swim: kit.stage(swim.drill)))


def again(own: Own, past: Past) -> Swim:
    """A set of the coach's in a later session, marked as a repeat."""
    session = past.last(own.swim.drill, own.swim.name)
    return own.swim.model_copy(update={"note": f"Again, as in session {session}."})


def _left(block: _Block, limit_s: float) -> float:
    return limit_s - sum(swim.seconds for swim in block)


def _earlier(past: Past, block: _Block) -> list[Own]:
    """The coach's sets of sessions before that are not in the block, those longest ago first."""
    there = {(swim.drill, swim.mentions) for swim in block}
    earlier = [
        own
        for own in past.own
        if own.swim.part in ("drills", "dry_land")
        and (own.swim.drill, own.swim.mentions) not in there
    ]
    return sorted(earlier, key=lambda own: past.last(own.swim.drill, own.swim.name))


def _next(block: _Block, limits: Limits, kit: Kit, past: Past, window: Window) -> Swim | None:
    """The next line that fits in the time left: of the coach's earlier sets, or added."""
    left = _left(block, limits.added)
    for correction in _by_need(block, kit, past):
        for own in _earlier(past, block):
            if correction.code in own.aims and own.swim.seconds <= _left(block, limits.again):
                return again(own, past)
        if len(block) >= MOST_LINES:
            continue
        for drill in _candidates(correction, block, kit, past, window):
            every_s = added_drill(drill, correction.code, 1, kit.brief).every_s
            reps = min(drill.dose.reps, math.floor(left / every_s))
            if reps >= min(FEWEST_REPS, drill.dose.reps):
                return added_drill(drill, correction.code, reps, kit.brief).swim()
    return None


def _by_need(block: _Block, kit: Kit, past: Past) -> list[Correction]:
    """The corrections by how much they still want a drill.

    Those without one in this block come first; then turns are taken over the sessions so that
    the first of the list has the most.
    """

    def need(item: tuple[int, Correction]) -> tuple[int, int, int]:
        place, correction = item
        here = sum(swim.focus == correction.code for swim in block)
        return here, (past.times(correction.code) + 1) * place, place

    return [correction for _, correction in sorted(enumerate(kit.now, start=1), key=need)]


def _candidates(
    correction: Correction, block: _Block, kit: Kit, past: Past, window: Window
) -> list[Drill]:
    """Drills that may be added for a fault: new ones of the window's stages, then known ones."""
    there = {swim.drill for swim in block} | {own.swim.drill for own in kit.own} | {EASY_SWIM}
    drills = [kit.vocabulary.drills[code] for code in correction.drills if code not in there]
    may = [
        drill
        for drill in drills
        if can_do(drill.code, kit.vocabulary, kit.brief)
        and (
            past.last(drill.code, drill.name) or window.low <= kit.stage(drill.code) <= window.high
        )
    ]
    return sorted(may, key=lambda drill: past.last(drill.code, drill.name))


def _least(kit: Kit, past: Past, window: Window) -> _Block:
    """What a session without drills gets though time is short: the shortest there is."""
    own = [again(own, past) for own in past.own if own.swim.part == "drills"]
    added = [
        added_drill(drill, correction.code, 1, kit.brief).swim()
        for correction in kit.now
        for drill in _candidates(correction, (), kit, past, window)
    ]
    return tuple(sorted(own or added, key=lambda swim: swim.seconds)[:1])
