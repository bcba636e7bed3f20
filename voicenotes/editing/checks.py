"""The edit against what was heard and what the vocabulary knows."""

from collections.abc import Iterable, Mapping, Sequence

from voicenotes.editing.names import figure_names, set_names, strength_names
from voicenotes.editing.notes import interval_of
from voicenotes.editing.read import EditFile, did_you_mean
from voicenotes.notes import Interval, Notes
from voicenotes.review import Review
from voicenotes.vocabulary.model import Measure, Vocabulary
from voicenotes.words import moment, quantity


def check_edit(file: EditFile, heard: Review, notes: Notes, vocabulary: Vocabulary) -> None:
    """Raises InputError for the first entry that was not heard, stands twice, or says what
    cannot be."""
    edit = file.edit
    _check_names(file, "strengths", [e.strength for e in edit.strengths], strength_names(notes))
    faults = [correction.code for correction in heard.corrections]
    _check_names(file, "corrections", [e.correction for e in edit.corrections], faults)
    _check_names(file, "figures", [e.figure for e in edit.figures], figure_names(notes.figures))
    _check_names(file, "sets", [e.set for e in edit.sets], set_names(notes.drills))
    _check_said(file, heard, notes)
    for index, correction in enumerate(edit.corrections):
        _check_codes(file, ("corrections", index, "drills"), correction.drills, vocabulary.drills)
    known_figures = dict(zip(figure_names(notes.figures), notes.figures, strict=True))
    for index, figure in enumerate(edit.figures):
        heard_as = known_figures[figure.figure]
        for key, was in (("seen", heard_as.observed), ("aim", heard_as.target)):
            now = _amount(file, index, key, getattr(figure, key))
            if figure.given(key) and now != was:
                _check_possible(file, index, key, now, vocabulary.measures.get(heard_as.measure))
    for index, entry in enumerate(edit.sets):
        at = ("sets", index)
        _check_codes(file, (*at, "equipment"), entry.equipment, vocabulary.aids)
        _check_codes(file, (*at, "for"), entry.trains, vocabulary.faults)
        known = {drill.code for drill in notes.drills} | set(vocabulary.drills)
        _check_codes(file, (*at, "drill"), [entry.drill] if entry.drill else [], known)


def _check_names(file: EditFile, key: str, names: Sequence[str], heard: Sequence[str]) -> None:
    for index, name in enumerate(names):
        if name not in heard:
            what = f"no such entry was heard{did_you_mean(name, heard)}"
            raise file.error((key, index), what, "take the entry out, or give it its name back")
        if name in names[:index]:
            raise file.error((key, index), "this entry stands twice", "take one of the two out")


def _check_said(file: EditFile, heard: Review, notes: Notes) -> None:
    moments: dict[tuple[str, str], set[str]] = {}
    praised = [f for f in notes.findings if f.kind == "strength"]
    for name, finding in zip(strength_names(notes), praised, strict=True):
        moments["strengths", name] = {moment(m.start) for m in finding.mentions}
    for correction in heard.corrections:
        moments["corrections", correction.code] = {moment(m.start) for m in correction.mentions}
    said = [("strengths", i, e.strength, e.said) for i, e in enumerate(file.edit.strengths)]
    said += [("corrections", i, e.correction, e.said) for i, e in enumerate(file.edit.corrections)]
    for key, index, name, words in said:
        for at in words:
            if at not in moments[key, name]:
                known = ", ".join(sorted(moments[key, name]))
                raise file.error(
                    (key, index, "said"), f"nothing was said of it at {at!r}", f"use {known}"
                )


def _check_codes(
    file: EditFile,
    at: tuple[int | str, ...],
    codes: Iterable[str],
    known: Mapping[str, object] | set[str],
) -> None:
    for code in codes:
        if code not in known:
            what = f"unknown {code!r}{did_you_mean(code, known)}"
            raise file.error(at, what, "use a code of the vocabulary")


def _amount(file: EditFile, index: int, key: str, text: float | str | None) -> Interval | None:
    try:
        return interval_of(text)
    except ValueError as error:
        raise file.error(
            ("figures", index, key),
            f"{text!r} {error}",
            "write 150, 100 to 120, at most 40, at least 60 or none",
        ) from error


def _check_possible(
    file: EditFile, index: int, key: str, now: Interval | None, measure: Measure | None
) -> None:
    """Raises InputError for an amount that no body and no pool allows."""
    if measure is None or now is None:
        return
    low, high = measure.possible
    if any(end is not None and not low <= end <= high for end in now):
        allowed = quantity(measure.possible, measure.unit)
        told = quantity(now, measure.unit)
        raise file.error(
            ("figures", index, key), f"{told} is not possible", f"give something of {allowed}"
        )
