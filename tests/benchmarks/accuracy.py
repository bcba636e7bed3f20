"""Words right, measured: ``python -m tests.benchmarks.accuracy``.

Word error rates (jiwer) on open recorded speech, and on the tests' voices clean and with a pool
behind them at 10 dB, once misheard terms are put right; each beside its bar. Then what the hint
brings: the vocabulary's terms and the word errors with and without it, by both ways of decoding
(clips together, and one after another).
"""

import re
import sys
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path

import jiwer
import numpy as np

from tests.benchmarks.measuring import against, narration
from tests.benchmarks.speech import terms
from tests.outside.test_librivox import FOLDER, LINE
from tests.sounds import (
    SCOT,
    SPOKEN,
    WOMAN,
    pool_noise,
    spoken_text,
    whole,
    with_noise,
    write_media,
)
from voicenotes.media import SAMPLE_RATE, Sound
from voicenotes.reading.misheard import repair_misheard
from voicenotes.speech import engine
from voicenotes.speech.activity import find_clips
from voicenotes.speech.bias import hint_of
from voicenotes.speech.recognize import transcribe
from voicenotes.speech.weights import find_weights
from voicenotes.vocabulary.load import load_vocabulary

OPEN_BAR, CLEAN_BAR, POOL_BAR = 0.035, 0.08, 0.15
VOICES = ((SPOKEN, "spoken.txt"), (WOMAN, "voices.txt"), (SCOT, "voices.txt"))
VOCABULARY = load_vocabulary()
TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
ONES = "one two three four five six seven eight nine".split()


def main() -> int:
    """Measures and prints; 1 where a bar is missed."""
    met = []
    if FOLDER.is_dir():
        lines = LINE.finditer((FOLDER / "transcription").read_text(encoding="utf-8"))
        heard = [(line["text"], repaired(FOLDER / f"{line['name']}.wav")) for line in lines]
        met.append(against("open recorded speech", errors(heard), OPEN_BAR))
    else:
        print("open recorded speech is not here: install pocketsphinx-testdata")
    clean = [(spoken_text(text), repaired(voice)) for voice, text in VOICES]
    met.append(against("three voices, clean", errors(clean), CLEAN_BAR))
    pool = [(spoken_text(text), in_a_pool(whole(voice))) for voice, text in VOICES]
    met.append(against("three voices, a pool at 10 dB", errors(pool), POOL_BAR))
    print_bias()
    return 0 if all(met) else 1


def repaired(path: Path) -> str:
    """What is heard, with misheard terms put right."""
    mended, _ = repair_misheard(transcribe(path, VOCABULARY), VOCABULARY)
    return " ".join(cue.text for cue in mended.cues)


def in_a_pool(sound: Sound) -> str:
    """What is heard of a voice with a pool behind it."""
    noisy = with_noise(sound, pool_noise(len(sound) / SAMPLE_RATE + 1), decibels=10)
    with tempfile.TemporaryDirectory() as folder:
        return repaired(write_media(Path(folder) / "noisy.wav", noisy, "pcm_s16le", rate=16_000))


def errors(pairs: Iterable[tuple[str, str]]) -> float:
    """Word error rate over pairs of what was said and what was heard."""
    said, heard = zip(*((plain(said), plain(heard)) for said, heard in pairs), strict=True)
    return float(jiwer.wer(list(said), list(heard)))


def plain(text: str) -> str:
    """Lower case without marks; whole numbers below a hundred as words."""
    return " ".join(_spelled(word) for word in re.findall(r"[a-z0-9']+", text.casefold()))


def _spelled(word: str) -> str:
    digits = re.fullmatch(r"([2-9])(\d)(s?)", word)
    if word == "15":
        return "fifteen"
    if not digits:
        return word
    ten, one = TENS[int(digits[1]) - 2], int(digits[2])
    if digits[3]:
        return f"{ten[:-1]}ies" if not one else f"{ten} {ONES[one - 1]}s"
    return f"{ten} {ONES[one - 1]}" if one else ten


def print_bias() -> None:
    """Terms and word errors with and without the hint, both ways of decoding."""
    sound, said = narration()
    sounds = [(sound, said), *((whole(voice), spoken_text(text)) for voice, text in VOICES)]
    loaded = engine.load_engine(find_weights())
    ways: dict[str, Callable[[Sound, str], str]] = {
        "clips together": lambda sound, hint: _together(loaded, sound, hint),
        "one after another": lambda sound, hint: _one_by_one(loaded, sound, hint),
    }
    for name, way in ways.items():
        for hint in (hint_of(VOCABULARY), ""):
            pairs = [(said, way(sound, hint)) for sound, said in sounds]
            right, told = np.sum([terms(*pair, VOCABULARY) for pair in pairs], axis=0)
            print(
                f"{name:18} {'with' if hint else 'without':7} the hint: terms {right} of {told}, "
                f"word errors {errors(pairs):.1%}",
                flush=True,
            )


def _together(loaded: engine.Engine, sound: Sound, hint: str) -> str:
    clips = list(find_clips(iter([sound])))
    size = engine.BATCH
    batches = [clips[at : at + size] for at in range(0, len(clips), size)]
    heard = [one for batch in batches for one in loaded.hear(batch, hint)]
    return " ".join(word.text for one in heard for word in one.words)


def _one_by_one(loaded: engine.Engine, sound: Sound, hint: str) -> str:
    segments, _ = loaded.model.transcribe(
        sound, language="en", beam_size=engine.BEAM, hotwords=hint or None, word_timestamps=True
    )
    return " ".join(segment.text.strip() for segment in segments)


if __name__ == "__main__":
    sys.exit(main())
