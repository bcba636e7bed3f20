"""A run that is killed midway, and taken up again."""

import time
from pathlib import Path

import pytest

from tests.killing import finish, kill_after, long_talk, moments
from tests.sounds import spoken
from voicenotes.media import SAMPLE_RATE
from voicenotes.speech.cache import CACHE_VARIABLE, cache_folder
from voicenotes.speech.recognize import transcribe
from voicenotes.transcript.formats import write_vtt
from voicenotes.vocabulary.load import load_vocabulary

KILLS = 2


@pytest.fixture(autouse=True)
def _fresh(shared_weights: None) -> None:
    """An empty cache; the joined weights are shared."""


def test_a_run_that_is_killed_is_taken_up_to_the_same_transcript(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    remark = spoken()[round(3.5 * SAMPLE_RATE) : round(7.2 * SAMPLE_RATE)]
    clip = long_talk(tmp_path / "clip.wav", remark, 9)  # more than is heard in one go
    out, cache = tmp_path / "out", cache_folder()
    monkeypatch.setenv(CACHE_VARIABLE, str(tmp_path / "other"))
    started = time.perf_counter()
    whole = write_vtt(transcribe(clip, load_vocabulary()))
    took = time.perf_counter() - started
    assert whole.count("elbow") == 9
    killed = 0
    for _, moment in zip(range(KILLS), moments(4, took), strict=False):
        killed += kill_after(moment, clip, out, cache)
        written = {path.name for path in (out / "clip").glob("*")}
        assert not written or len(written) == 6  # a kill may come when all is done
    assert killed
    assert finish(clip, out, cache)["transcript.vtt"].decode() == whole
