"""From a sound or video file to a transcript."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from importlib.metadata import version
from itertools import islice
from pathlib import Path
from typing import TypeVar

from voicenotes.media import SAMPLE_RATE, Media, Sound, is_cut_off, probe, read_sound
from voicenotes.speech import activity, engine, guards
from voicenotes.speech.bias import hint_of
from voicenotes.speech.cache import Store, cache_folder, digest_of_file, key_of
from voicenotes.speech.cues import split_cues
from voicenotes.speech.heard import Batch, Heard, Hearing
from voicenotes.speech.weights import Weights, find_weights
from voicenotes.transcript import Doubt, Transcript, Word
from voicenotes.transcript.language import UNKNOWN
from voicenotes.vocabulary.model import Vocabulary

Progress = Callable[[float, float], None]
"""Called with seconds done and seconds in all."""

HEARD_FORM = "2"
"""Counts up when what is kept in the cache changes its meaning."""

AGAIN_PAD_S = 0.3
"""Sound kept around a stretch that is heard again."""

T = TypeVar("T")


def transcribe(
    path: Path,
    vocabulary: Vocabulary,
    *,
    model: str | None = None,
    progress: Progress | None = None,
) -> Transcript:
    """Recognises the English speech of a sound or video file, with word times.

    The vocabulary's terms are given to the recogniser as a hint. Stretches are kept in the cache
    as they are heard: the same file is not heard twice, and a run that was broken off goes on
    from its last finished stretch. Words that cannot be trusted, and speech that could not be
    read, are in the transcript's doubts. A file without speech gives a transcript without cues.
    Raises InputError for a file that cannot be read, WeightsError for weights that cannot.
    """
    media = probe(path)
    manner = _Manner(weights=find_weights(model), hint=hint_of(vocabulary))
    store = Store(cache_folder() / "heard")
    key = key_of("recording", manner.key, digest_of_file(path))
    hearing = store.get(key, Hearing)
    if hearing is None:
        hearing = _hear(path, media, manner, store, progress or _unwatched)
        store.put(key, hearing)
    return _transcript(path.stem, media, hearing, manner)


@dataclass(frozen=True)
class _Manner:
    """How it is heard: everything that the words depend on, beside the sound."""

    weights: Weights
    hint: str

    @property
    def options(self) -> dict[str, str]:
        """As they are shown in the transcript."""
        return {
            "recogniser": f"faster-whisper {version('faster-whisper')}",
            "runtime": f"ctranslate2 {version('ctranslate2')}",
            "weights": self.weights.name,
            "language": engine.LANGUAGE,
            "beam": str(engine.BEAM),
            "clips": f"{engine.BATCH} together, up to {activity.CLIP_S:g} s",
            "hint": self.hint,
        }

    @property
    def key(self) -> str:
        return key_of(HEARD_FORM, self.weights.identity, *self.options.values())


def _transcript(name: str, media: Media, hearing: Hearing, manner: _Manner) -> Transcript:
    words, doubts = guards.judge(hearing.clips, manner.hint)
    if hearing.cut_off:
        end = max(hearing.read_s, media.sound_s or 0.0)
        doubts.append(Doubt(start=hearing.read_s, end=end, reason="cut_off"))
    return Transcript(
        name=name,
        cues=tuple(split_cues(words)),
        duration=hearing.read_s,
        language=_language(hearing.clips),
        engine={**manner.options, "device": hearing.device},
        doubts=tuple(sorted(doubts, key=lambda doubt: (doubt.start, doubt.end))),
    )


def _language(clips: Sequence[Heard]) -> str:
    """The language of a recording: another one only where no English is left."""
    foreign = [clip.other or UNKNOWN for clip in clips if guards.is_foreign(clip)]
    if not foreign or len(foreign) < len(clips):
        return engine.LANGUAGE
    return max(foreign, key=foreign.count)


def _unwatched(done: float, total: float) -> None:
    pass


def _hear(path: Path, media: Media, manner: _Manner, store: Store, progress: Progress) -> Hearing:
    """Hears a recording, stretch by stretch as its sound comes in."""
    recogniser = engine.load_engine(manner.weights)
    sound = _Counted(read_sound(path))
    told_s = media.sound_s or 0.0
    progress(0.0, told_s)
    heard: list[Heard] = []
    for clips in _batches(activity.find_clips(sound), engine.BATCH):
        key = key_of("clips", manner.key, *_content(clips))
        batch = store.get(key, Batch)
        if batch is None:
            batch = Batch(clips=tuple(_heard(recogniser, clips, manner.hint)))
            store.put(key, batch)
        heard += batch.clips
        progress(heard[-1].end, max(told_s, sound.seconds))
    progress(sound.seconds, sound.seconds)
    return Hearing(
        clips=tuple(heard),
        read_s=round(sound.seconds, 3),
        cut_off=is_cut_off(media, sound.seconds),
        device=recogniser.device,
    )


class _Counted:
    """Blocks of sound, and how many seconds of them went by."""

    def __init__(self, blocks: Iterator[Sound]) -> None:
        self._blocks = blocks
        self._samples = 0

    def __iter__(self) -> Iterator[Sound]:
        return self

    def __next__(self) -> Sound:
        block = next(self._blocks)
        self._samples += len(block)
        return block

    @property
    def seconds(self) -> float:
        return self._samples / SAMPLE_RATE


def _batches(items: Iterator[T], size: int) -> Iterator[list[T]]:
    while batch := list(islice(items, size)):
        yield batch


def _content(clips: Sequence[activity.Clip]) -> Iterator[bytes | str]:
    """The sound of clips and where it stands in the recording."""
    for clip in clips:
        yield str(clip.start)
        yield clip.sound.tobytes()


def _heard(recogniser: engine.Engine, clips: Sequence[activity.Clip], hint: str) -> Iterator[Heard]:
    """Clips heard together; stretches of speech that gave no words are heard once more."""
    for clip, heard in zip(clips, recogniser.hear(clips, hint), strict=True):
        if guards.is_foreign(heard):
            yield heard
            continue
        again: list[Word] = []
        words, _ = guards.without_loops(heard)
        for span in guards.unread(heard.spans, words):
            again += _heard_again(recogniser, clip, span)
        yield heard.model_copy(update={"again": tuple(again)})


def _heard_again(
    recogniser: engine.Engine, clip: activity.Clip, span: activity.Span
) -> Iterator[Word]:
    start, end = span
    first = max(0, round((start - AGAIN_PAD_S - clip.start) * SAMPLE_RATE))
    last = round((end + AGAIN_PAD_S - clip.start) * SAMPLE_RATE)
    for word in recogniser.hear_again(clip.sound[first:last], clip.start + first / SAMPLE_RATE):
        if start <= (word.start + word.end) / 2 <= end:
            yield word
