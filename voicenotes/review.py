"""Review: what the notes mean for this swimmer. The one record that every output is made from."""

from datetime import date
from typing import Literal

from pydantic import Field

from voicenotes.clock import Clock
from voicenotes.notes import (
    Cause,
    DrillSet,
    Figure,
    Finding,
    Interval,
    Mention,
    Notes,
    Priority,
    Repair,
    SetAside,
    Severity,
    Side,
)
from voicenotes.record import Record
from voicenotes.transcript import Doubt
from voicenotes.vocabulary.model import Band, Level, Stage, Stroke


class Brief(Record):
    """What the coach knows of swimmer and pool: what the plan and the bands need.

    Paces are seconds per 100 m of easy swimming; lengths are metres.
    """

    swimmer: str | None = None
    stroke: Stroke = "freestyle"
    level: Level = "club"
    pace_s: float | None = Field(default=None, ge=36, le=480)
    pool_m: float = Field(default=25, ge=10, le=100)
    sessions: int = Field(default=3, ge=1, le=14)
    minutes: int = Field(default=45, ge=10, le=180)
    equipment: tuple[str, ...] = ()
    coach: str | None = None
    greeting: str | None = None
    """The first line to the swimmer, in the coach's words; ``{swimmer}`` in it becomes the name."""
    sign_off: str | None = None
    start: date | None = None
    """The day of the first session."""


class Verdict(Record):
    """One figure against one range, in the measure's unit.

    ``margin`` is the distance to the nearest edge of the range: 0 inside; for a straddling
    figure, how far it reaches over the edge.
    """

    figure: int
    """Index into the review's figures."""
    outcome: Literal["inside", "under", "over", "straddles"]
    margin: float
    low: float | None
    high: float | None
    against: Literal["spoken target", "band"]
    band: Band | None = None


class Question(Record):
    """Something to listen to again before this is sent."""

    about: Literal[
        "impossible",  # outside what a body or a pool allows
        "disagrees",  # figures that cannot all be right
        "remark",  # what the coach said of a figure against what it is
        "target_off_band",  # a spoken target that lies outside the usual range
        "unsurely_heard",
        "convention",  # two readings of a figure are possible
        "unread_speech",
    ]
    text: str
    figures: tuple[int, ...] = ()
    mention: Mention | None = None


class Correction(Record):
    """One thing to work on."""

    rank: int
    code: str
    name: str
    side: Side | None
    severity: Severity
    focus: Literal["now", "later"]
    reasons: tuple[str, ...]
    """Why it stands at this rank, strongest first."""
    mentions: tuple[Mention, ...]
    figures: tuple[int, ...] = ()
    """Indexes into the review's figures that measure it."""
    leads_to: tuple[str, ...] = ()
    """Codes of faults that the coach said it brings about."""
    why: str
    cue: str
    drills: tuple[str, ...] = ()
    """Drill codes: the coach's own first."""


class Swim(Record):
    """One line of a session.

    ``added`` is True for everything the coach did not prescribe. ``seconds`` is swimming and rest.
    """

    part: Literal["warm_up", "drills", "carry_over", "cool_down", "dry_land"]
    drill: str | None = None
    name: str
    reps: int
    distance_m: float | None = None
    duration_s: int | None = None
    rest_s: int
    interval_s: int | None = None
    equipment: tuple[str, ...] = ()
    focus: str | None = None
    """Fault code to think of."""
    note: str | None = None
    added: bool
    metres: float
    seconds: float
    mentions: tuple[Mention, ...] = ()


class Session(Record):
    """One visit to the pool. ``fits`` is False where it takes longer than the time given."""

    number: int
    stage: Stage
    swims: tuple[Swim, ...]
    metres: float
    minutes: float
    fits: bool


Became = Literal["gone", "better", "same", "worse", "not looked at", "new"]
"""What became of a correction of an earlier review; ``new`` where there was none."""


class Compared(Record):
    """One thing that was measured then and now, in the measure's unit."""

    measure: str
    side: Side | None
    unit: str
    was: Interval
    now: Interval
    aim: Interval | None
    """What both are held against; None where there is no range."""


class Since(Record):
    """A correction of the swimmer's earlier reviews, or of this one, and what became of it."""

    code: str
    name: str
    side: Side | None
    became: Became
    seen_on: date | None = None
    """The day of the review that it was last looked at in; None for new ones."""
    compared: tuple[Compared, ...] = ()
    stage: Stage | None = None
    """The stage to drill it at now, where it was drilled before and is to work on again."""


class Plan(Record):
    """The drill plan; ``remarks`` says in words what was left out, rounded or does not fit."""

    sessions: tuple[Session, ...]
    remarks: tuple[str, ...] = ()


class CautionNote(Record):
    """A word of caution and where it comes from."""

    code: str
    text: str
    source: str


class Made(Record):
    """How the review was made."""

    tool: str
    vocabulary: str
    """SHA-256 of the vocabulary."""
    engine: dict[str, str] = Field(default_factory=dict)
    language: str = "en"
    timed: bool = True
    on: date | None = None
    """The day that it was first made."""


class Source(Record):
    """The files that the review came from, and what else it takes to make its pages again.

    Paths lead from the review's own folder, with forward slashes; absolute where none can.
    """

    kind: Literal["video", "sound", "transcript"]
    """What the page plays; nothing where all there is is a transcript."""
    path: str
    """The narration."""
    clip: str | None = None
    """The clip, where it is another file than the narration."""
    vocabulary: str | None = None
    """The coach's own vocabulary folder."""
    templates: str | None = None
    """The coach's own templates folder."""
    embedded: bool = False
    """Whether the page holds the clip itself."""

    @property
    def played(self) -> str:
        """The path of what the page plays: the clip, which may be the narration itself."""
        return self.clip or self.path


class Change(Record):
    """One thing that the coach changed of what was heard; ``place`` names entry and field."""

    place: str
    was: str
    now: str


class Review(Record):
    """Everything about one narration. Times are seconds of the narration, but for ``clip_s``."""

    name: str
    duration: float
    clock: Clock = Clock()
    """Where the clip stands while the narration runs."""
    brief: Brief
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]
    drills: tuple[DrillSet, ...]
    causes: tuple[tuple[str, str], ...]
    """Pairs of fault codes, cause first."""
    links: tuple[Cause, ...]
    """The same, each with its moment and words."""
    priorities: tuple[Priority, ...]
    set_aside: tuple[SetAside, ...]
    repairs: tuple[Repair, ...]
    doubts: tuple[Doubt, ...]
    verdicts: tuple[Verdict, ...]
    questions: tuple[Question, ...]
    strengths: tuple[str, ...]
    """Strength codes in the order they are best told."""
    corrections: tuple[Correction, ...]
    plan: Plan
    cautions: tuple[CautionNote, ...]
    made: Made
    source: Source | None = None
    draft: bool = False
    """True while a question wants another listen and the coach has not approved."""
    approved: bool = False
    heard: Notes | None = None
    """The notes as heard, where the coach's edit changed the review; the entries above are as
    edited."""
    changes: tuple[Change, ...] = ()
    """The coach's edit, entry by entry."""
    since: tuple[Since, ...] = ()
    """What became of the corrections of this swimmer's earlier approved reviews."""

    @property
    def plays_clip(self) -> bool:
        """Whether the page's player runs by the clip's clock, not by the narration's alone."""
        own = self.source is not None and self.source.clip is not None
        return own or self.clock.agrees


class Judgement(Record):
    """What judging adds to the notes."""

    verdicts: tuple[Verdict, ...]
    questions: tuple[Question, ...]
    strengths: tuple[str, ...]
    corrections: tuple[Correction, ...]
    plan: Plan
    cautions: tuple[CautionNote, ...]


__all__ = [
    "Became",
    "Brief",
    "CautionNote",
    "Change",
    "Compared",
    "Correction",
    "Interval",
    "Judgement",
    "Made",
    "Plan",
    "Question",
    "Review",
    "Session",
    "Since",
    "Source",
    "Swim",
    "Verdict",
]
