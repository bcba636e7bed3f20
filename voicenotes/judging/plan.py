"""The drill plan: the sessions asked for, with every set that the coach prescribed."""

from collections.abc import Sequence
from dataclasses import replace

from voicenotes.judging.kit import AT_PACE, Kit, Own, Past, Window, own_set
from voicenotes.judging.remarks import remarks_on
from voicenotes.judging.sessions import build_session
from voicenotes.judging.spread import spread
from voicenotes.notes import Notes
from voicenotes.review import Brief, Correction, Plan, Session
from voicenotes.vocabulary.model import Vocabulary


def make_plan(
    notes: Notes, corrections: Sequence[Correction], vocabulary: Vocabulary, brief: Brief
) -> Plan:
    """A plan for the corrections to work on now.

    Every set of the coach's is in, as said; it comes in by the order of stages and is repeated
    in later sessions where time allows. Everything else is marked as added. A session that
    takes longer than the time given says so.
    """
    kit = Kit(brief, vocabulary, tuple(c for c in corrections if c.focus == "now"))
    kit = replace(kit, own=tuple(own_set(said, kit) for said in notes.drills))
    homes = _homes(kit)
    past, sessions = Past(), list[Session]()
    for index in range(brief.sessions):
        later = [own.stage for own, at in homes if at > index and own.stage > 0]
        reach = _reach(index, brief.sessions)
        window = Window(past.stage, min([max(reach, past.stage), *later]))
        home = [own for own, at in homes if at == index]
        at_pace = reach == AT_PACE and brief.sessions > 1
        session, past = build_session(index + 1, home, at_pace, kit, past, window)
        sessions.append(session)
    return Plan(sessions=tuple(sessions), remarks=remarks_on(sessions, kit))


def _reach(index: int, sessions: int) -> int:
    """The latest stage for new drills in a session: the stages are set evenly over all."""
    return -(-AT_PACE * (index + 1) // sessions)


def _homes(kit: Kit) -> list[tuple[Own, int]]:
    """The coach's sets with the session (from 0) that each comes in.

    Dry-land work comes in at once. Swimming at pace waits for the sessions that are for it,
    unless there are as many sets as sessions.
    """
    sessions = kit.brief.sessions
    dry = [(own, 0) for own in kit.own if own.swim.part == "dry_land"]
    in_turn = sorted(
        (own for own in kit.own if own.swim.part in ("drills", "carry_over")),
        key=lambda own: own.stage,
    )
    at = spread([own.swim.seconds for own in in_turn], sessions)
    if len(in_turn) < sessions:
        first_at_pace = next(i for i in range(sessions) if _reach(i, sessions) == AT_PACE)
        at = [
            max(index, first_at_pace) if own.stage == AT_PACE else index
            for own, index in zip(in_turn, at, strict=True)
        ]
    return dry + list(zip(in_turn, at, strict=True))
