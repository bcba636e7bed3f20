"""Three voices, as they are recorded beside a pool, in the files that people have."""

import re
from collections.abc import Callable
from pathlib import Path

import jiwer
import numpy as np
import pytest

from tests.sounds import (
    GERMAN,
    SCOT,
    SPOKEN,
    WOMAN,
    clipped,
    in_a_hall,
    pool_noise,
    silence,
    spoken_text,
    whole,
    with_noise,
    write_media,
)
from voicenotes.errors import InputError
from voicenotes.media import SAMPLE_RATE, Sound
from voicenotes.reading.misheard import repair_misheard
from voicenotes.reviewing import hear
from voicenotes.speech.activity import find_speech
from voicenotes.speech.recognize import transcribe
from voicenotes.transcript import Transcript
from voicenotes.vocabulary.load import load_vocabulary

VOCABULARY = load_vocabulary()
TEXTS = {SPOKEN: "spoken.txt", WOMAN: "voices.txt", SCOT: "voices.txt"}
FIGURES = {
    "15": "fifteen", "20": "twenty", "50s": "fifties", "58": "fifty eight", "62": "sixty two",
    "70": "seventy",
}  # fmt: skip


@pytest.fixture(autouse=True)
def _fresh(shared_weights: None) -> None:
    """An empty cache for each test; the joined weights are shared."""


def plain(text: str) -> str:
    """Lower case without marks; numbers as words."""
    return " ".join(FIGURES.get(word, word) for word in re.findall(r"[a-z0-9']+", text.casefold()))


def word_errors(voice: Path, heard: Transcript) -> float:
    """Word error rate (jiwer) once misheard terms are put right."""
    mended, _ = repair_misheard(heard, VOCABULARY)
    said = plain(spoken_text(TEXTS[voice]))
    return float(jiwer.wer(said, plain(" ".join(cue.text for cue in mended.cues))))


def in_a_pool(sound: Sound) -> Sound:
    return with_noise(sound, pool_noise(30), decibels=10)


def clean(sound: Sound) -> Sound:
    return sound


CONDITIONS: dict[str, tuple[Path, Callable[[Sound], Sound], str, dict[str, object], float]] = {
    "a woman, clean, mp3": (WOMAN, clean, "clip.mp3 libmp3lame", {}, 0.08),
    "a woman in a pool, mkv": (WOMAN, in_a_pool, "clip.mkv libopus", {"picture_s": 20}, 0.15),
    "a woman in a hall, mov": (WOMAN, in_a_hall, "clip.mov aac", {"picture_s": 20}, 0.15),
    "a woman too loud, m4a": (WOMAN, clipped, "clip.m4a aac", {}, 0.15),
    "a Scot, clean, opus": (SCOT, clean, "clip.opus libopus", {}, 0.08),
    "a Scot in a pool, one ear": (SCOT, in_a_pool, "clip.m4a aac", {"layout": "stereo"}, 0.15),
    "a man in a hall, 8 kHz": (SPOKEN, in_a_hall, "clip.mkv pcm_s16le", {"rate": 8000}, 0.15),
}


@pytest.mark.parametrize(
    ("voice", "recorded", "kind", "how", "most"), CONDITIONS.values(), ids=list(CONDITIONS)
)
def test_what_is_said_is_written_whole(
    tmp_path: Path,
    voice: Path,
    recorded: Callable[[Sound], Sound],
    kind: str,
    how: dict[str, object],
    most: float,
) -> None:
    name, codec = kind.split()
    sound = whole(voice)
    clip = write_media(tmp_path / name, recorded(sound), codec, **how)  # type: ignore[arg-type]
    heard = transcribe(clip, VOCABULARY)
    assert word_errors(voice, heard) <= most
    assert left_out(sound, heard) == []


def left_out(sound: Sound, heard: Transcript) -> list[float]:
    """Moments with a voice in the clean sound near which is neither a word nor a doubt."""
    told = [(word.start, word.end) for cue in heard.cues for word in cue.words]
    told += [(doubt.start, doubt.end) for doubt in heard.doubts]
    voiced = [
        float(at) for start, end in find_speech(sound) for at in np.arange(start, end - 0.1, 0.25)
    ]
    return [at for at in voiced if not any(a - 0.6 <= at <= b + 0.6 for a, b in told)]


def test_another_language_is_no_review() -> None:
    with pytest.raises(InputError, match=r"is not in English \(most like 'de'\)"):
        hear(GERMAN, VOCABULARY)


def test_another_language_beside_english_is_told_of_and_not_read(tmp_path: Path) -> None:
    english, german = whole(SPOKEN)[: 8 * SAMPLE_RATE], whole(GERMAN)
    both = np.concatenate([english, silence(5), german])
    heard = hear(write_media(tmp_path / "clip.wav", both, "pcm_s16le"), VOCABULARY)
    assert "left elbow drops" in " ".join(cue.text for cue in heard.cues)
    assert max(cue.end for cue in heard.cues) < 8.5
    (doubt,) = heard.doubts
    assert doubt.reason == "other_language"
    assert (doubt.start, doubt.end) == pytest.approx((13, 13 + len(german) / SAMPLE_RATE), abs=0.7)
