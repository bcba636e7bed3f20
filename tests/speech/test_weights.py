import os
from pathlib import Path

import pytest

from voicenotes.errors import WeightsError
from voicenotes.speech.cache import CACHE_VARIABLE, digest_of_file
from voicenotes.speech.weights import (
    MODEL_VARIABLE,
    PACKAGED_SHA256,
    Weights,
    find_weights,
    list_models,
)


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """A folder that looks like weights of one's own."""
    folder = tmp_path / "own"
    folder.mkdir()
    for name in ("model.bin", "config.json", "tokenizer.json"):
        (folder / name).write_bytes(b"{}")
    return folder


def test_the_packaged_weights_are_joined_whole(packaged: Weights) -> None:
    assert packaged.state == "ready"
    assert packaged.size == 145_217_607
    assert digest_of_file(packaged.path / "model.bin") == PACKAGED_SHA256


@pytest.mark.parametrize("damage", ["shorter", "overwritten", "gone", "no tokenizer"])
def test_a_broken_cache_heals_itself(cache: Path, damage: str) -> None:
    joined = find_weights().path / "model.bin"
    if damage == "shorter":
        os.truncate(joined, 1000)
    elif damage == "overwritten":
        with joined.open("r+b") as file:
            file.seek(5_000_000)
            file.write(b"damage")
    elif damage == "gone":
        joined.unlink()
    else:
        (joined.parent / "tokenizer.json").write_bytes(b"")
    assert list_models()[0].state != "ready"
    healed = find_weights()
    assert healed.state == "ready"
    assert digest_of_file(joined) == PACKAGED_SHA256
    assert (joined.parent / "tokenizer.json").stat().st_size > 1_000_000


def test_nothing_is_left_beside_the_joined_weights(packaged: Weights) -> None:
    assert sorted(path.name for path in packaged.path.iterdir()) == [
        "config.json",
        "model.bin",
        "stamp.json",
        "tokenizer.json",
        "vocabulary.json",
    ]


def test_weights_that_are_there_need_no_leave_to_write(
    cache: Path, packaged: Weights, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(CACHE_VARIABLE, str(packaged.path.parent.parent))
    packaged.path.chmod(0o500)
    try:
        assert find_weights() == packaged
    finally:
        packaged.path.chmod(0o700)


def test_an_own_folder_comes_before_the_environment_before_the_package(
    cache: Path, own: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told = tmp_path / "told"
    own.rename(told)
    monkeypatch.setenv(MODEL_VARIABLE, str(told))
    assert find_weights().path == told
    named = tmp_path / "named"
    named.mkdir()
    for file in told.iterdir():
        (named / file.name).write_bytes(file.read_bytes())
    assert find_weights(str(named)).path == named
    assert not cache.exists()


def test_changed_weights_are_other_weights(own: Path) -> None:
    before = find_weights(str(own)).identity
    (own / "model.bin").write_bytes(b"{other}")
    assert find_weights(str(own)).identity != before


@pytest.mark.parametrize("missing", ["model.bin", "config.json", "tokenizer.json"])
def test_a_folder_that_lacks_a_file_is_refused(own: Path, missing: str) -> None:
    (own / missing).unlink()
    with pytest.raises(WeightsError, match=f"has no {missing}"):
        find_weights(str(own))


@pytest.mark.parametrize(
    ("model", "told"),
    [
        ("smal.en", "did you mean 'small.en'"),
        ("../weights", "no such folder"),
        ("/no/such/folder", "no such folder"),
        (__file__, "is a file"),
    ],
)
def test_a_wrong_name_is_told(cache: Path, model: str, told: str) -> None:
    with pytest.raises(WeightsError, match=told):
        find_weights(model)


def test_a_name_in_the_environment_asks_nothing_of_the_network(
    cache: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(MODEL_VARIABLE, "nobody/no-such-model-anywhere")
    with pytest.raises(WeightsError, match="not on this machine"):
        find_weights()


def test_an_unwritable_cache_is_told(
    tmp_path: Path, cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    blocked = tmp_path / "a-file"
    blocked.touch()
    monkeypatch.setenv(CACHE_VARIABLE, str(blocked / "cache"))
    with pytest.raises(WeightsError, match="VOICENOTES_CACHE"):
        find_weights()


def test_the_list_tells_what_is_used(
    cache: Path, own: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (first, *_) = list_models()
    assert (first.name, first.state, first.used) == ("whisper-base", "not joined yet", True)
    monkeypatch.setenv(MODEL_VARIABLE, str(own))
    first, second, *_ = list_models()
    assert (first.source, first.state, first.used) == ("environment", "ready", True)
    assert (second.source, second.used) == ("packaged", False)
    monkeypatch.setenv(MODEL_VARIABLE, "/no/such/folder")
    assert list_models()[0].state == "missing"
