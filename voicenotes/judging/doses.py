"""Sets as lines of a session: whole lengths, metres and seconds."""

import re
from dataclasses import dataclass
from typing import Literal

from voicenotes.notes import DrillSet
from voicenotes.review import Brief, Swim
from voicenotes.vocabulary.model import Dose, Drill, Level, Vocabulary
from voicenotes.words import number

Part = Literal["warm_up", "drills", "carry_over", "cool_down", "dry_land"]

ASSUMED_PACE_S: dict[Level, float] = {"learner": 165, "club": 120, "competitive": 90}
"""Easy pace per 100 m where none was given (common practice)."""

UNKNOWN_DRILL = Dose(reps=4, distance_m=50, rest_s=20)
"""What was not said of a drill that the vocabulary lacks (common practice)."""

SLOWER_BY_UNKNOWN = 1.3
"""Time of a length of such a drill, as a multiple of easy swimming (common practice)."""

UNTIMED_REP_S = 5
"""Seconds for one go of a thing without distance or time: a pull on a band, a breath out at the
wall (common practice)."""

WHOLE_WITHIN = 0.02
"""Share of a length that still counts as none: 100 m are three lengths of "33.3 m"."""

EASY_SWIM = "easy_swim"
"""The drill code of plain easy swimming."""

WARM_UP = re.compile(r"(?<!after )(?<!after the )(?<!after your )\bwarm(?:ing)?[- ]?up", re.I)


def easy_pace(brief: Brief) -> float:
    """Seconds per 100 m of easy swimming: as given, else as assumed for the level."""
    return brief.pace_s if brief.pace_s is not None else ASSUMED_PACE_S[brief.level]


def lengths(metres: float, pool_m: float) -> int:
    """The number of whole lengths nearest to a distance, at least one."""
    return max(1, round(metres / pool_m))


def whole_lengths(metres: float, pool_m: float) -> bool:
    """Whether a distance is a whole number of lengths, give or take a rounded pool length."""
    count = metres / pool_m
    return abs(count - round(count)) <= WHOLE_WITHIN


@dataclass(frozen=True)
class Line:
    """What one line of a session is made from. Distances in metres, times in seconds.

    ``each_s`` is the time of one repetition without its rest.
    """

    part: Part
    name: str
    reps: int
    each_s: float
    distance_m: float | None = None
    duration_s: int | None = None
    rest_s: int = 0
    interval_s: int | None = None
    drill: str | None = None
    equipment: tuple[str, ...] = ()
    focus: str | None = None
    notes: tuple[str, ...] = ()

    @property
    def every_s(self) -> float:
        """From the start of one repetition to the start of the next: rest follows each."""
        if self.interval_s is not None:
            return max(self.each_s, self.interval_s)
        return self.each_s + self.rest_s

    def swim(self, prescribed: DrillSet | None = None) -> Swim:
        """The line with its metres and seconds; added unless the coach prescribed it."""
        return Swim(
            part=self.part,
            drill=self.drill,
            name=self.name,
            reps=self.reps,
            distance_m=self.distance_m,
            duration_s=self.duration_s,
            rest_s=self.rest_s,
            interval_s=self.interval_s,
            equipment=self.equipment,
            focus=self.focus,
            note=" ".join(self.notes) or None,
            added=prescribed is None,
            metres=round(self.reps * (self.distance_m or 0), 2),
            seconds=round(self.reps * self.every_s, 1),
            mentions=prescribed.mentions if prescribed else (),
        )


def slowness(drill: Drill | None) -> float:
    """Time of a length of a drill, known or not, as a multiple of easy swimming."""
    return drill.slower_by if drill else SLOWER_BY_UNKNOWN


def swim_s(metres: float, brief: Brief, slower_by: float = 1) -> float:
    """Seconds to swim a distance, at easy pace times a factor."""
    return metres / 100 * easy_pace(brief) * slower_by


def easy(part: Part, metres: float, brief: Brief, reps: int = 1, rest_s: int = 0) -> Line:
    """Plain swimming at easy pace; ``metres`` for each repetition."""
    return Line(part, "easy swim", reps, swim_s(metres, brief), distance_m=metres, rest_s=rest_s)


def added_drill(drill: Drill, focus: str | None, reps: int, brief: Brief) -> Line:
    """A drill from the vocabulary in its usual dose, in whole lengths."""
    dose, pool = drill.dose, brief.pool_m
    metres = lengths(dose.distance_m, pool) * pool if dose.distance_m else None
    short = bool(dose.distance_m and dose.distance_m < pool and metres)
    return Line(
        part="dry_land" if drill.stage == "dry_land" else "drills",
        name=drill.name,
        reps=reps,
        each_s=_each_s(metres, dose.duration_s, drill.slower_by, brief),
        distance_m=metres,
        duration_s=dose.duration_s,
        rest_s=dose.rest_s,
        drill=drill.code,
        equipment=drill.equipment,
        focus=focus,
        notes=(f"{number(dose.distance_m or 0)} m of it, then easy to the wall.",) if short else (),
    )


def prescribed_drill(
    said: DrillSet, vocabulary: Vocabulary, brief: Brief, focus: str | None
) -> Line:
    """The coach's own set, as said; what was not said is filled in and noted."""
    drill = vocabulary.drills.get(said.code)
    dose = drill.dose if drill else UNKNOWN_DRILL
    amount = _amount(said, dose, brief.pool_m)
    each_s = _each_s(amount.distance_m, amount.duration_s, slowness(drill), brief)
    rest_s, rest_note = _rest(said, dose, amount.reps, each_s)
    return Line(
        part=_part(said, drill),
        name=drill.name if drill else said.name,
        reps=amount.reps,
        each_s=each_s,
        distance_m=amount.distance_m,
        duration_s=amount.duration_s,
        rest_s=rest_s,
        interval_s=said.interval_s,
        drill=drill.code if drill else None,
        equipment=tuple(dict.fromkeys([*said.equipment, *(drill.equipment if drill else ())])),
        focus=focus,
        notes=(*amount.notes, *rest_note),
    )


@dataclass(frozen=True)
class _Amount:
    reps: int
    distance_m: float | None = None
    duration_s: int | None = None
    notes: tuple[str, ...] = ()


def _amount(said: DrillSet, dose: Dose, pool_m: float) -> _Amount:
    """Repetitions of a distance or a time: as said, else as usual for the drill.

    A bare distance longer than the drill's usual one is swum once ("two hundred easy"); a
    number without a distance counts lengths ("six lengths").
    """
    if said.distance_m or said.duration_s:
        usual = dose.distance_m if said.distance_m else dose.duration_s
        once = (said.distance_m or said.duration_s or 0) > (usual or 0)
        reps = said.reps or (1 if once else dose.reps)
        notes = () if said.reps or reps == 1 else (f"How many was not said: {reps} added.",)
        return _Amount(reps, said.distance_m or None, said.duration_s, notes)
    reps = said.reps or dose.reps
    count = 1 if said.reps else lengths(dose.distance_m or 0, pool_m)
    metres = count * pool_m if dose.distance_m else None
    each = f"{number(metres)} m" if metres else f"{dose.duration_s} s" if dose.duration_s else ""
    if not said.reps:
        notes = (f"Amount not said: {reps}{f' × {each}' if each else ''} added.",)
    else:
        notes = (f"Only the number was said: {each} each added.",) if each else ()
    return _Amount(reps, metres, dose.duration_s, notes)


def _rest(said: DrillSet, dose: Dose, reps: int, each_s: float) -> tuple[int, tuple[str, ...]]:
    """Seconds of rest after each repetition, and a note where they were not said."""
    if said.interval_s is not None:
        return max(0, int(said.interval_s - each_s)), ()
    if said.rest_s is not None:
        return said.rest_s, ()
    if reps == 1 or not dose.rest_s:
        return 0, ()
    return dose.rest_s, (f"Rest not said: {dose.rest_s} s added.",)


def _each_s(
    distance_m: float | None, duration_s: int | None, slower_by: float, brief: Brief
) -> float:
    """Seconds of one repetition without rest."""
    if duration_s:
        return duration_s
    return swim_s(distance_m, brief, slower_by) if distance_m else UNTIMED_REP_S


def _part(said: DrillSet, drill: Drill | None) -> Part:
    """Where in a session the coach's set belongs.

    Easy swimming without an aim cools down; with one, and at pace, it carries the focus over.
    """
    if drill and drill.stage == "dry_land":
        return "dry_land"
    if any(WARM_UP.search(mention.quote) for mention in said.mentions):
        return "warm_up"
    if drill and drill.code == EASY_SWIM:
        return "carry_over" if said.trains else "cool_down"
    return "carry_over" if drill and drill.stage == "at_pace" else "drills"
