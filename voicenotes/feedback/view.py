"""What the pages show: a review's entries by name, in reading order, without wording or markup."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from voicenotes.notes import Interval, Mention, SetAside, Side
from voicenotes.review import Became, Swim
from voicenotes.vocabulary.model import Stage

Clocks = Literal["narration", "clip", "both"]


@dataclass(frozen=True)
class Moment:
    """A moment as it is told, in seconds, and where what the page plays stands then.

    ``plays`` is None where that is not known.
    """

    second: float
    plays: float | None


@dataclass(frozen=True)
class Spot:
    """Where something was said or seen: its moments, one for each that is told, and a few of the
    words.

    ``in_clip`` says whose the moments are: the clip's where any is known, else the narration's.
    ``spans`` are its stretches of what the page plays, start and end in seconds.
    """

    moments: tuple[Moment, ...]
    quotes: tuple[str, ...]
    spans: tuple[tuple[float, float], ...]
    in_clip: bool


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
class Bar:
    """A row of a drawing: what was seen of one side, from ``start`` to ``end``, and its range.

    Places are in the drawing's own units, measured from its left; ``top`` from its top. Words
    stand centred at ``label`` and ``band_label``.
    """

    figure: Measured
    top: float
    start: float
    end: float
    label: float
    band: tuple[float, float] | None
    band_of: Measured | None
    """Whose range is told below the row: one for all rows that share it."""
    band_label: float


@dataclass(frozen=True)
class Chart:
    """What was seen against what is aimed at; left and right where both were said."""

    height: float
    bars: tuple[Bar, ...]


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
    charts: tuple[Chart, ...]
    leads_to: tuple[str, ...]
    why: str
    cue: str
    drills: tuple[DrillLine, ...]
    terms: tuple[tuple[str, str], ...]
    """Words of the trade that it uses first, each with its meaning."""
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
class Change:
    """A measure then and now; ``meaning`` is told elsewhere."""

    measure: str
    name: str
    side: Side | None
    unit: str
    was: Interval
    now: Interval
    aim: Interval | None
    meaning: None = None


@dataclass(frozen=True)
class Sequel:
    """What became of a correction since it was last looked at."""

    name: str
    side: Side | None
    became: Became
    seen_on: date | None
    changes: tuple[Change, ...]


@dataclass(frozen=True)
class View:
    """Everything that the pages show."""

    swimmer: str | None
    coach: str | None
    greeting: tuple[str, ...]
    """Lines in the coach's own words; empty for the usual ones, and so is ``sign_off``."""
    sign_off: tuple[str, ...]
    stroke: str
    minutes_given: int
    timed: bool
    draft: bool
    clock: Clocks
    """Whose moments the entries show."""
    praise: tuple[Praise, ...]
    since: tuple[Sequel, ...]
    """The best news first."""
    now: tuple[Fix, ...]
    later: tuple[Fix, ...]
    other_figures: tuple[Measured, ...]
    visits: tuple[Visit, ...]
    cautions: tuple[Cautioned, ...]
    questions: tuple[Asked, ...]
    aside: tuple[Aside, ...]
    figures: tuple[Measured, ...]
    added: bool
