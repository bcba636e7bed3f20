"""What the pages show: a review's entries by name, in reading order, without wording or markup."""

from dataclasses import dataclass
from typing import Literal

from voicenotes.notes import Interval, Mention, SetAside, Side
from voicenotes.review import Swim
from voicenotes.vocabulary.model import Stage


@dataclass(frozen=True)
class Spot:
    """Where something was said or seen: its moments in seconds, and a few of the words.

    The moments are the clip's where those are known (``in_clip``), the narration's otherwise.
    """

    moments: tuple[float, ...]
    quotes: tuple[str, ...]
    in_clip: bool = False


@dataclass(frozen=True)
class Measured:
    """A figure beside what it is held against.

    ``meaning`` says how the measure is taken, where it is told for the first time. ``above`` and
    ``below`` are how far a straddling figure reaches out of its range.
    """

    measure: str
    name: str
    meaning: str | None
    side: Side | None
    unit: str
    observed: Interval | None
    aim: Interval | None
    spoken: bool
    condition: str | None
    source: str | None
    outcome: str | None
    margin: float
    above: float
    below: float
    converted: str | None
    spot: Spot


@dataclass(frozen=True)
class Dose:
    """How much of a drill; what is not known is None. Equipment by name."""

    reps: int | None
    distance_m: float | None
    duration_s: int | None
    rest_s: int | None
    interval_s: int | None
    equipment: tuple[str, ...]


@dataclass(frozen=True)
class DrillLine:
    """A drill for a correction; ``how`` only where it is told for the first time."""

    name: str
    how: str | None
    doses: tuple[Dose, ...]
    prescribed: bool


@dataclass(frozen=True)
class Praise:
    """A part that is good."""

    name: str
    side: Side | None
    spot: Spot


@dataclass(frozen=True)
class Fix:
    """A correction as it is told."""

    rank: int
    name: str
    side: Side | None
    spot: Spot
    figures: tuple[Measured, ...]
    leads_to: tuple[str, ...]
    why: str
    cue: str
    drills: tuple[DrillLine, ...]
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class SwimLine:
    """One line of a session; ``focus`` is the cue to think of, ``note`` what else to know."""

    swim: Swim
    dose: Dose
    focus: str | None
    note: str | None


@dataclass(frozen=True)
class Part:
    """The lines of one part of a session."""

    part: str
    lines: tuple[SwimLine, ...]


@dataclass(frozen=True)
class Visit:
    """One session."""

    number: int
    stage: Stage
    metres: float
    minutes: float
    fits: bool
    parts: tuple[Part, ...]


@dataclass(frozen=True)
class Aside:
    """Something that was not counted, by name."""

    entry: SetAside
    name: str


@dataclass(frozen=True)
class Cautioned:
    """A word of caution and its source."""

    text: str
    source: str


@dataclass(frozen=True)
class Asked:
    """A question to the coach and the moment it is about."""

    text: str
    mention: Mention | None


@dataclass(frozen=True)
class View:
    """Everything that the pages show."""

    swimmer: str | None
    stroke: str
    minutes_given: int
    timed: bool
    clock: Literal["narration", "clip", "both"]
    """Whose moments the entries show."""
    praise: tuple[Praise, ...]
    now: tuple[Fix, ...]
    later: tuple[Fix, ...]
    other_figures: tuple[Measured, ...]
    visits: tuple[Visit, ...]
    cautions: tuple[Cautioned, ...]
    questions: tuple[Asked, ...]
    aside: tuple[Aside, ...]
    figures: tuple[Measured, ...]
    added: bool
