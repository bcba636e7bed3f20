from pathlib import Path

import pytest

from voicenotes.speech.cache import CACHE_VARIABLE
from voicenotes.speech.weights import MODEL_VARIABLE, Weights, find_weights


@pytest.fixture(scope="session")
def packaged(tmp_path_factory: pytest.TempPathFactory) -> Weights:
    """The packaged weights, joined once for all tests."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(CACHE_VARIABLE, str(tmp_path_factory.mktemp("weights")))
        patch.delenv(MODEL_VARIABLE, raising=False)
        return find_weights()


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty cache, and no weights named by the environment."""
    folder = tmp_path / "cache"
    monkeypatch.setenv(CACHE_VARIABLE, str(folder))
    monkeypatch.delenv(MODEL_VARIABLE, raising=False)
    return folder


@pytest.fixture
def shared_weights(cache: Path, packaged: Weights, monkeypatch: pytest.MonkeyPatch) -> None:
    """An empty cache, but the joined weights at hand."""
    monkeypatch.setenv(MODEL_VARIABLE, str(packaged.path))
