"""Many reviews: each input stands alone, so that one bad clip stops none of the others."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta
from functools import lru_cache
from itertools import chain, count
from pathlib import Path
from typing import Any, Literal, Protocol

from voicenotes.clock import SAME, Clock
from voicenotes.days import today
from voicenotes.editing.apply import apply_edit, as_heard
from voicenotes.editing.names import notes_of
from voicenotes.editing.read import read_edit
from voicenotes.editing.write import EDIT, edit_yaml
from voicenotes.errors import InputError, UserError
from voicenotes.feedback.data import review_json
from voicenotes.feedback.environment import check_templates
from voicenotes.folder import Written, load_review, path_from, write_review
from voicenotes.judging.steps import step_on
from voicenotes.media import clip_length, has_picture, probe
from voicenotes.review import Review, Source
from voicenotes.reviewing import hear, review
from voicenotes.settings import Settings, brief_for, check_options, load_settings
from voicenotes.transcript import Transcript
from voicenotes.transcript.formats import looks_like_transcript
from voicenotes.vocabulary.load import load_vocabulary
from voicenotes.vocabulary.model import Vocabulary


class Watcher(Protocol):
    """Is told how far the work has come."""

    def hearing(self, name: str, done: float, total: float) -> None:
        """Seconds heard of the seconds in all."""
        ...


def review_all(
    inputs: Sequence[Path],
    out: Path,
    options: Mapping[str, Any],
    model: str | None,
    watcher: Watcher,
    *,
    embed: bool = False,
) -> Iterator[Written | UserError]:
    """Reviews each input into its own folder of ``out``, as it goes along.

    ``embed`` puts each clip into its page. An input that cannot be reviewed gives its error in
    place of a review. Raises UserError for an option that is wrong for all of them.
    """
    check_options(options)
    _vocabulary(options.get("vocabulary"))
    if options.get("templates"):
        check_templates(options["templates"])
    for path, name in zip(inputs, _names(inputs), strict=True):
        try:
            yield review_one(path, out / name, options, model, watcher, embed=embed)
        except UserError as error:
            yield error


def review_one(
    path: Path,
    folder: Path,
    options: Mapping[str, Any],
    model: str | None,
    watcher: Watcher,
    *,
    embed: bool = False,
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
    kept = _kept(folder)
    start = brief.start or (kept.brief.start if kept else None) or (today() + timedelta(days=1))
    made = review(transcript, vocabulary, brief.model_copy(update={"start": start}), clock)
    source = _source(path, folder, settings, embed=embed)
    on = _first_made(kept, source, made.duration)
    heard = made.model_copy(
        update={"source": source, "made": made.made.model_copy(update={"on": on})}
    )
    return _with_kept_edit(heard, kept, transcript, vocabulary, folder)


def _source(path: Path, folder: Path, settings: Settings, *, embed: bool) -> Source:
    clip = _own_clip(path, settings)
    played = clip or path
    kind: Literal["video", "sound", "transcript"] = "transcript"
    if not looks_like_transcript(played):
        kind = "video" if has_picture(played) else "sound"
    own = {"clip": clip, "vocabulary": settings.vocabulary, "templates": settings.templates}
    return Source(
        kind=kind,
        path=path_from(folder, path),
        embedded=embed and kind != "transcript",
        **{key: path_from(folder, place) if place else None for key, place in own.items()},
    )


def _kept(folder: Path) -> Review | None:
    """The review that stands in a folder already, where one can be read."""
    try:
        return load_review(folder)
    except InputError:
        return None


def _first_made(kept: Review | None, source: Source, duration: float) -> date:
    """Today, or the day that the folder's review of the same narration was made."""
    same = kept and kept.source and (kept.source.path, kept.duration) == (source.path, duration)
    return (kept.made.on if kept and same else None) or today()


def _with_kept_edit(
    heard: Review,
    kept: Review | None,
    transcript: Transcript,
    vocabulary: Vocabulary,
    folder: Path,
) -> Written:
    """Writes a review with the edit that the coach made before, where there is one.

    An edit that does not fit what was heard this time stays in the folder and is told of. What
    was approved stays so where nothing has changed.
    """
    path = folder / EDIT
    if not path.is_file() or _is_untouched(path, kept, vocabulary):
        return write_review(
            _approved_as(kept, heard, vocabulary), heard, transcript, vocabulary, folder, None
        )
    edit, notice = path.read_bytes(), None
    try:
        edited = _approved_as(kept, apply_edit(heard, read_edit(path), vocabulary), vocabulary)
    except InputError as error:
        edited, notice = heard.model_copy(update={"draft": True}), str(error)
    written = write_review(edited, heard, transcript, vocabulary, folder, edit)
    return written.model_copy(update={"notice": notice})


def _is_untouched(path: Path, kept: Review | None, vocabulary: Vocabulary) -> bool:
    if kept is None:
        return False
    heard = as_heard(kept, vocabulary)
    return path.read_bytes() == edit_yaml(heard, notes_of(heard)).encode("utf-8")


def _approved_as(kept: Review | None, review: Review, vocabulary: Vocabulary) -> Review:
    """The review with the approval that its folder holds, if it is still the same review."""
    if kept is None or not kept.approved:
        return review
    as_then = {"approved": True, "draft": False, "since": kept.since}
    approved = step_on(review.model_copy(update=as_then), vocabulary)
    brief = review.brief.model_copy(update={"start": kept.brief.start})
    same = {"source": kept.source, "brief": brief, "made": kept.made}
    alike = review_json(approved.model_copy(update=same)) == review_json(kept)
    return approved if alike else review


def clock_for(narration: Path, settings: Settings) -> Clock:
    """Where the clip stands while a narration runs, as far as it is known.

    A narration with a picture, and no clip named beside it, is spoken over the clip itself.
    Raises InputError for a clip or a narration that cannot be read.
    """
    clip = _own_clip(narration, settings)
    if clip is not None:
        return Clock(length_s=clip_length(clip), marks=settings.marks)
    if looks_like_transcript(narration) or not probe(narration).has_video:
        return Clock(marks=settings.marks)
    return Clock(length_s=clip_length(narration), marks=settings.marks or SAME)


def _own_clip(narration: Path, settings: Settings) -> Path | None:
    """The clip, where it is another file than the narration."""
    clip = settings.clip
    same = clip and narration.exists() and clip.exists() and clip.samefile(narration)
    return None if same else clip


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
