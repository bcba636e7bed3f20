"""A review as data: JSON with its schema, and the corrections as a table."""

import csv
import io
import json
from typing import Any

from voicenotes.feedback.escape import plain
from voicenotes.review import Correction, Review
from voicenotes.words import moment, number

DIALECT = "https://json-schema.org/draft/2020-12/schema"
SCHEMA_ID = "urn:voicenotes:review"

COLUMNS = (
    "rank",
    "focus",
    "code",
    "correction",
    "side",
    "severity",
    "moments",
    "first_start_s",
    "clip_moments",
    "said",
    "measured",
    "aim",
    "aim_from",
    "unit",
    "outcome",
    "margin",
    "why",
    "cue",
    "drills",
    "reasons",
)
"""Columns of the table of corrections; times and amounts are bare numbers. ``clip_moments`` stays
empty where the clip's own moments are not known."""

_STARTS_A_FORMULA = tuple("=+-@＝＋－＠")


def review_json(review: Review) -> str:
    """The review as JSON, fields in the order of the record, numbers to a thousandth."""
    data = _rounded(review.model_dump(mode="json", by_alias=True))
    return json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def review_schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of review.json."""
    schema = Review.model_json_schema(by_alias=True, mode="serialization")
    return {"$schema": DIALECT, "$id": SCHEMA_ID, **schema, "title": "A swimmer's review"}


def corrections_csv(review: Review) -> str:
    """The corrections as a table after RFC 4180: one row each, CRLF, quoted where needed.

    A cell of text that a spreadsheet would take for a formula is led by an apostrophe.
    """
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\r\n")
    table.writerow(COLUMNS)
    for correction in review.corrections:
        table.writerow(cell(value) for value in _row(review, correction))
    return out.getvalue()


def _rounded(value: Any) -> Any:
    """Numbers without the dust of binary fractions; whole ones without a point."""
    if isinstance(value, dict):
        return {key: _rounded(entry) for key, entry in value.items()}
    if isinstance(value, list):
        return [_rounded(entry) for entry in value]
    if isinstance(value, float):
        short = round(value, 3)
        return int(short) if short.is_integer() else short
    return value


def _row(review: Review, correction: Correction) -> tuple[str | float, ...]:
    first = correction.mentions[0] if correction.mentions else None
    moments = dict.fromkeys(moment(mention.start) for mention in correction.mentions)
    return (
        correction.rank,
        correction.focus,
        correction.code,
        correction.name,
        correction.side or "",
        correction.severity,
        "; ".join(moments),
        round(first.start, 3) if first else "",
        "; ".join(dict.fromkeys(moment(s) for m in correction.mentions for s in m.clip_s)),
        first.quote if first else "",
        *_figure_cells(review, correction),
        correction.why,
        correction.cue,
        "; ".join(correction.drills),
        " ".join(correction.reasons),
    )


def _figure_cells(review: Review, correction: Correction) -> tuple[str, ...]:
    """Measured, aim and whose, unit, outcome, margin of the first figure that measures it."""
    if not correction.figures:
        return ("",) * 6
    index = correction.figures[0]
    figure = review.figures[index]
    against = "spoken target" if figure.target else "band"
    found = (v for v in review.verdicts if v.figure == index and v.against == against)
    verdict = next(found, None)
    aim = figure.target or ((verdict.low, verdict.high) if verdict else None)
    return (
        _span(*figure.observed) if figure.observed else "",
        _span(*aim) if aim else "",
        against if aim else "",
        figure.unit,
        verdict.outcome if verdict else "",
        number(verdict.margin) if verdict else "",
    )


def _span(low: float | None, high: float | None) -> str:
    """An interval for a cell; an open end stays empty: "90 to 120", "to 5"."""
    if low is not None and low == high:
        return number(low)
    ends = (number(low) if low is not None else "", "to", number(high) if high is not None else "")
    return " ".join(filter(None, ends))


def cell(value: str | float) -> str | float:
    """A cell of a table; text that a spreadsheet would take for a formula gets an apostrophe."""
    if not isinstance(value, str):
        return value
    text = plain(value)
    return f"'{text}" if text.startswith(_STARTS_A_FORMULA) else text
