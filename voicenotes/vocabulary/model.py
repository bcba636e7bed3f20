"""The vocabulary's entries: what a swim coach talks about, as data.

Every entry lives in a YAML file and is checked here. A coach's own folder adds entries or
overrides single fields of them.
"""

from typing import Literal, Self

from pydantic import Field, field_validator, model_validator

from voicenotes.record import Record

Stroke = Literal["freestyle", "backstroke", "breaststroke", "butterfly"]
Level = Literal["learner", "club", "competitive"]
STROKES: tuple[Stroke, ...] = ("freestyle", "backstroke", "breaststroke", "butterfly")


class Concept(Record):
    """One meaning and the ways to say it.

    ``forms`` are words or short word groups in lower case, as lemmas where the last word
    inflects ("come across" also reads "coming across"); a form in double quotes inside the
    YAML string, like ``'"flat"'``, is matched letter for letter.
    """

    forms: tuple[str, ...] = Field(min_length=1)


class Frame(Record):
    """Slots that together mean one thing when they meet within one clause.

    ``mode`` says how the clause must put them: ``seen`` (stated), ``missing`` (stated to be
    absent: "no high elbow there") or ``wanted`` (asked for: "I want those hips higher").
    Every slot lists concept names of the lexicon, of which one must be there; ``without`` lists
    concepts that must not be.
    """

    part: tuple[str, ...] = ()
    motion: tuple[str, ...] = ()
    place: tuple[str, ...] = ()
    quality: tuple[str, ...] = ()
    phase: tuple[str, ...] = ()
    without: tuple[str, ...] = ()
    mode: Literal["seen", "missing", "wanted"] = "seen"
    reach: Literal["clause", "sentence"] = "clause"

    @field_validator("part", "motion", "place", "quality", "phase", "without", mode="before")
    @classmethod
    def _one_or_many(cls, value: object) -> object:
        return (value,) if isinstance(value, str) else value

    @model_validator(mode="after")
    def _has_a_slot(self) -> Self:
        if not (self.part or self.motion or self.place or self.quality or self.phase):
            raise ValueError("a frame needs at least one slot")
        return self

    @property
    def slots(self) -> tuple[tuple[str, ...], ...]:
        """The filled slots, part first."""
        filled = (self.part, self.motion, self.place, self.quality, self.phase)
        return tuple(slot for slot in filled if slot)


class Sign(Record):
    """A measure that tells of a fault when it lies over, or under, what it should be."""

    measure: str
    when: Literal["over", "under"]


class Fault(Record):
    """A fault: how it is said, why it matters, what to do instead."""

    code: str
    name: str
    strokes: tuple[Stroke, ...] = STROKES
    sided: bool = True
    """False for faults of the whole body, which have no left or right."""
    area: Literal["head", "breath", "body", "arms", "legs", "timing", "walls"]
    measured_by: tuple[Sign, ...] = ()
    """Measures that put a number to it."""
    frames: tuple[Frame, ...] = ()
    says: tuple[str, ...] = Field(min_length=1)
    never: tuple[str, ...] = Field(min_length=1)
    why: str
    cue: str
    drills: tuple[str, ...] = ()
    leads_to: tuple[str, ...] = ()
    """Faults that it commonly brings about (common practice)."""


class Strength(Record):
    """A part that can be praised."""

    code: str
    name: str
    sided: bool = True
    """False for what has no left or right."""
    frames: tuple[Frame, ...] = ()
    says: tuple[str, ...] = Field(min_length=1)
    never: tuple[str, ...] = Field(min_length=1)


class Band(Record):
    """A range typical of, or aimed at for, a group of swimmers, with its source.

    ``standing`` tells published values from common practice and from figures recalled from
    memory; only the first kind names a publication as its source.
    """

    low: float | None = None
    high: float | None = None
    strokes: tuple[Stroke, ...] = STROKES
    levels: tuple[Level, ...] = ("learner", "club", "competitive")
    phase: str | None = None
    over_m: float | None = Field(default=None, gt=0)
    """For counts: the distance in metres that it is for."""
    condition: str
    source: str
    standing: Literal["published", "common practice", "from memory"]

    @model_validator(mode="after")
    def _has_an_end(self) -> Self:
        if self.low is None and self.high is None:
            raise ValueError("a band needs a low or a high end")
        if self.low is not None and self.high is not None and self.low > self.high:
            raise ValueError(f"low {self.low} is above high {self.high}")
        return self


class Measure(Record):
    """Something a coach puts a number to."""

    code: str
    name: str
    unit: str
    convention: str
    possible: tuple[float, float]
    """Values outside are put to the coach; source in ``possible_source``."""
    possible_source: str
    usual: tuple[float, float]
    """What is commonly said of swimmers (common practice): tells a bare number's measure."""
    terms: tuple[str, ...] = Field(min_length=1)
    """Words that name the measure, in lower case."""
    hints: tuple[str, ...] = ()
    """Words that speak for the measure where it might be meant, but do not name it."""
    bars: tuple[str, ...] = ()
    """Words beside which a number measures something else."""
    units: tuple[str, ...] = ()
    """Unit words that are said with it, in lower case."""
    bands: tuple[Band, ...] = ()


Stage = Literal["dry_land", "balance_and_kick", "part_stroke", "constrained_stroke", "at_pace"]
STAGES: tuple[Stage, ...] = (
    "dry_land",
    "balance_and_kick",
    "part_stroke",
    "constrained_stroke",
    "at_pace",
)


class Dose(Record):
    """How much of a drill: repetitions of a distance in metres, or of a time in seconds."""

    reps: int = Field(ge=1)
    distance_m: int | None = Field(default=None, ge=0)
    duration_s: int | None = Field(default=None, ge=1)
    rest_s: int = Field(ge=0)

    @model_validator(mode="after")
    def _is_measured(self) -> Self:
        if (self.distance_m is None) == (self.duration_s is None):
            raise ValueError("a dose has either distance_m or duration_s")
        return self


class Drill(Record):
    """A drill: what it is called, how it is done, what it trains."""

    code: str
    name: str
    names: tuple[str, ...] = Field(min_length=1)
    """What it is called, in lower case."""
    described: tuple[str, ...] = ()
    """Ways to put it without its name: parts joined by " + " that must all be said within one
    passage, in any order ("thumb + rib|armpit"); "|" parts alternatives, "!" bars a part."""
    refines: tuple[str, ...] = ()
    """Codes of plainer drills that this one is a special form of."""
    how: str
    stage: Stage
    dose: Dose
    equipment: tuple[str, ...] = ()
    """What it cannot be done without."""
    strokes: tuple[Stroke, ...] = STROKES
    trains: tuple[str, ...] = ()
    """Fault codes it is commonly used for (common practice)."""
    slower_by: float = Field(default=1.3, gt=0)
    """Time for a length of it, as a multiple of easy swimming."""
    cautions: tuple[str, ...] = ()
    """Codes of cautions to print with it."""
    says: tuple[str, ...] = Field(min_length=1)
    never: tuple[str, ...] = Field(min_length=1)


class Aid(Record):
    """A piece of equipment and what it is called."""

    code: str
    name: str
    names: tuple[str, ...] = Field(min_length=1)


class Caution(Record):
    """A word of caution, printed as it stands."""

    code: str
    text: str
    source: str
    general: bool = False
    """True for cautions that go with every review."""


class Misheard(Record):
    """A trade term and what recognition is known to make of it."""

    code: str
    term: str
    heard: tuple[str, ...] = Field(min_length=1)
    near: tuple[str, ...] = ()
    """Only repaired where one of these words stands in the same sentence; empty: anywhere."""
    hint: bool = False
    """True for a term that recognition is told of beforehand: one that it often gets wrong."""


class Vocabulary(Record):
    """All entries, by code."""

    lexicon: dict[str, dict[str, Concept]]
    faults: dict[str, Fault]
    strengths: dict[str, Strength]
    measures: dict[str, Measure]
    drills: dict[str, Drill]
    aids: dict[str, Aid]
    cautions: dict[str, Caution]
    misheard: dict[str, Misheard]
    digest: str
    """SHA-256 over the files it was read from."""
