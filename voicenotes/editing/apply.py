"""What the coach's edit makes of a review: its notes are changed, and judged again."""

from collections.abc import Callable

from voicenotes.editing.changes import changes_between
from voicenotes.editing.checks import check_edit
from voicenotes.editing.model import CorrectionEdit, Edit
from voicenotes.editing.names import notes_of
from voicenotes.editing.notes import edited_notes
from voicenotes.editing.read import EditFile
from voicenotes.judging import judge
from voicenotes.notes import Notes
from voicenotes.review import Correction, Review
from voicenotes.vocabulary.model import Vocabulary


def as_heard(review: Review, vocabulary: Vocabulary) -> Review:
    """A review as it was before the coach's edit, and before it was set against earlier ones."""
    if review.heard is None and not review.since:
        return review
    notes = review.heard or notes_of(review)
    plain = review.model_copy(update={"heard": None, "changes": (), "since": ()})
    return _judged(plain, notes, vocabulary, lambda correction: correction)


def apply_edit(heard: Review, file: EditFile, vocabulary: Vocabulary) -> Review:
    """A review as heard with the coach's edit in it; what was changed is on its record.

    Raises InputError, with the place in the file, for an entry that was not heard and for a
    value that cannot be.
    """
    notes = notes_of(heard)
    check_edit(file, heard, notes, vocabulary)
    edited = edited_notes(notes, heard.corrections, file.edit)
    review = _judged(heard, edited, vocabulary, _rewording(file.edit))
    changes = changes_between(heard, review, file.edit)
    if not changes:
        return heard
    return review.model_copy(update={"heard": notes, "changes": changes})


def _judged(
    review: Review,
    notes: Notes,
    vocabulary: Vocabulary,
    reworded: Callable[[Correction], Correction],
) -> Review:
    judgement = judge(notes, vocabulary, review.brief, review.doubts, reworded)
    return review.model_copy(
        update={
            "findings": notes.findings,
            "figures": notes.figures,
            "drills": notes.drills,
            "causes": tuple((link.cause, link.effect) for link in notes.causes),
            "links": notes.causes,
            "priorities": notes.priorities,
            **{name: getattr(judgement, name) for name in type(judgement).model_fields},
            "made": review.made.model_copy(update={"vocabulary": vocabulary.digest}),
        }
    )


def _rewording(edit: Edit) -> Callable[[Correction], Correction]:
    """Puts the coach's name, reasons, cue and drills into a correction."""
    entries = {entry.correction: entry for entry in edit.corrections}

    def reworded(correction: Correction) -> Correction:
        entry = entries.get(correction.code)
        return correction.model_copy(update=_words(entry)) if entry else correction

    return reworded


def _words(entry: CorrectionEdit) -> dict[str, object]:
    fields = ("name", "why", "cue", "drills")
    return {field: getattr(entry, field) for field in fields if entry.given(field)}
