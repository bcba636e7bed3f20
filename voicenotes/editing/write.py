"""A review as a file for the coach to edit."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Any

import yaml

from voicenotes.editing.names import (
    amount,
    figure_names,
    set_names,
    strength_names,
    strengths,
)
from voicenotes.feedback.escape import plain
from voicenotes.notes import DrillSet, Mention, Notes
from voicenotes.review import Correction, Review
from voicenotes.words import moment

EDIT = "edit.yaml"

COMMENT = "#"

UNITS = {
    "deg": "degrees",
    "s": "seconds",
    "m": "metres",
    "/min": "a minute",
    "/10": "out of 10",
    "s/100m": "time for 100 m",
    "count": "a number",
}

HEAD = """\
# Your edit of this review. Listen again where for-coach.md says so, change here what is wrong, save
# the file, and run: voicenotes approve FOLDER (the folder that this file is in).
#
# - Change words, sides, amounts and drills in their place. What you leave alone, or leave out,
#   stays as heard. What you change is on record in review.json.
# - "drop: yes" takes an entry out.
# - Corrections are worked on in the order they have here, the first three now: to change it, move
#   a whole entry, from its dash to the line before the next dash.
# - side: left, right, both or none. severity: slight, moderate or marked.
# - Amounts: 150, 100 to 120, at most 40, at least 60 or none; times for 100 m like "1:50".
# - The names behind "strength:", "correction:", "figure:" and "set:" say which entry it is: leave
#   them as they are.
# - To begin again, delete this file and run voicenotes review once more.
"""


def edit_yaml(review: Review, notes: Notes) -> str:
    """The entries of a review as heard, with comments that say how to edit them."""
    blocks = [
        _block("strengths", "What is good", _strengths(notes)),
        _block("corrections", "In the order to work on them", map(_correction, review.corrections)),
        _block("figures", "What was measured, and your aim for it", _figures(notes)),
        _block("sets", "The sets that you prescribed", map(_set, *_named_sets(notes))),
    ]
    return "\n".join([HEAD, *filter(None, blocks)])


_Lines = Sequence[tuple[str, Any]]


def _block(key: str, title: str, entries: Iterable[_Lines]) -> str:
    lines = [f"# {title}", f"{key}:"]
    for entry in entries:
        lines += ["", *_entry(entry)]
    return "\n".join(lines) + "\n" if len(lines) > 2 else ""


def _entry(entry: _Lines) -> Iterator[str]:
    dash = "- "
    for key, value in [*entry, ("drop", "no")]:
        if key == COMMENT:
            yield f"  {dash}# {value}"
            continue
        if isinstance(value, dict):
            yield f"  {dash}{key}:"
            yield from (f'      "{at}": {_scalar(words)}' for at, words in value.items())
        else:
            shown = "no" if key == "drop" else _scalar(value)
            yield f"  {dash}{key}: {shown}"
        dash = "  "


def _scalar(value: Any) -> str:
    """A value on one line, quoted where YAML wants it."""
    value = list(value) if isinstance(value, tuple) else value
    text = yaml.safe_dump(value, allow_unicode=True, width=2**20, default_flow_style=True)
    return text.removesuffix("\n").removesuffix("\n...")


def _strengths(notes: Notes) -> Iterator[_Lines]:
    for name, finding in zip(strength_names(notes), strengths(notes), strict=True):
        yield [
            ("strength", name),
            ("side", finding.side or "none"),
            ("said", _said(finding.mentions)),
        ]


def _correction(correction: Correction) -> _Lines:
    return [
        ("correction", correction.code),
        ("name", correction.name),
        ("side", correction.side or "none"),
        ("severity", correction.severity),
        ("why", correction.why),
        ("cue", correction.cue),
        ("drills", correction.drills),
        ("said", _said(correction.mentions)),
    ]


def _figures(notes: Notes) -> Iterator[_Lines]:
    for name, figure in zip(figure_names(notes.figures), notes.figures, strict=True):
        yield [
            ("figure", name),
            (COMMENT, _heard(figure.mentions, UNITS.get(figure.unit, figure.unit))),
            ("side", figure.side or "none"),
            ("seen", amount(figure.observed, figure.unit)),
            ("aim", amount(figure.target, figure.unit)),
        ]


def _named_sets(notes: Notes) -> tuple[list[str], Sequence[DrillSet]]:
    return set_names(notes.drills), notes.drills


def _set(name: str, drill: DrillSet) -> _Lines:
    comment = _heard(drill.mentions, "metres and seconds")
    lines: list[tuple[str, Any]] = [("set", name), (COMMENT, comment), ("drill", drill.code)]
    amounts = {
        "reps": drill.reps,
        "distance": drill.distance_m,
        "seconds": drill.duration_s,
        "rest": drill.rest_s,
        "leave_every": drill.interval_s,
    }
    lines += [(key, value) for key, value in amounts.items() if value is not None]
    return [*lines, ("equipment", drill.equipment), ("for", drill.trains)]


def _heard(mentions: Sequence[Mention], unit: str) -> str:
    """A comment: in what an amount is given, and the words it was heard in."""
    quotes = [plain(mention.quote) for mention in mentions if mention.quote.strip()]
    return f"in {unit}" + (f"; heard: “{quotes[0]}”" if quotes else "")


def _said(mentions: Sequence[Mention]) -> dict[str, str]:
    """Words by their moment; of two within one second the first."""
    said: dict[str, str] = {}
    for mention in mentions:
        if mention.quote.strip():
            said.setdefault(moment(mention.start), mention.quote)
    return said
