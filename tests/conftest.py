"""Every test has a history of its own, so that none reaches the user's."""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from voicenotes.history.place import HISTORY_VARIABLE


@pytest.fixture(scope="session", autouse=True)
def history_of_the_run(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """One for what is made outside of a single test."""
    before = os.environ.get(HISTORY_VARIABLE)
    os.environ[HISTORY_VARIABLE] = str(tmp_path_factory.mktemp("data") / "history.sqlite3")
    yield
    os.environ.pop(HISTORY_VARIABLE)
    if before is not None:
        os.environ[HISTORY_VARIABLE] = before


@pytest.fixture(autouse=True)
def own_history(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The history file of this test; the command line goes by it too."""
    path = tmp_path / "own-data" / "history.sqlite3"
    monkeypatch.setenv(HISTORY_VARIABLE, str(path))
    return path
