"""Kept records to rows of the history's tables, and back."""

import json
import sqlite3
from collections.abc import Callable, Iterable
from typing import Any

from voicenotes.history.kept import Kept, KeptCorrection, KeptFigure, KeptFinding, KeptSwim
from voicenotes.notes import Interval
from voicenotes.record import Record

Row = tuple[Any, ...]

COLUMNS = {
    "findings": "kind, code, side, severity, reason",
    "figures": "measure, side, unit, seen, low, high, aimed, aim_low, aim_high, distance_m",
    "corrections": "rank, code, name, side, severity, focus, figures",
    "plans": "session, stage, part, name, drill, focus, added, metres",
    "traces": "digests",
}
"""The tables of a review's entries, one row each (traces: one for all), and their columns."""


def rows_of(kept: Kept) -> dict[str, list[Row]]:
    """A review's entries by table, in the order of the columns."""
    return {
        "findings": [tuple(found.model_dump().values()) for found in kept.findings],
        "figures": [_of_figure(figure) for figure in kept.figures],
        "corrections": [_of_correction(correction) for correction in kept.corrections],
        "plans": [tuple(swim.model_dump().values()) for swim in kept.plan],
        "traces": [(" ".join(kept.traces),)],
    }


def kept_from(review: sqlite3.Row, entries: Callable[[str], Iterable[sqlite3.Row]]) -> Kept:
    """A kept review from its row and, by table, the rows of its entries."""
    return Kept(
        **{key: value for key, value in dict(review).items() if key != "id"},
        findings=_records(KeptFinding, entries("findings")),
        figures=tuple(map(_figure, entries("figures"))),
        corrections=tuple(map(_correction, entries("corrections"))),
        plan=_records(KeptSwim, entries("plans")),
        traces=tuple(one for row in entries("traces") for one in row["digests"].split()),
    )


def _records(kind: type[Record], rows: Iterable[sqlite3.Row]) -> tuple[Any, ...]:
    return tuple(kind.model_validate(dict(row)) for row in rows)


def _of_figure(figure: KeptFigure) -> Row:
    return (
        figure.measure,
        figure.side,
        figure.unit,
        figure.observed is not None,
        *(figure.observed or (None, None)),
        figure.aim is not None,
        *(figure.aim or (None, None)),
        figure.distance_m,
    )


def _figure(row: sqlite3.Row) -> KeptFigure:
    seen: Interval = (row["low"], row["high"])
    aim: Interval = (row["aim_low"], row["aim_high"])
    return KeptFigure(
        measure=row["measure"],
        side=row["side"],
        unit=row["unit"],
        observed=seen if row["seen"] else None,
        aim=aim if row["aimed"] else None,
        distance_m=row["distance_m"],
    )


def _of_correction(correction: KeptCorrection) -> Row:
    return (*correction.model_dump(exclude={"figures"}).values(), json.dumps(correction.figures))


def _correction(row: sqlite3.Row) -> KeptCorrection:
    return KeptCorrection.model_validate(
        {**dict(row), "figures": tuple(json.loads(row["figures"]))}
    )
