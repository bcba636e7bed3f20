"""One session: its blocks within the time given."""

from collections.abc import Sequence

from voicenotes.judging.doses import Part
from voicenotes.judging.drill_block import Limits, again, drill_block
from voicenotes.judging.easy_swims import carry_over, easy_block
from voicenotes.judging.kit import AT_PACE, Kit, Own, Past, Window
from voicenotes.review import Session, Swim
from voicenotes.vocabulary.model import STAGES

SHARES: dict[Part, float] = {"warm_up": 0.18, "drills": 0.3, "carry_over": 0.37, "cool_down": 0.1}
"""Shares of a session's time (common practice for sessions on technique)."""

FILLED = 0.95
"""Share of the time that added swims may fill: the rest goes on the change from one set to the
next (common practice)."""

GIVEN_UP = 0.4
"""Share of the whole-stroke swims that gives way to the coach's earlier sets (common practice)."""

ORDER: tuple[Part, ...] = ("dry_land", "warm_up", "drills", "carry_over", "cool_down")


def build_session(
    number: int, home: Sequence[Own], at_pace: bool, kit: Kit, past: Past, window: Window
) -> tuple[Session, Past]:
    """A session with the coach's sets that come in now, and what is past after it.

    ``number`` counts from 1; ``at_pace`` makes its whole-stroke swims the last stage.
    """
    standing = [own for part in ("warm_up", "cool_down") for own in kit.standing(part)]
    own = {part: [o for o in (*home, *standing) if o.swim.part == part] for part in ORDER}
    rooms = _rooms(own, kit)
    warm_up = _swims(own["warm_up"]) or easy_block("warm_up", rooms["warm_up"], kit.brief)
    cool_down = _swims(own["cool_down"]) or easy_block("cool_down", rooms["cool_down"], kit.brief)
    at_work = tuple(_swims([*own["dry_land"], *own["drills"]]))
    room = _seconds(at_work) + rooms["drills"]
    limits = Limits(added=room, again=room + GIVEN_UP * rooms["carry_over"])
    drills = drill_block(at_work, limits, kit, past, window)
    left = FILLED * kit.brief.minutes * 60 - _seconds([*warm_up, *drills, *cool_down])
    carry = _carry_block(own["carry_over"], left, drills, at_pace, kit, past)
    swims = sorted([*warm_up, *drills, *carry, *cool_down], key=lambda s: ORDER.index(s.part))
    stage = _stage(drills, home, at_pace, kit, past)
    after = Past((*past.own, *home), (*past.sessions, tuple(swims)), stage)
    return _session(number, stage, swims, kit), after


def _rooms(own: dict[Part, list[Own]], kit: Kit) -> dict[Part, float]:
    """Seconds for added lines of each part: its share less the coach's own, and less again where
    the coach's sets leave too little time for all of them."""
    total = kit.brief.minutes * 60
    wanted = {
        part: max(0.0, share * total - _seconds(_swims(own[part])))
        for part, share in SHARES.items()
    }
    left = total - sum(_seconds(_swims(sets)) for sets in own.values())
    scale = min(1.0, max(0.0, left) / (sum(wanted.values()) or 1.0))
    return {part: room * scale for part, room in wanted.items()}


def _carry_block(
    home: Sequence[Own], room_s: float, drills: Sequence[Swim], at_pace: bool, kit: Kit, past: Past
) -> list[Swim]:
    """The coach's whole-stroke sets, again in later sessions where they fit, then added ones."""
    block = _swims(home)
    for own in past.own:
        if own.swim.part == "carry_over" and own.swim.seconds <= room_s - _seconds(block):
            block.append(again(own, past))
    left = room_s - _seconds(block)
    added = carry_over(left, _foci(drills, kit), at_pace, kit)
    return block + added if not block or _seconds(added) <= left else block


def _foci(drills: Sequence[Swim], kit: Kit) -> list[str]:
    """What to think of: what the drills were for by rank, then the rest of the faults."""
    drilled = {swim.focus for swim in drills}
    now = [correction.code for correction in kit.now]
    return sorted(now, key=lambda code: code not in drilled)


def _stage(drills: Sequence[Swim], home: Sequence[Own], at_pace: bool, kit: Kit, past: Past) -> int:
    """The latest stage reached: by this session's drills and sets, or by those before."""
    if at_pace:
        return AT_PACE
    reached = [kit.stage(swim.drill) for swim in drills if swim.part == "drills"]
    reached += [own.stage for own in home if own.swim.part in ("drills", "carry_over")]
    return max([past.stage, *reached])


def _session(number: int, stage: int, swims: Sequence[Swim], kit: Kit) -> Session:
    minutes = round(_seconds(swims) / 60, 2)
    return Session(
        number=number,
        stage=STAGES[stage],
        swims=tuple(swims),
        metres=round(sum(swim.metres for swim in swims), 2),
        minutes=minutes,
        fits=minutes <= kit.brief.minutes,
    )


def _swims(sets: Sequence[Own]) -> list[Swim]:
    return [own.swim for own in sets]


def _seconds(swims: Sequence[Swim]) -> float:
    return sum(swim.seconds for swim in swims)
