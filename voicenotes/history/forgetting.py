"""Forgetting a swimmer: out of the history, out of the cache, and the folders of the reviews."""

import glob
import json
import shutil
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from voicenotes.errors import InputError, OutputError
from voicenotes.files import working_name
from voicenotes.folder import WRITTEN, load_review
from voicenotes.history.kept import OPENING, Kept, trace, words_of
from voicenotes.history.places import Forgotten
from voicenotes.history.store import History, fold

CACHED = ("heard", "read")
"""Folders of the cache that hold words of narrations."""

TEXTS = ("text", "quote", "heard")
"""Fields of what they hold that are words of the narration."""

SHORTEST_NAME = 3
"""Letters of a part of a name that is looked for by itself."""


def forget(history: History, swimmer: str, cache: Path, *, folders: bool) -> Forgotten:
    """Takes all traces of a swimmer out of the history and the cache.

    ``folders`` deletes what voicenotes wrote into the folders of the reviews, too; a file of the
    coach's own in there stays, and so does its folder. The history goes last: where something
    cannot be deleted, it can be run again. Raises InputError, OutputError.
    """
    name = history.named(swimmer)
    reviews = history.reviews(name)
    places = [Path(kept.folder) for kept in reviews]
    there = [place for place in dict.fromkeys(places) if _is_of(place, name)]
    try:
        cached = _forget_cached(cache, name, reviews)
        for place in there if folders else []:
            _empty(place)
    except OSError as error:
        where = str(error.filename or cache)
        what = f"cannot be deleted ({(error.strerror or str(error)).lower()})"
        raise OutputError(what, where, "allow it, and run it again") from error
    history.forget(name)
    left = tuple(place for place in there if place.exists())
    deleted = tuple(there) if folders else ()
    return Forgotten(name, len(reviews), cached, deleted, left)


def _is_of(place: Path, swimmer: str) -> bool:
    """Whether a folder still holds a review of this swimmer."""
    try:
        return fold(load_review(place).brief.swimmer or "") == fold(swimmer)
    except InputError:
        return False


def _empty(place: Path) -> None:
    """Deletes what voicenotes wrote into a folder, the review last, what a killed run left beside
    it, and the folder if that is all; raises OSError."""
    for name in WRITTEN:
        if (place / name).is_dir():
            shutil.rmtree(place / name)
        else:
            (place / name).unlink(missing_ok=True)
    for left in place.parent.glob(f"{glob.escape(working_name(place))}*"):
        shutil.rmtree(left)
    if not any(place.iterdir()):
        place.rmdir()


def _forget_cached(cache: Path, name: str, reviews: Sequence[Kept]) -> int:
    """Deletes what belongs to the reviews or holds the name, and counts it. What is deleted
    beyond that is only heard or read again."""
    traces = {one for kept in reviews for one in kept.traces}
    parts = {part for part in words_of(name) if len(part) >= SHORTEST_NAME} or set(words_of(name))
    found = [
        path
        for folder in CACHED
        if (cache / folder).is_dir()
        for path in sorted((cache / folder).iterdir())
        if path.is_file() and _holds(path, name, parts, traces)
    ]
    for path in found:
        path.unlink(missing_ok=True)
    return len(found)


def _holds(path: Path, name: str, parts: set[str], traces: set[str]) -> bool:
    data = path.read_bytes().decode("utf-8", "replace")
    if fold(name) in fold(data):
        return True
    try:
        said = words_of(" ".join(_texts(json.loads(data))))
    except ValueError:  # what was left of a write that was killed: nobody can read it
        return True
    runs = (said[at : at + OPENING] for at in range(len(said) - OPENING + 1))
    return bool(parts & set(said)) or any(trace(run) in traces for run in runs)


def _texts(data: Any) -> Iterator[str]:
    if isinstance(data, dict):
        for key, value in data.items():
            if key in TEXTS and isinstance(value, str):
                yield value
            else:
                yield from _texts(value)
    elif isinstance(data, list):
        for value in data:
            yield from _texts(value)
