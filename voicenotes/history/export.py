"""The whole history for other programs: JSON, or a table after RFC 4180."""

import csv
import io
import json
from collections.abc import Callable, Iterable, Iterator

from voicenotes.feedback.data import cell
from voicenotes.history.kept import Kept
from voicenotes.notes import Interval

COLUMNS = (
    "swimmer",
    "review",
    "made_on",
    "approved_on",
    "stroke",
    "level",
    "kind",
    "code",
    "side",
    "severity",
    "rank",
    "focus",
    "low",
    "high",
    "unit",
    "aim_low",
    "aim_high",
    "distance_m",
)
"""Columns of the table: a row for each correction, strength and figure; ends that are open, and
what a kind does not have, stay empty."""


def as_json(reviews: Iterable[Kept]) -> str:
    """Every review with its entries."""
    kept = [one.model_dump(mode="json", exclude={"key", "traces"}) for one in reviews]
    return json.dumps({"reviews": kept}, indent=2, ensure_ascii=False) + "\n"


def as_csv(reviews: Iterable[Kept]) -> str:
    """A row for each entry."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\r\n")
    table.writerow(COLUMNS)
    for kept in reviews:
        days = (kept.made_on.isoformat(), kept.approved_on.isoformat())
        start = (kept.swimmer, kept.name, *days, kept.stroke, kept.level)
        for row in _rows(kept):
            table.writerow("" if value is None else cell(value) for value in (*start, *row))
    return out.getvalue()


def _rows(kept: Kept) -> Iterator[tuple[str | float | None, ...]]:
    empty: Interval = (None, None)
    for one in kept.corrections:
        yield ("correction", one.code, one.side, one.severity, one.rank, one.focus, *[None] * 6)
    for found in kept.findings:
        if found.kind == "strength" and found.reason is None:
            yield ("strength", found.code, found.side, *[None] * 9)
    for figure in kept.figures:
        if figure.observed is not None:
            start = ("figure", figure.measure, figure.side, None, None, None, *figure.observed)
            yield (*start, figure.unit, *(figure.aim or empty), figure.distance_m)


FORMATS: dict[str, Callable[[Iterable[Kept]], str]] = {"json": as_json, "csv": as_csv}
"""By the names that the command line knows."""
