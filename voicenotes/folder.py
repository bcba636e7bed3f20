"""A review's own folder: what it keeps for the next time, and writing it whole."""

import os
from collections.abc import Sequence
from pathlib import Path

from pydantic import ValidationError

from voicenotes.editing.names import notes_of
from voicenotes.editing.write import EDIT, edit_yaml
from voicenotes.errors import InputError
from voicenotes.feedback import feedback_files
from voicenotes.feedback.clip import Clip, addresses, data_address, kept_stills
from voicenotes.feedback.spots import spot_of
from voicenotes.files import write_folder
from voicenotes.media import read_stills
from voicenotes.record import Record
from voicenotes.review import Review
from voicenotes.transcript import Transcript
from voicenotes.vocabulary.model import Vocabulary

REVIEW, WORDS = "review.json", "transcript.vtt"

WRITTEN = (
    "stills",
    "feedback.html",
    "feedback.md",
    "pool-card.html",
    "captions.vtt",
    "chapters.vtt",
    "plan.ics",
    "for-coach.md",
    "corrections.csv",
    EDIT,
    WORDS,
    REVIEW,
)
"""All that a review writes into its folder; the review itself stands last."""


class Written(Record):
    """A review, the vocabulary that names its entries, and what was written of it, where.

    ``notice`` says why a kept edit is not in it.
    """

    review: Review
    vocabulary: Vocabulary
    folder: Path
    files: tuple[str, ...]
    notice: str | None = None


def load_review(folder: Path) -> Review:
    """The review that a folder keeps. Raises InputError."""
    path = folder / REVIEW
    try:
        return Review.model_validate_json(path.read_bytes())
    except OSError as error:
        raise InputError(
            f"holds no {REVIEW}", str(folder), "name a folder that voicenotes review made"
        ) from error
    except ValidationError as error:
        raise InputError(
            "is no review of this version", str(path), "run voicenotes review on the clip again"
        ) from error


def write_review(
    review: Review,
    heard: Review,
    transcript: Transcript,
    vocabulary: Vocabulary,
    folder: Path,
    edit: bytes | None,
) -> Written:
    """Writes every file of a review; without an edit of the coach's, one to begin from.

    ``heard`` is the review before the edit. Raises InputError and OutputError; then the folder is
    as it was.
    """
    clip = _clip(review, heard, folder)
    templates = review.source.templates if review.source else None
    files = feedback_files(
        review, transcript, vocabulary, clip, resolve(folder, templates) if templates else None
    )
    files[EDIT] = edit or edit_yaml(heard, notes_of(heard)).encode("utf-8")
    write_folder(folder, files)
    shown = dict.fromkeys(name if "/" not in name else name.split("/")[0] for name in files)
    return Written(review=review, vocabulary=vocabulary, folder=folder, files=tuple(shown))


def path_from(folder: Path, path: Path) -> str:
    """How a path is remembered: from the folder, with forward slashes."""
    place = Path(os.path.realpath(path.parent)) / path.name
    try:
        found = Path(os.path.relpath(place, os.path.realpath(folder)))
    except ValueError:  # another drive
        found = place
    return os.fsencode(found.as_posix()).decode("utf-8", "replace")


def resolve(folder: Path, remembered: str) -> Path:
    """A remembered path, as it is found from here."""
    return Path(os.path.normpath(Path(os.path.realpath(folder)) / remembered))


def _clip(review: Review, heard: Review, folder: Path) -> Clip | None:
    source = review.source
    if source is None or source.kind == "transcript":
        return None
    path = resolve(folder, source.played)
    firsts = [
        spot_of(review, correction.mentions).moments[0].plays
        for correction in (*review.corrections, *heard.corrections)
        if correction.mentions
    ]
    moments = list(dict.fromkeys(round(at, 2) for at in firsts if at is not None))
    return Clip(
        kind=source.kind,
        name=path.name,
        sources=(data_address(path),) if source.embedded else addresses(source.played),
        stills=_stills(path, folder, moments) if source.kind == "video" else {},
    )


def _stills(path: Path, folder: Path, moments: Sequence[float]) -> dict[float, bytes]:
    """Stills from the clip, or where it has gone those that the folder kept."""
    kept = kept_stills(folder)
    try:
        new = read_stills(path, moments) if path.is_file() else {}
    except InputError:
        new = {}
    return {at: new.get(at) or kept[at] for at in moments if at in new or at in kept}
