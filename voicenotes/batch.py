"""Many reviews: each input stands alone, so that one bad clip stops none of the others."""

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import chain, count
from pathlib import Path
from typing import Any, Protocol

from voicenotes.clock import SAME, Clock
from voicenotes.errors import InputError, UserError
from voicenotes.feedback import feedback_files
from voicenotes.files import write_folder
from voicenotes.media import clip_length, probe
from voicenotes.record import Record
from voicenotes.review import Review
from voicenotes.reviewing import hear, review
from voicenotes.settings import Settings, brief_for, check_options, load_settings
from voicenotes.transcript.formats import looks_like_transcript
from voicenotes.vocabulary.load import load_vocabulary
from voicenotes.vocabulary.model import Vocabulary


class Watcher(Protocol):
    """Is told how far the work has come."""

    def hearing(self, name: str, done: float, total: float) -> None:
        """Seconds heard of the seconds in all."""
        ...


class Written(Record):
    """A review, the vocabulary that names its entries, and what was written of it, where."""

    review: Review
    vocabulary: Vocabulary
    folder: Path
    files: tuple[str, ...]


def review_all(
    inputs: Sequence[Path],
    out: Path,
    options: Mapping[str, Any],
    model: str | None,
    watcher: Watcher,
) -> Iterator[Written | UserError]:
    """Reviews each input into its own folder of ``out``, as it goes along.

    An input that cannot be reviewed gives its error in place of a review. Raises UserError for
    an option that is wrong for all of them.
    """
    check_options(options)
    _vocabulary(options.get("vocabulary"))
    for path, name in zip(inputs, _names(inputs), strict=True):
        try:
            yield review_one(path, out / name, options, model, watcher)
        except UserError as error:
            yield error


def review_one(
    path: Path, folder: Path, options: Mapping[str, Any], model: str | None, watcher: Watcher
) -> Written:
    """Reviews one input and writes its folder, whole or not at all. Raises UserError."""
    if path.is_dir():
        raise InputError("is a folder", str(path), "name a clip, sound file or transcript")
    settings = load_settings(path, options)
    vocabulary = _vocabulary(settings.vocabulary)
    brief = brief_for(settings, vocabulary)
    clock = clock_for(path, settings)
    transcript = hear(
        path, vocabulary, model, lambda done, total: watcher.hearing(path.name, done, total)
    ).model_copy(update={"name": folder.name})
    made = review(transcript, vocabulary, brief, clock)
    files = feedback_files(made, transcript, vocabulary)
    write_folder(folder, files)
    return Written(review=made, vocabulary=vocabulary, folder=folder, files=tuple(files))


def clock_for(narration: Path, settings: Settings) -> Clock:
    """Where the clip stands while a narration runs, as far as it is known.

    A narration with a picture, and no clip named beside it, is spoken over the clip itself.
    Raises InputError for a clip or a narration that cannot be read.
    """
    clip = settings.clip
    if clip is not None and not (narration.exists() and clip.exists() and clip.samefile(narration)):
        return Clock(clip=clip.name, length_s=clip_length(clip), marks=settings.marks)
    if looks_like_transcript(narration) or not probe(narration).has_video:
        return Clock(marks=settings.marks)
    return Clock(length_s=clip_length(narration), marks=settings.marks or SAME)


@lru_cache(maxsize=4)
def _vocabulary(own: Path | None) -> Vocabulary:
    return load_vocabulary(own)


def _names(inputs: Sequence[Path]) -> list[str]:
    """A folder name for each input: its stem, numbered where two inputs share it.

    Bytes of a file name that are no UTF-8 become question marks.
    """
    names: list[str] = []
    for path in inputs:
        stem = path.stem.encode("utf-8", "replace").decode("utf-8") or "clip"
        numbered = (f"{stem}-{copy}" for copy in count(2))
        names.append(next(name for name in chain([stem], numbered) if name not in names))
    return names
