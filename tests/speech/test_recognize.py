"""The real weights on real sound."""

import re
from itertools import pairwise
from pathlib import Path

import jiwer
import numpy as np
import pytest

from tests.sounds import (
    SPOKEN,
    chords,
    cut,
    pool_noise,
    silence,
    spoken,
    spoken_text,
    tone,
    with_noise,
    write_media,
)
from voicenotes.errors import WeightsError
from voicenotes.media import SAMPLE_RATE, Sound
from voicenotes.speech import engine
from voicenotes.speech.cache import CACHE_VARIABLE
from voicenotes.speech.recognize import transcribe
from voicenotes.speech.weights import MODEL_VARIABLE, Weights
from voicenotes.transcript import Transcript
from voicenotes.vocabulary.load import load_vocabulary

VOCABULARY = load_vocabulary()


@pytest.fixture(autouse=True)
def _fresh(shared_weights: None) -> None:
    """An empty cache for each test; the joined weights are shared."""


@pytest.fixture(scope="module")
def heard(packaged: Weights, tmp_path_factory: pytest.TempPathFactory) -> Transcript:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv(MODEL_VARIABLE, str(packaged.path))
        patch.setenv(CACHE_VARIABLE, str(tmp_path_factory.mktemp("heard")))
        return transcribe(SPOKEN, VOCABULARY)


def text_of(transcript: Transcript) -> str:
    return " ".join(cue.text for cue in transcript.cues)


def plain(text: str) -> str:
    """Lower case without marks; the numbers that are spoken in the sound as words."""
    for digits, word in (("58", "fifty-eight"), ("62", "sixty-two"), ("20", "twenty")):
        text = re.sub(rf"\b{digits}\b", word, text)
    return " ".join(re.findall(r"[a-z0-9']+", text.casefold()))


def word_errors(transcript: Transcript) -> float:
    return float(jiwer.wer(plain(spoken_text()), plain(text_of(transcript))))


def write(path: Path, sound: Sound) -> Path:
    return write_media(path, sound, "pcm_s16le", rate=SAMPLE_RATE)


def test_what_is_said_is_written(heard: Transcript) -> None:
    assert word_errors(heard) <= 0.08
    assert heard.doubts == ()
    assert heard.duration == pytest.approx(23.84, abs=0.1)


def test_sentences_end_where_the_speaker_ends_them(heard: Transcript) -> None:
    assert re.findall(r"\w+[.?!]", text_of(heard)) == re.findall(r"\w+[.?!]", spoken_text())


def test_sets_are_written_so_that_count_and_distance_stay_apart(heard: Transcript) -> None:
    assert re.search(r"\bfour (fifties|50s)\b", text_of(heard))


def test_words_have_times_that_run_forwards_and_leave_pauses_empty(heard: Transcript) -> None:
    words = [word for cue in heard.cues for word in cue.words]
    assert all(one.start <= other.start for one, other in pairwise(words))
    assert all(word.probability is not None for word in words)
    (starts,) = [word for word in words if word.text.startswith("starts")]
    after = words[words.index(starts) + 1]
    assert after.start - starts.end == pytest.approx(3.3, abs=0.3)  # (3 s) and a breath


def test_how_it_was_heard_is_told(heard: Transcript) -> None:
    assert heard.engine["recogniser"].startswith("faster-whisper")
    assert "sculling" in heard.engine["hint"]
    assert heard.engine["device"].startswith(("cpu", "cuda"))


def test_the_same_file_is_not_heard_twice(tmp_path: Path) -> None:
    clip = write(tmp_path / "clip.wav", spoken()[: 8 * SAMPLE_RATE])
    watched: list[tuple[float, float]] = []
    first = transcribe(clip, VOCABULARY, progress=lambda *seconds: watched.append(seconds))
    assert np.allclose([watched[0], watched[-1]], [(0.0, 8.0), (8.0, 8.0)], atol=0.1)
    watched.clear()
    again = transcribe(clip, VOCABULARY, progress=lambda *seconds: watched.append(seconds))
    assert again == first
    assert watched == []


def test_a_run_that_was_broken_off_goes_on_to_the_same_transcript(
    tmp_path: Path, cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(engine, "BATCH", 1)
    remark = np.concatenate([spoken()[: round(4.3 * SAMPLE_RATE)], silence(5.0)])
    clip = write(tmp_path / "clip.wav", np.tile(remark, 2))

    def broken_off(done: float, total: float) -> None:
        if done:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        transcribe(clip, VOCABULARY, progress=broken_off)
    kept = set((cache / "heard").iterdir())
    assert len(kept) == 1
    taken_up = transcribe(clip, VOCABULARY)
    assert kept < set((cache / "heard").iterdir())
    monkeypatch.setenv(CACHE_VARIABLE, str(tmp_path / "other"))
    assert transcribe(clip, VOCABULARY) == taken_up
    assert len(taken_up.cues) == 2


def test_a_swimming_pool_behind_the_voice(tmp_path: Path) -> None:
    noisy = with_noise(spoken(), pool_noise(30), decibels=10)
    heard = transcribe(write(tmp_path / "clip.wav", noisy), VOCABULARY)
    assert word_errors(heard) <= 0.15


def test_a_quiet_recording_of_one_channel_at_telephone_rate(tmp_path: Path) -> None:
    clip = tmp_path / "clip.m4a"
    write_media(clip, 0.03 * spoken(), "aac", rate=8000, layout="stereo")
    assert word_errors(transcribe(clip, VOCABULARY)) <= 0.15


@pytest.mark.parametrize(
    "sound",
    [silence(20), tone(20), chords(20), 0.1 * pool_noise(20)],
    ids=["silence", "tone", "music", "pool"],
)
def test_a_recording_without_speech_has_no_cues(tmp_path: Path, sound: Sound) -> None:
    heard = transcribe(write(tmp_path / "clip.wav", sound), VOCABULARY)
    assert heard.cues == ()
    assert heard.duration == pytest.approx(20.0, abs=0.1)


def test_nothing_is_made_up_around_the_speech(tmp_path: Path) -> None:
    around = np.concatenate([0.02 * pool_noise(25), spoken()[: 8 * SAMPLE_RATE], chords(25)])
    heard = transcribe(write(tmp_path / "clip.wav", around), VOCABULARY)
    assert heard.cues[0].start >= 25.0 - 0.3
    assert heard.cues[-1].end <= 33.0 + 0.3
    assert "left elbow drops" in text_of(heard)


def test_a_file_that_breaks_off_says_where(tmp_path: Path) -> None:
    heard = transcribe(cut(write(tmp_path / "clip.wav", spoken()), 0.35), VOCABULARY)
    assert "left elbow drops" in text_of(heard)
    (doubt,) = [doubt for doubt in heard.doubts if doubt.reason == "cut_off"]
    assert doubt.start == pytest.approx(0.35 * 23.84, abs=0.2)


def test_weights_that_do_not_load_are_named(tmp_path: Path) -> None:
    folder = tmp_path / "own"
    folder.mkdir()
    for name in ("model.bin", "config.json", "tokenizer.json"):
        (folder / name).write_bytes(b"{}")
    with pytest.raises(WeightsError, match="cannot be loaded"):
        transcribe(SPOKEN, VOCABULARY, model=str(folder))
