"""Notes: what the coach said of the swimmer, each entry with the moment and words it came from."""

from typing import Literal

from pydantic import Field

from voicenotes.record import Record

Side = Literal["left", "right", "both"]
Kind = Literal["fault", "strength"]
Severity = Literal["slight", "moderate", "marked"]
Interval = tuple[float | None, float | None]
"""Low and high end as said; None at an open end ("sixty at most" is (None, 60))."""

Status = Literal[
    "true",  # said of this swimmer, in this clip, as true now
    "denied",
    "general",  # of swimmers in general
    "other",  # of another swimmer
    "past",  # of an earlier clip, and gone
    "supposed",  # conditional, hypothetical or yet to come
    "keep",  # advice to go on doing something good
    "explains",  # a drill or a rule explained
    "taken_back",  # corrected by the speaker
]


class Mention(Record):
    """Where something was said. Times are seconds of the narration."""

    start: float
    end: float
    quote: str
    clip_s: tuple[float, ...] = ()
    """Seconds of the clip that it is about, as spoken or by its clock; () where not known."""
    certainty: float | None = Field(default=None, ge=0, le=1)
    """How surely the words were recognised (their lowest probability); None for typed text."""


class Finding(Record):
    """A fault seen or a part praised."""

    kind: Kind
    code: str
    side: Side | None = None
    severity: Severity | None = None
    mentions: tuple[Mention, ...]
    seen_by: tuple[str, ...] = ()
    """Which readers saw it."""


class SetAside(Record):
    """Something a careless reader would have noted, and why it does not count."""

    kind: Literal["fault", "strength", "figure", "drill"]
    code: str
    side: Side | None = None
    reason: Status
    mention: Mention


class Figure(Record):
    """A measured thing and the target spoken for it, in the measure's own unit."""

    measure: str
    side: Side | None = None
    observed: Interval | None = None
    target: Interval | None = None
    unit: str
    at_most_or_least: bool = False
    """True where the coach gave the target as a limit ("sixty at most")."""
    converted: str | None = None
    """What was converted, in words ("60 from straight is an inside angle of 120")."""
    remark: Literal["good", "too_much", "too_little"] | None = None
    """What the coach said of the observed value."""
    distance_m: float | None = None
    """For times and counts: the distance they were taken over, where it was said."""
    mentions: tuple[Mention, ...]


class DrillSet(Record):
    """A drill or set prescribed to this swimmer; what was not said is None."""

    code: str
    name: str
    """As said, for drills that the vocabulary does not know (``code`` is then "unknown")."""
    reps: int | None = None
    distance_m: int | None = None
    rest_s: int | None = None
    interval_s: int | None = None
    """A send-off ("on the minute"): not a rest."""
    duration_s: int | None = None
    """For drills done for a time ("thirty seconds of vertical kick")."""
    equipment: tuple[str, ...] = ()
    trains: tuple[str, ...] = Field(default=(), alias="for")
    """Fault codes it is aimed at, where the coach says so."""
    mentions: tuple[Mention, ...]


class Cause(Record):
    """One fault brings about another."""

    cause: str
    effect: str
    mention: Mention


class Priority(Record):
    """A fault named in the coach's own order of work; rank counts from 1."""

    rank: int
    code: str
    side: Side | None = None
    mention: Mention


class Repair(Record):
    """A misheard term read as the trade's word; ``heard`` is kept so that it can be undone."""

    heard: str
    read_as: str
    reason: str
    start: float
    end: float


class Notes(Record):
    """Everything read from one narration."""

    findings: tuple[Finding, ...] = ()
    figures: tuple[Figure, ...] = ()
    drills: tuple[DrillSet, ...] = ()
    causes: tuple[Cause, ...] = ()
    priorities: tuple[Priority, ...] = ()
    set_aside: tuple[SetAside, ...] = ()
    repairs: tuple[Repair, ...] = ()
