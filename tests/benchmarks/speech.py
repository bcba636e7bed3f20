"""Speech, measured: ``python -m tests.benchmarks.speech [SOUND TEXT]``.

Hears the example's narration (or a recording and the text that is spoken in it) with an empty
cache, then again; then bare, by faster-whisper's own batched and default calls on the same
weights. Prints seconds, seconds over length of sound, processor seconds (which a busy machine
changes less), the peak of memory so far (so the first line's is the tool's own), word errors, the
vocabulary's terms that come out, and the sentence ends that are kept, with and without the hint.
Figures of one run compare with one another; another machine gives others.
"""

import os
import re
import resource
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import jiwer

from voicenotes.media import SAMPLE_RATE, read_sound
from voicenotes.speech import engine
from voicenotes.speech.activity import find_clips
from voicenotes.speech.bias import hint_of
from voicenotes.speech.cache import CACHE_VARIABLE
from voicenotes.speech.recognize import transcribe
from voicenotes.speech.weights import find_weights
from voicenotes.vocabulary.load import load_vocabulary
from voicenotes.vocabulary.model import Vocabulary

EXAMPLES = Path(__file__).parent.parent.parent / "examples"


def main() -> None:
    """Measure and print."""
    given = [Path(argument) for argument in sys.argv[1:3]]
    sound, text = given or (EXAMPLES / "clip.mp4", EXAMPLES / "narration.txt")
    said = re.sub(r"\([\d.]+ s\)\s*", "", text.read_text(encoding="utf-8"))
    vocabulary = load_vocabulary()
    weights = find_weights()  # joined before the clock runs
    length = sum(map(len, read_sound(sound))) / SAMPLE_RATE
    print(f"{sound.name}: {length:.0f} s, {len(said.split())} words, {weights.name}")
    ways = Ways(sound, vocabulary)
    for name, way in (
        ("voicenotes, empty cache", ways.whole),
        ("voicenotes, from cache", ways.again),
        ("clips with the hint", ways.hinted),
        ("clips without a hint", ways.plain),
        ("bare, batched", ways.batched),
        ("bare, one after another", ways.default),
    ):
        started, busy = time.perf_counter(), time.process_time()
        heard = way()
        taken, busy = time.perf_counter() - started, time.process_time() - busy
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(
            f"{name:24} {taken:7.2f} s  {taken / length:6.3f}  {busy:7.2f} s  {peak:5.0f} MB  "
            f"{score(said, heard, vocabulary)}",
            flush=True,
        )


class Ways:
    """Ways to hear one recording; each returns its text."""

    def __init__(self, sound: Path, vocabulary: Vocabulary) -> None:
        self._sound, self._vocabulary = sound, vocabulary
        self._cache = tempfile.mkdtemp()
        self._engine = engine.load_engine(find_weights())
        self._model = self._engine.model

    def whole(self) -> str:
        """The tool's own way."""
        kept = os.environ.get(CACHE_VARIABLE)
        weights = str(find_weights().path)
        os.environ[CACHE_VARIABLE] = self._cache
        try:
            heard = transcribe(self._sound, self._vocabulary, model=weights)
        finally:
            os.environ.pop(CACHE_VARIABLE)
            if kept is not None:
                os.environ[CACHE_VARIABLE] = kept
        return " ".join(cue.text for cue in heard.cues)

    def again(self) -> str:
        """The tool's own way, now that the recording is in the cache."""
        return self.whole()

    def hinted(self) -> str:
        """The clips with the vocabulary's hint, before anything is judged."""
        return self._clips(hint_of(self._vocabulary))

    def plain(self) -> str:
        """The clips without a hint."""
        return self._clips("")

    def _clips(self, hint: str) -> str:
        clips = list(find_clips(read_sound(self._sound)))
        size = engine.BATCH
        batches = [clips[at : at + size] for at in range(0, len(clips), size)]
        heard = [one for batch in batches for one in self._engine.hear(batch, hint)]
        return " ".join(word.text for one in heard for word in one.words)

    def batched(self) -> str:
        """faster-whisper's own batched call."""
        from faster_whisper import BatchedInferencePipeline

        return self._bare(BatchedInferencePipeline(self._model).transcribe)

    def default(self) -> str:
        """faster-whisper's own default call."""
        return self._bare(self._model.transcribe)

    def _bare(self, call: Callable[..., tuple[object, object]]) -> str:
        segments, _ = call(str(self._sound), language="en", beam_size=5, word_timestamps=True)
        return " ".join(segment.text.strip() for segment in segments)  # type: ignore[attr-defined]


def score(said: str, heard: str, vocabulary: Vocabulary) -> str:
    """Word errors, terms that came out, and sentence ends that were kept, in words."""
    errors = jiwer.wer(plain(said), plain(heard))
    right, told = terms(said, heard, vocabulary)
    ends = [len(re.findall(r"[.?!](?=\s|$)", text)) for text in (heard, said)]
    return f"word errors {errors:6.1%}  terms {right}/{told}  sentence ends {ends[0]}/{ends[1]}"


def terms(said: str, heard: str, vocabulary: Vocabulary) -> tuple[int, int]:
    """How often the vocabulary's terms are said, and how many of those came out."""
    forms = {misheard.term for misheard in vocabulary.misheard.values()}
    forms |= {name for aid in vocabulary.aids.values() for name in aid.names}
    forms |= {name for drill in vocabulary.drills.values() for name in drill.names}
    forms |= {form for part in vocabulary.lexicon["part"].values() for form in part.forms}
    right = told = 0
    for form in sorted(plain(form) for form in forms if plain(form)):
        pattern = re.compile(rf"\b{form}\b")
        count = len(pattern.findall(plain(said)))
        told += count
        right += min(count, len(pattern.findall(plain(heard))))
    return right, told


def plain(text: str) -> str:
    """Lower case, no marks."""
    return " ".join(re.findall(r"[a-z0-9']+", text.casefold()))


if __name__ == "__main__":
    main()
