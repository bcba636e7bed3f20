"""The user's cache: what was heard before, and the joined weights."""

import contextlib
import hashlib
import os
import tempfile
from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from voicenotes.record import Record

CACHE_VARIABLE = "VOICENOTES_CACHE"
"""Environment variable that names another folder for the cache."""

R = TypeVar("R", bound=Record)


def cache_folder() -> Path:
    """The folder for the cache: as the environment says, or the user's own for this system."""
    from platformdirs import user_cache_path

    named = os.environ.get(CACHE_VARIABLE)
    return Path(named).expanduser() if named else user_cache_path("voicenotes", appauthor=False)


def key_of(*parts: bytes | str) -> str:
    """A key that changes with any of its parts."""
    digest = hashlib.sha256()
    for part in parts:
        data = part.encode() if isinstance(part, str) else part
        digest.update(len(data).to_bytes(8, "big") + data)
    return digest.hexdigest()


def digest_of_file(path: Path) -> str:
    """SHA-256 of a file's bytes. Raises OSError where it cannot be read."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def write_whole(path: Path, data: bytes) -> None:
    """Writes a file so that it is there whole or not at all. Raises OSError."""
    handle, name = tempfile.mkstemp(prefix=f".{path.name[:40]}-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


class Store:
    """Records kept under a key. A coach's words are private: only the user can read them."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def get(self, key: str, kind: type[R]) -> R | None:
        """The record kept under a key; None where there is none or it is damaged."""
        try:
            return kind.model_validate_json((self._folder / f"{key}.json").read_bytes())
        except (OSError, ValidationError):
            return None

    def put(self, key: str, record: Record) -> None:
        """Keeps a record. Without room or leave to write, the work goes on without a cache."""
        with contextlib.suppress(OSError):
            self._folder.mkdir(parents=True, exist_ok=True, mode=0o700)
            data = record.model_dump_json().encode()
            write_whole(self._folder / f"{key}.json", data)
