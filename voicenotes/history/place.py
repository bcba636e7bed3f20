"""Where the history is kept, and its file: the owner's alone."""

import os
from pathlib import Path

HISTORY_VARIABLE = "VOICENOTES_HISTORY"
"""Environment variable that names another file for the history."""

FILE = "history.sqlite3"

BESIDE = ("-wal", "-shm", "-journal")
"""What SQLite puts beside its file while it works, by the ends of their names."""


def history_file(named: Path | None = None) -> Path:
    """The file as named, as the environment says, or in the user's own data folder."""
    told = named or os.environ.get(HISTORY_VARIABLE)
    return Path(told).expanduser() if told else _own_folder() / FILE


def make_private(path: Path) -> None:
    """Makes the file, and folders that are missing on the way, for the owner's eyes alone.

    SQLite gives what it puts beside a file the file's own mode. Raises OSError.
    """
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    if path.parent == _own_folder():
        path.parent.chmod(0o700)
    os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))
    path.chmod(0o600)


def files_of(path: Path) -> list[Path]:
    """The file and what lies beside it, as far as they are there."""
    return [file for end in ("", *BESIDE) if (file := path.with_name(path.name + end)).is_file()]


def _own_folder() -> Path:
    from platformdirs import user_data_path

    return user_data_path("voicenotes", appauthor=False)
