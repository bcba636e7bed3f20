"""Writes a folder of results, or a file, whole or not at all."""

import contextlib
import errno
import os
import shutil
import stat
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path

from voicenotes.errors import OutputError

_REMEDIES = {
    errno.ENOSPC: ("the disk is full", "free some space and run it again"),
    errno.EDQUOT: ("the disk quota is used up", "free some space and run it again"),
    errno.EROFS: ("the disk is read-only", "name a folder elsewhere with --out"),
    errno.EACCES: ("no permission to write", "name another folder with --out or allow writing"),
    errno.EPERM: ("no permission to write", "name another folder with --out or allow writing"),
}


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Writes files into a folder so that either all of them are there or the old ones stay.

    A name may lead into a folder of its own ("stills/1.jpg"), which is then replaced as a whole.

    The new folder is made beside the old one, forced to the disk, and takes its place; whatever
    else the old one holds is carried over. Raises OutputError where it cannot be written; then
    the old folder is as it was and nothing is left beside it.
    """
    with _told(folder):
        place = Path(os.path.realpath(folder))
        if place.exists() and not place.is_dir():
            raise OutputError("is a file, not a folder", str(folder), "name a folder with --out")
        if place.is_dir() and not os.access(place, os.W_OK | os.X_OK):
            raise PermissionError(errno.EACCES, "permission denied")
        _replace_whole(place, files)


def write_file(path: Path, data: bytes) -> None:
    """Writes one file so that it is there whole or the old one stays. Raises OutputError."""
    with _told(path):
        place = Path(os.path.realpath(path))
        if place.is_dir():
            raise OutputError("is a folder, not a file", str(path), "name a file with --out")
        work = Path(tempfile.mkdtemp(prefix=working_name(place), dir=place.parent))
        try:
            _write_durably(work / "new", data)
            (work / "new").replace(place)
            _sync(place.parent)
        finally:
            shutil.rmtree(work, ignore_errors=True)


@contextlib.contextmanager
def _told(place: Path) -> Iterator[None]:
    """One line for what the system says of a place that is written to."""
    try:
        yield
    except OSError as error:
        reason = (error.strerror or "what it holds could not be kept").lower()
        fallback = (reason, "name another folder with --out")
        what, remedy = _REMEDIES.get(error.errno or 0, fallback)
        raise OutputError(f"cannot be written ({what})", str(place), remedy) from error


def working_name(place: Path) -> str:
    """How the name of a folder begins in which a new one is made, beside its place; a run that was
    killed leaves it."""
    return f".{place.name[:40]}-"


def _replace_whole(place: Path, files: Mapping[str, bytes]) -> None:
    place.parent.mkdir(parents=True, exist_ok=True)
    work = Path(tempfile.mkdtemp(prefix=working_name(place), dir=place.parent))
    try:
        new = work / "new"
        new.mkdir()
        for name, data in files.items():
            (new / name).parent.mkdir(exist_ok=True)
            _write_durably(new / name, data)
        if place.is_dir():
            _carry_over(place, new, {name.split("/")[0] for name in files})
        _swap(place, new, work / "old")
    finally:
        shutil.rmtree(work, ignore_errors=True)


def _write_durably(path: Path, data: bytes) -> None:
    with path.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _carry_over(old: Path, new: Path, ours: set[str]) -> None:
    """Gives the new folder the old one's mode and all that is not ours, by link where it can."""
    for entry in old.iterdir():
        if entry.name in ours:
            continue
        if entry.is_dir() and not entry.is_symlink():
            shutil.copytree(entry, new / entry.name, symlinks=True, copy_function=_link)
        else:
            _link(str(entry), str(new / entry.name))
    new.chmod(stat.S_IMODE(old.stat().st_mode))


def _link(source: str, target: str) -> str:
    try:
        os.link(source, target, follow_symlinks=False)
    except OSError as error:
        if error.errno in {errno.ENOSPC, errno.EDQUOT}:
            raise
        shutil.copy2(source, target, follow_symlinks=False)
    return target


def _swap(place: Path, new: Path, old: Path) -> None:
    """Puts the new folder in place; puts the old one back where that fails."""
    _sync(new)
    if not place.exists():
        new.rename(place)
    else:
        try:
            place.rename(old)
            new.rename(place)
        except BaseException:  # Ctrl-C too must not leave the folder away
            if old.exists() and not place.exists():
                old.rename(place)
            raise
    _sync(place.parent)


def _sync(folder: Path) -> None:
    """Forces a folder's entries to the disk, where the system can."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
