"""What a careful colleague noted down from a narration: the file NAME.gold.json."""

from pathlib import Path

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from voicenotes.errors import InputError
from voicenotes.notes import Interval, Kind, Severity, Side

Span = tuple[float, float]
"""Start and end in seconds of the narration."""


class _Entry(BaseModel):
    """An entry of an annotation; further fields are the annotator's own."""

    model_config = ConfigDict(frozen=True, extra="ignore", populate_by_name=True)

    at: tuple[Span, ...] = ()


class NotedFinding(_Entry):
    """A fault or strength, with every moment at which it is said."""

    kind: Kind
    code: str
    side: Side | None = None
    severity: Severity | None = None


class NotedFigure(_Entry):
    """A measured thing, its target, or both, in the measure's unit."""

    measure: str
    side: Side | None = None
    observed: Interval | None = None
    target: Interval | None = None


class NotedDrill(_Entry):
    """A drill prescribed to this swimmer."""

    code: str
    reps: int | None = None
    distance_m: float | None = None
    rest_s: float | None = None
    equipment: tuple[str, ...] = ()
    trains: tuple[str, ...] = Field(default=(), alias="for")


class Trap(_Entry):
    """Words that must not be read as the entries named ("fault:elbow_drops")."""

    why: str
    must_not: tuple[str, ...]


class Annotation(BaseModel):
    """All that should be read from one narration."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    id: str
    findings: tuple[NotedFinding, ...] = ()
    figures: tuple[NotedFigure, ...] = ()
    drills: tuple[NotedDrill, ...] = ()
    causes: tuple[tuple[str, str], ...] = ()
    traps: tuple[Trap, ...] = ()
    off_topic: tuple[Span, ...] = ()


def read_annotation(path: Path) -> Annotation:
    """One NAME.gold.json. Raises InputError naming file and field."""
    try:
        return Annotation.model_validate_json(path.read_text(encoding="utf-8"))
    except ValidationError as error:
        first = error.errors()[0]
        field = ".".join(str(part) for part in first["loc"]) or "file"
        raise InputError(f"{field}: {first['msg']}", str(path), "mend that field") from error
    except (OSError, UnicodeDecodeError) as error:
        raise InputError("cannot be read", str(path), "check the file") from error
