"""Approving a review from its folder alone: the coach's edit goes in, and all is made again."""

import os
from datetime import date
from pathlib import Path

from voicenotes.days import today
from voicenotes.editing.apply import apply_edit, as_heard
from voicenotes.editing.read import read_edit
from voicenotes.editing.write import EDIT
from voicenotes.errors import InputError
from voicenotes.folder import WORDS, Written, load_review, path_from, resolve, write_review
from voicenotes.history.kept import kept_of
from voicenotes.history.store import History
from voicenotes.history.verdicts import since_last
from voicenotes.judging.steps import step_on
from voicenotes.review import Review
from voicenotes.transcript import Transcript
from voicenotes.transcript.formats import read_transcript
from voicenotes.vocabulary.load import load_vocabulary
from voicenotes.vocabulary.model import Vocabulary


def approve(
    folder: Path,
    *,
    start: date | None = None,
    embed: bool | None = None,
    vocabulary: Path | None = None,
    templates: Path | None = None,
    history: Path | None = None,
    on: date | None = None,
) -> Written:
    """Puts the edit of a review's folder into it, takes the draft mark off, and writes it whole.

    What is not given stays as the review was made with. A review of a named swimmer is set
    against the earlier ones of the history, and added to it; ``on`` is the day of the approval,
    else today. Raises UserError; then the folder is as it was, unless it says of the history that
    it cannot be written: the review is then approved and not in it.
    """
    kept = _updated(load_review(folder), folder, start, embed, vocabulary, templates)
    words = _vocabulary(kept, folder)
    heard = as_heard(kept, words).model_copy(update={"approved": False})
    path = folder / EDIT
    edited = apply_edit(heard, read_edit(path), words) if path.is_file() else heard
    approved = edited.model_copy(update={"approved": True, "draft": False, "since": ()})
    edit = path.read_bytes() if path.is_file() else None
    transcript = _transcript(kept, folder)
    if not (approved.brief.swimmer or "").strip():
        return write_review(approved, heard, transcript, words, folder, edit)
    entry = kept_of(approved, transcript, os.path.realpath(folder), on or today())
    with History(history) as past:
        since = since_last(past.before(entry), entry, words)
        told = step_on(approved.model_copy(update={"since": since}), words)
        written = write_review(told, heard, transcript, words, folder, edit)
        past.add(kept_of(told, transcript, entry.folder, entry.approved_on))
    return written


def _updated(
    review: Review,
    folder: Path,
    start: date | None,
    embed: bool | None,
    vocabulary: Path | None,
    templates: Path | None,
) -> Review:
    """The review with what was asked for this time."""
    brief = review.brief.model_copy(update={"start": start or review.brief.start})
    if review.source is None:
        return review.model_copy(update={"brief": brief})
    changed: dict[str, object] = {}
    if embed is not None:
        changed["embedded"] = embed and review.source.kind != "transcript"
    if vocabulary is not None:
        changed["vocabulary"] = path_from(folder, vocabulary)
    if templates is not None:
        changed["templates"] = path_from(folder, templates)
    source = review.source.model_copy(update=changed)
    return review.model_copy(update={"brief": brief, "source": source})


def _vocabulary(review: Review, folder: Path) -> Vocabulary:
    own = review.source.vocabulary if review.source else None
    if own is None:
        return load_vocabulary(None)
    place = resolve(folder, own)
    if not place.is_dir():
        raise InputError(
            "the vocabulary of this review is not there any more",
            str(place),
            "name its folder with --vocabulary",
        )
    return load_vocabulary(place)


def _transcript(review: Review, folder: Path) -> Transcript:
    """The words that the folder keeps, with what the review knows of them."""
    return read_transcript(folder / WORDS).model_copy(
        update={"name": review.name, "duration": review.duration, "timed": review.made.timed}
    )
