"""What an edit changed, for the record: place, what was heard, what it is now."""

from collections.abc import Iterator, Sequence

from voicenotes.editing.model import Edit
from voicenotes.editing.names import (
    amount,
    figure_names,
    notes_of,
    set_names,
    strength_names,
    strengths,
)
from voicenotes.editing.notes import SET_FIELDS, interval_of
from voicenotes.notes import Mention
from voicenotes.review import Change, Review
from voicenotes.words import moment

DROPPED = "taken out"


def changes_between(heard: Review, edited: Review, edit: Edit) -> tuple[Change, ...]:
    """Every field in which the edit differs from what was heard, in the order of the file."""
    found = [*_strengths(heard, edit), *_corrections(heard, edit), *_order(heard, edited, edit)]
    found += [*_figures(heard, edit), *_sets(heard, edit)]
    return tuple(Change(place=place, was=was, now=now) for place, was, now in found if was != now)


_Row = tuple[str, str, str]


def _strengths(heard: Review, edit: Edit) -> Iterator[_Row]:
    notes = notes_of(heard)
    known = dict(zip(strength_names(notes), strengths(notes), strict=True))
    for entry in edit.strengths:
        finding, place = known[entry.strength], f"strengths, {entry.strength}"
        if entry.drop:
            yield place, finding.code, DROPPED
            continue
        if entry.given("side"):
            yield f"{place}, side", finding.side or "none", entry.side or "none"
        yield from _said(place, finding.mentions, entry.said)


def _corrections(heard: Review, edit: Edit) -> Iterator[_Row]:
    known = {correction.code: correction for correction in heard.corrections}
    for entry in edit.corrections:
        correction, place = known[entry.correction], f"corrections, {entry.correction}"
        if entry.drop:
            yield place, correction.name, DROPPED
            continue
        for field in ("name", "side", "severity", "why", "cue", "drills"):
            if entry.given(field):
                was, now = getattr(correction, field), getattr(entry, field)
                yield f"{place}, {field}", _shown(was), _shown(now)
        yield from _said(place, correction.mentions, entry.said)


def _order(heard: Review, edited: Review, edit: Edit) -> Iterator[_Row]:
    dropped = {entry.correction for entry in edit.corrections if entry.drop}
    was = [c.code for c in heard.corrections if c.code not in dropped]
    wanted = [e.correction for e in edit.corrections]
    if wanted != [c.code for c in heard.corrections if c.code in wanted]:
        yield "corrections", ", ".join(was), ", ".join(c.code for c in edited.corrections)


def _figures(heard: Review, edit: Edit) -> Iterator[_Row]:
    known = dict(zip(figure_names(heard.figures), heard.figures, strict=True))
    for entry in edit.figures:
        figure, place = known[entry.figure], f"figures, {entry.figure}"
        if entry.drop:
            yield place, str(amount(figure.observed, figure.unit)), DROPPED
            continue
        if entry.given("side"):
            yield f"{place}, side", figure.side or "none", entry.side or "none"
        for key, was in (("seen", figure.observed), ("aim", figure.target)):
            if entry.given(key):
                now = interval_of(getattr(entry, key))
                told = str(amount(was, figure.unit)), str(amount(now, figure.unit))
                yield f"{place}, {key}", *told


def _sets(heard: Review, edit: Edit) -> Iterator[_Row]:
    known = dict(zip(set_names(heard.drills), heard.drills, strict=True))
    for entry in edit.sets:
        drill, place = known[entry.set], f"sets, {entry.set}"
        if entry.drop:
            yield place, drill.name, DROPPED
            continue
        for key, field in SET_FIELDS.items():
            if entry.given(key):
                was, now = getattr(drill, field), getattr(entry, key)
                yield f"{place}, {'for' if key == 'trains' else key}", _shown(was), _shown(now)


def _said(place: str, mentions: Sequence[Mention], said: dict[str, str]) -> Iterator[_Row]:
    first = {moment(mention.start): mention.quote for mention in reversed(mentions)}
    for at, words in said.items():
        yield f"{place}, said at {at}", first[at], words


def _shown(value: object) -> str:
    if isinstance(value, tuple):
        return ", ".join(value) or "none"
    return "none" if value is None else str(value)
