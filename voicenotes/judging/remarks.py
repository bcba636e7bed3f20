"""What a plan must say in words: what was assumed, does not fit, or cannot be done here."""

from collections.abc import Sequence

from voicenotes.judging.corrections import can_do
from voicenotes.judging.doses import easy_pace, slowness, swim_s, whole_lengths
from voicenotes.judging.kit import Kit
from voicenotes.review import Session
from voicenotes.words import listing, number, swim_time


def remarks_on(sessions: Sequence[Session], kit: Kit) -> tuple[str, ...]:
    """The remarks, those on the whole plan first."""
    return (
        *_pace(kit),
        *_too_long(sessions, kit),
        *_part_lengths(kit),
        *_missing_equipment(kit),
        *_short_intervals(kit),
        *_unknown(kit),
        *_without_drill(kit),
    )


def _pace(kit: Kit) -> list[str]:
    if kit.brief.pace_s is not None:
        return []
    pace = swim_time(easy_pace(kit.brief))
    return [
        f"No easy pace was given, so times are counted with {pace} per 100 m, which is common"
        f" for the level ({kit.brief.level})."
    ]


def _too_long(sessions: Sequence[Session], kit: Kit) -> list[str]:
    found = []
    for session in sessions:
        if session.fits:
            continue
        over = session.minutes - kit.brief.minutes
        own = sum(swim.seconds for swim in session.swims if not swim.added) / 60
        found.append(
            f"Session {session.number} takes {number(round(session.minutes, 1))} minutes,"
            f" {number(max(0.1, round(over, 1)))} more than the {kit.brief.minutes} given; the"
            f" coach's own sets take {number(round(own, 1))}. Give it more minutes, plan more"
            " sessions, or leave a set out."
        )
    return found


def _part_lengths(kit: Kit) -> list[str]:
    pool = kit.brief.pool_m
    odd = [
        f"{own.swim.name} ({number(own.swim.distance_m or 0)} m)"
        for own in kit.own
        if own.swim.distance_m and not whole_lengths(own.swim.distance_m, pool)
    ]
    if not odd:
        return []
    return [
        f"Not a whole number of {number(pool)} m lengths, kept as said:"
        f" {listing(dict.fromkeys(odd))}."
    ]


def _missing_equipment(kit: Kit) -> list[str]:
    at_hand = set(kit.brief.equipment)
    found = []
    for own in kit.own:
        missing = [code for code in own.swim.equipment if code not in at_hand]
        names = [a.name if (a := kit.vocabulary.aids.get(c)) else c for c in missing]
        if names:
            found.append(f"{own.swim.name} ({listing(names)})")
    if not found:
        return []
    needed = listing(dict.fromkeys(found))
    if not at_hand:
        return [f"No equipment was listed as at hand; the coach's own sets need some: {needed}."]
    return [f"Needs equipment that is not at hand, kept as said: {needed}."]


def _short_intervals(kit: Kit) -> list[str]:
    found = []
    for own in kit.own:
        swim, drill = own.swim, kit.vocabulary.drills.get(own.said.code)
        each = swim_s(swim.distance_m or 0, kit.brief, slowness(drill))
        if swim.interval_s is not None and swim.interval_s < each:
            found.append(
                f"{swim.name}: {number(swim.distance_m or 0)} m take about {swim_time(round(each))}"
                f" here, longer than the {swim_time(swim.interval_s)} from start to start."
            )
    return found


def _unknown(kit: Kit) -> list[str]:
    names = [own.said.name for own in kit.own if own.said.code not in kit.vocabulary.drills]
    if not names:
        return []
    return [f"Not in the vocabulary, kept as said: {listing(dict.fromkeys(names))}."]


def _without_drill(kit: Kit) -> list[str]:
    """Faults to work on now that neither the coach nor the vocabulary has a drill for here."""
    if not kit.now:
        return ["No fault was noted, so no drills were added."]
    without = [
        correction.name
        for correction in kit.now
        if correction.code in kit.neglected()
        and not any(can_do(code, kit.vocabulary, kit.brief) for code in correction.drills)
    ]
    if not without:
        return []
    return [f"No drill can be done with the equipment at hand for: {listing(without)}."]
