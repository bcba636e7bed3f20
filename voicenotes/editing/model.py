"""The edit's entries. What is left out of an entry stays as heard."""

from pydantic import Field, ValidationInfo, field_validator

from voicenotes.notes import Severity, Side
from voicenotes.record import Record

NONE = "none"
"""How the file says that there is nothing: no side, no aim."""

LISTS = {"drills", "equipment", "trains"}
EMPTY = {"side", "seen", "aim", "reps", "distance", "seconds", "rest", "leave_every", *LISTS}


class Entry(Record):
    """What every entry may say. ``None`` in a field means none, where the field was given."""

    drop: bool = False

    @field_validator("*", mode="before")
    @classmethod
    def _as_written(cls, value: object, info: ValidationInfo) -> object:
        """ "none" where there may be nothing; names with commas between them as a list."""
        if value == NONE and info.field_name in EMPTY:
            return () if info.field_name in LISTS else None
        if isinstance(value, str) and info.field_name in LISTS:
            return tuple(filter(None, (name.strip() for name in value.split(","))))
        return value

    def given(self, field: str) -> bool:
        """Whether the file has a line for this field."""
        return field in self.model_fields_set


class StrengthEdit(Entry):
    """A part that is good."""

    strength: str
    side: Side | None = None
    said: dict[str, str] = Field(default_factory=dict)
    """The words said, by their moment as shown ("0:14")."""


class CorrectionEdit(Entry):
    """One thing to work on."""

    correction: str
    name: str = Field(default="", min_length=1)
    side: Side | None = None
    severity: Severity = "moderate"
    why: str = ""
    cue: str = ""
    drills: tuple[str, ...] = ()
    said: dict[str, str] = Field(default_factory=dict)


class FigureEdit(Entry):
    """A figure: amounts as numbers or as words ("100 to 120", "at most 40", "1:50")."""

    figure: str
    side: Side | None = None
    seen: float | str | None = None
    aim: float | str | None = None


class SetEdit(Entry):
    """A set that the coach prescribed. Metres and seconds."""

    set: str
    drill: str = ""
    reps: int | None = Field(default=None, ge=1, le=100)
    distance: int | None = Field(default=None, ge=1, le=10_000)
    seconds: int | None = Field(default=None, ge=1, le=7200)
    rest: int | None = Field(default=None, ge=0, le=3600)
    leave_every: int | None = Field(default=None, ge=1, le=7200)
    equipment: tuple[str, ...] = ()
    trains: tuple[str, ...] = Field(default=(), alias="for")


class Edit(Record):
    """The whole file."""

    strengths: tuple[StrengthEdit, ...] = ()
    corrections: tuple[CorrectionEdit, ...] = ()
    figures: tuple[FigureEdit, ...] = ()
    sets: tuple[SetEdit, ...] = ()
