"""Where everything is kept on this machine, and what was taken away."""

import os
from pathlib import Path
from typing import NamedTuple

from voicenotes.history.place import files_of, history_file
from voicenotes.speech.cache import cache_folder

KEPT_IN_CACHE = {
    "heard": "recordings as heard, in words",
    "read": "notes as read from the words",
}


class Place(NamedTuple):
    """A file or folder, what it holds, its files and their bytes in all."""

    path: Path
    holds: str
    files: int
    size: int


class Forgotten(NamedTuple):
    """What was taken away: reviews and files of the cache, by number; folders whose files were
    deleted; and folders that are still there, with what they hold."""

    swimmer: str
    reviews: int
    cached: int
    deleted: tuple[Path, ...]
    left: tuple[Path, ...]


def places(named: Path | None = None) -> list[Place]:
    """The history, the parts of the cache, and whatever else the cache holds; makes nothing."""
    history, cache = history_file(named), cache_folder()
    found = [_place(history, "the swimmers' history", files_of(history))]
    parts = [path for path in sorted(cache.iterdir()) if path.is_dir()] if cache.is_dir() else []
    for part in parts:
        holds = KEPT_IN_CACHE.get(part.name, "parts of the tool, unpacked: nothing of a swimmer")
        found.append(_place(part, holds, _files_in(part)))
    return found if parts else [*found, _place(cache, "the cache", [])]


def _files_in(folder: Path) -> list[Path]:
    return [Path(top) / name for top, _, names in os.walk(folder) for name in names]


def _place(path: Path, holds: str, files: list[Path]) -> Place:
    return Place(path, holds, len(files), sum(file.lstat().st_size for file in files))
