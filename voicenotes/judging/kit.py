"""What sessions are made from, and what the sessions before have held."""

from dataclasses import dataclass

from voicenotes.judging.doses import prescribed_drill
from voicenotes.notes import DrillSet
from voicenotes.review import Brief, Correction, Swim
from voicenotes.vocabulary.model import STAGES, Vocabulary

PART_STROKE = STAGES.index("part_stroke")
AT_PACE = STAGES.index("at_pace")


@dataclass(frozen=True)
class Own:
    """One of the coach's sets as a line of a session. ``aims`` are the faults to work on now
    that it is for; ``stage`` is a number, from dry land upwards."""

    said: DrillSet
    swim: Swim
    aims: frozenset[str]
    stage: int


@dataclass(frozen=True)
class Kit:
    """What every session is made from. ``now`` are the corrections to work on now."""

    brief: Brief
    vocabulary: Vocabulary
    now: tuple[Correction, ...]
    own: tuple[Own, ...] = ()

    def stage(self, drill: str | None) -> int:
        """The stage of a drill as a number; drills it lacks count as part of the stroke."""
        known = self.vocabulary.drills.get(drill or "")
        return STAGES.index(known.stage) if known else PART_STROKE

    def standing(self, part: str) -> list[Own]:
        """The coach's sets for a part that every session has: a warm-up, a cool-down."""
        return [own for own in self.own if own.swim.part == part]

    def neglected(self) -> list[str]:
        """Faults to work on now that no set of the coach's is for, by rank."""
        aimed = {aim for own in self.own for aim in own.aims}
        return [c.code for c in self.now if c.code not in aimed]


def own_set(said: DrillSet, kit: Kit) -> Own:
    """The coach's set as a line. What it is for is as said, else as common for the drill."""
    drill = kit.vocabulary.drills.get(said.code)
    named = said.trains or (drill.trains if drill else ())
    aims = [correction.code for correction in kit.now if correction.code in named]
    focus = next(iter([*aims, *said.trains]), None)
    line = prescribed_drill(said, kit.vocabulary, kit.brief, focus)
    return Own(said, line.swim(said), frozenset(aims), kit.stage(line.drill))


@dataclass(frozen=True)
class Past:
    """The sessions before: the coach's sets that have come in, and every line by session.

    ``stage`` is the latest stage reached, as a number.
    """

    own: tuple[Own, ...] = ()
    sessions: tuple[tuple[Swim, ...], ...] = ()
    stage: int = 1

    def last(self, drill: str | None, name: str) -> int:
        """The number of the latest session with a drill; 0 for none."""
        return max(
            (
                number
                for number, swims in enumerate(self.sessions, start=1)
                if any((swim.drill, swim.name) == (drill, name) for swim in swims)
            ),
            default=0,
        )

    def times(self, focus: str) -> int:
        """How many drill lines so far were for a fault."""
        lines = [swim for swims in self.sessions for swim in swims if swim.part == "drills"]
        return sum(swim.focus == focus for swim in lines)


@dataclass(frozen=True)
class Window:
    """The stages from which a session's new drills may come, as numbers, both included."""

    low: int
    high: int
