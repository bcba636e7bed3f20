"""Every test has a history of its own, so that none reaches the user's."""

from pathlib import Path

import pytest

from voicenotes.history.place import HISTORY_VARIABLE


@pytest.fixture(autouse=True)
def own_history(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The history file of this test; the command line goes by it too."""
    path = tmp_path / "own-data" / "history.sqlite3"
    monkeypatch.setenv(HISTORY_VARIABLE, str(path))
    return path
