"""The notes with the coach's edit in them."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, TypeVar

from voicenotes.editing.model import CorrectionEdit, Edit, FigureEdit, SetEdit, StrengthEdit
from voicenotes.editing.names import figure_names, read_amount, set_names, strength_names
from voicenotes.notes import DrillSet, Figure, Finding, Interval, Mention, Notes, Priority
from voicenotes.record import Record
from voicenotes.review import Correction
from voicenotes.words import moment

_Kind = TypeVar("_Kind", bound=Record)
_Quotes = Mapping[Mention, Mention]

SET_FIELDS = {
    "drill": "code",
    "reps": "reps",
    "distance": "distance_m",
    "seconds": "duration_s",
    "rest": "rest_s",
    "leave_every": "interval_s",
    "equipment": "equipment",
    "trains": "trains",
}
"""Keys of a set in the edit and the fields of the record that they fill."""


def edited_notes(notes: Notes, corrections: Sequence[Correction], edit: Edit) -> Notes:
    """The notes as the coach wants them; ``corrections`` are those made of the notes as heard."""
    faults = {entry.correction: entry for entry in edit.corrections}
    dropped = {code for code, entry in faults.items() if entry.drop}
    quotes = _quotes(notes, faults)
    priorities = _priorities(notes, corrections, edit)
    changed = Notes(
        findings=tuple(_findings(notes, edit, faults)),
        figures=tuple(_figures(notes.figures, edit.figures)),
        drills=tuple(_sets(notes.drills, edit.sets, dropped)),
        causes=tuple(c for c in notes.causes if not {c.cause, c.effect} & dropped),
        priorities=tuple(p for p in priorities if p.code not in dropped),
        set_aside=notes.set_aside,
        repairs=notes.repairs,
    )
    return _requoted(changed, quotes | _strength_quotes(notes, edit.strengths))


def _findings(notes: Notes, edit: Edit, faults: Mapping[str, CorrectionEdit]) -> Iterable[Finding]:
    praised = {entry.strength: entry for entry in edit.strengths}
    names = iter(strength_names(notes))
    for finding in notes.findings:
        entry = praised.get(next(names)) if finding.kind == "strength" else faults.get(finding.code)
        if entry is None:
            yield finding
        elif not entry.drop:
            fields = ("side", "severity") if finding.kind == "fault" else ("side",)
            yield _with(finding, {f: getattr(entry, f) for f in fields if entry.given(f)})


def _figures(figures: Sequence[Figure], entries: Sequence[FigureEdit]) -> Iterable[Figure]:
    by_name = {entry.figure: entry for entry in entries}
    for name, figure in zip(figure_names(figures), figures, strict=True):
        entry = by_name.get(name)
        if entry is None:
            yield figure
        elif not entry.drop:
            yield _with(figure, _figure_changes(figure, entry))


def _figure_changes(figure: Figure, entry: FigureEdit) -> dict[str, Any]:
    """What an entry changes of a figure; words on how it was read go with the old amount."""
    changed: dict[str, Any] = {"side": entry.side} if entry.given("side") else {}
    if entry.given("seen") and interval_of(entry.seen) != figure.observed:
        changed |= {"observed": interval_of(entry.seen), "converted": None}
    if entry.given("aim") and (aim := interval_of(entry.aim)) != figure.target:
        limit = aim is not None and None in aim
        changed |= {"target": aim, "at_most_or_least": limit, "converted": None}
    return changed


def interval_of(text: float | str | None) -> Interval | None:
    """An amount of the edit; None for none. Raises ValueError."""
    return None if text is None else read_amount(text)


def _sets(
    drills: Sequence[DrillSet], entries: Sequence[SetEdit], dropped: set[str]
) -> Iterable[DrillSet]:
    by_name = {entry.set: entry for entry in entries}
    for name, drill in zip(set_names(drills), drills, strict=True):
        entry = by_name.get(name)
        if entry is not None and entry.drop:
            continue
        fields = [f for f in SET_FIELDS if entry is not None and entry.given(f)]
        changed = _with(drill, {SET_FIELDS[f]: getattr(entry, f) for f in fields})
        yield _with(changed, {"trains": tuple(c for c in changed.trains if c not in dropped)})


def _priorities(
    notes: Notes, corrections: Sequence[Correction], edit: Edit
) -> tuple[Priority, ...]:
    """The coach's order: as heard, or all of the file's where it differs."""
    known = {c.code: c for c in corrections}
    wanted = [entry.correction for entry in edit.corrections]
    if wanted == [code for code in known if code in wanted]:
        return notes.priorities
    order = wanted + [code for code in known if code not in wanted]
    return tuple(
        Priority(rank=rank, code=code, side=known[code].side, mention=known[code].mentions[0])
        for rank, code in enumerate(order, start=1)
    )


def _quotes(notes: Notes, faults: Mapping[str, CorrectionEdit]) -> dict[Mention, Mention]:
    """Mentions whose words the coach put right, with what stands for them."""
    found: dict[Mention, Mention] = {}
    for finding in notes.findings:
        if finding.kind == "fault" and (entry := faults.get(finding.code)):
            found |= _put_right(finding.mentions, entry.said)
    return found


def _strength_quotes(notes: Notes, entries: Sequence[StrengthEdit]) -> dict[Mention, Mention]:
    said = {entry.strength: entry.said for entry in entries}
    praised = [finding for finding in notes.findings if finding.kind == "strength"]
    found: dict[Mention, Mention] = {}
    for name, finding in zip(strength_names(notes), praised, strict=True):
        found |= _put_right(finding.mentions, said.get(name, {}))
    return found


def _put_right(mentions: Sequence[Mention], said: Mapping[str, str]) -> dict[Mention, Mention]:
    first = {moment(mention.start): mention for mention in reversed(mentions)}
    return {
        first[at]: _with(first[at], {"quote": words})
        for at, words in said.items()
        if at in first and first[at].quote != words
    }


def _requoted(notes: Notes, quotes: _Quotes) -> Notes:
    """The same words are put right wherever they are quoted."""
    findings = (_with(f, {"mentions": _each(f.mentions, quotes)}) for f in notes.findings)
    figures = (_with(f, {"mentions": _each(f.mentions, quotes)}) for f in notes.figures)
    drills = (_with(d, {"mentions": _each(d.mentions, quotes)}) for d in notes.drills)
    causes = (_with(c, {"mention": quotes.get(c.mention, c.mention)}) for c in notes.causes)
    return _with(
        notes,
        {
            "findings": tuple(findings),
            "figures": tuple(figures),
            "drills": tuple(drills),
            "causes": tuple(causes),
        },
    )


def _each(mentions: Sequence[Mention], quotes: _Quotes) -> tuple[Mention, ...]:
    return tuple(quotes.get(mention, mention) for mention in mentions)


def _with(record: _Kind, changed: Mapping[str, Any]) -> _Kind:
    return record.model_copy(update=dict(changed))
