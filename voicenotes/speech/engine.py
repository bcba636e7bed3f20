"""faster-whisper: loaded once, and asked for words with their times."""

import os
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import groupby, pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from voicenotes.errors import WeightsError
from voicenotes.media import SAMPLE_RATE, Sound
from voicenotes.speech.activity import Clip, Span
from voicenotes.speech.heard import Heard
from voicenotes.speech.weights import Weights, join_packaged
from voicenotes.transcript import Word

if TYPE_CHECKING:
    from faster_whisper import BatchedInferencePipeline, WhisperModel

BATCH = 8
"""Clips decoded side by side: faster than one by one even on two cores, and memory allows it."""

BEAM = 3
"""Readings followed at a time. Two take a tenth less time and make as few word errors (with the
hint, on four narrations: 2.8 % clean both, 3.4 % for 3.3 % in a pool at 10 dB), but end sentences
in other places and lose a term; one slips in noise (4.0 %); five only take longer."""

AGAIN_BEAM = 5
AGAIN_NEW_WORDS = 5
"""A stretch that is read a second time is read alone, and no five tokens in it may come again: most
often it was a loop that hid it. Chance, as higher temperatures bring it in, would give other words
each time."""

LANGUAGE = "en"

ODD_LOG_PROBABILITY = -0.35
ODD_COMPRESSION = 2.0
"""Clips below or above these are asked what language they are in: English in six voices, in noise
too, lies at -0.3 and better, German, Spanish and French read as English at -0.5 and worse, or it
loops. To ask for all would take a twentieth of the time."""

MOST_THREADS = 8
"""More gain nothing on a model of this size."""


class Engine:
    """A loaded model. ``device`` says where it runs and how."""

    def __init__(self, model: "WhisperModel", device: str) -> None:
        self.device = device
        self.model = model
        self._languages: list[dict[str, float]] = []
        self._pipeline = _pipeline(model, self._languages)

    def hear(self, clips: Sequence[Clip], hint: str) -> list[Heard]:
        """The words of clips, decoded together, and how much each sounds like which language."""
        self._languages.clear()
        edges = np.cumsum([0, *(len(clip.sound) for clip in clips)]) / SAMPLE_RATE
        segments, _ = self._pipeline.transcribe(
            np.concatenate([clip.sound for clip in clips]),
            language=LANGUAGE,
            beam_size=BEAM,
            batch_size=len(clips),
            clip_timestamps=[{"start": start, "end": end} for start, end in pairwise(edges)],
            word_timestamps=True,
            hotwords=hint or None,
        )
        by_clip = [list(group) for _, group in groupby(segments, key=lambda found: found.seek)]
        return [
            _heard(clip, found, clip.start - first, languages)
            for clip, found, first, languages in zip(
                clips, by_clip, edges[:-1], self._languages, strict=True
            )
        ]

    def hear_again(self, sound: Sound, start: float) -> list[Word]:
        """The words of a short stretch another way: alone, without a hint, without loops."""
        segments, _ = self.model.transcribe(
            sound,
            language=LANGUAGE,
            beam_size=AGAIN_BEAM,
            temperature=0.0,
            no_repeat_ngram_size=AGAIN_NEW_WORDS,
            condition_on_previous_text=False,
            word_timestamps=True,
        )
        end = start + len(sound) / SAMPLE_RATE
        found = [word for segment in segments for word in segment.words or []]
        return list(_in_order(found, start, (start, end)))


def _pipeline(
    model: "WhisperModel", languages: list[dict[str, float]]
) -> "BatchedInferencePipeline":
    """Decodes clips together, and notes for each the probability of every language.

    The sound is encoded once for both. Clips that give no cause to ask have no probabilities.
    """
    from ctranslate2 import StorageView
    from faster_whisper import BatchedInferencePipeline

    class Pipeline(BatchedInferencePipeline):  # type: ignore[misc]
        def generate_segment_batched(self, features: Any, tokenizer: Any, options: Any) -> Any:
            encoded, output = super().generate_segment_batched(features, tokenizer, options)
            asked = list(range(len(output)))
            sound = encoded
            if model.model.device == "cpu":  # elsewhere it costs nothing to ask for all
                asked = [at for at in asked if _is_asked(at, output, tokenizer)]
                sound = StorageView.from_array(np.ascontiguousarray(np.asarray(encoded)[asked]))
            told: list[dict[str, float]] = [{} for _ in output]
            for at, shares in zip(asked, model.model.detect_language(sound), strict=True):
                told[at] = {token.strip("<|>"): share for token, share in shares}
            languages.extend(told)
            return encoded, output

    return Pipeline(model)


def _is_asked(at: int, output: Sequence[dict[str, Any]], tokenizer: Any) -> bool:
    """Whether to ask for a clip's language: at both ends of a batch, and where the words are odd.

    English words made of another language are unsure, or loop.
    """
    from faster_whisper.transcribe import get_compression_ratio

    found = output[at]
    odd = found["avg_logprob"] < ODD_LOG_PROBABILITY
    return (
        odd
        or at in {0, len(output) - 1}
        or get_compression_ratio(tokenizer.decode(found["tokens"])) > ODD_COMPRESSION
    )


def _heard(
    clip: Clip, segments: Sequence[Any], offset: float, languages: Mapping[str, float]
) -> Heard:
    """What the engine says of one clip, nearly always in one segment."""
    found = [word for segment in segments for word in segment.words or []]
    return Heard(
        start=clip.start,
        end=clip.end,
        spans=clip.spans,
        words=tuple(_in_order(found, offset, (clip.start, clip.end))),
        log_probability=min(segment.avg_logprob for segment in segments),
        no_speech=max(segment.no_speech_prob for segment in segments),
        compression=max(segment.compression_ratio for segment in segments),
        other=_other(languages),
        english=round(languages[LANGUAGE], 4) if languages else None,
    )


def _other(languages: Mapping[str, float]) -> str | None:
    """The language beside English that a clip is in, where one is likelier than all others."""
    return next((name for name, p in languages.items() if p > 0.5 and name != LANGUAGE), None)


def _in_order(found: Sequence[Any], offset: float, within: Span) -> Iterator[Word]:
    """Whole words, their times moved into the recording, kept inside and running forwards.

    The engine parts "catch-up" and "1.5" at the mark: a piece without a space before it belongs
    to the word before. A piece of nothing but space is none.
    """
    low, high = within
    held: Word | None = None
    for piece in found:
        if not piece.word.strip():
            continue
        start = min(high, max(low, offset + piece.start))
        end = min(high, max(start, offset + piece.end))
        sure = min(1.0, max(0.0, float(piece.probability)))
        if held and not piece.word.startswith(" "):
            text, sure = held.text + piece.word, min(sure, held.probability or 0.0)
            start, end = held.start, max(held.end, end)
        else:
            if held:
                yield held
            text, low = piece.word.strip(), start
        held = Word(text=text, start=round(start, 3), end=round(end, 3), probability=round(sure, 4))
    if held:
        yield held


def load_engine(weights: Weights) -> Engine:
    """The engine with these weights, loaded once in a process.

    Raises WeightsError where they cannot be loaded. Packaged weights that do not load are joined
    again first.
    """
    try:
        return _load(weights.path, weights.identity)
    except RuntimeError:
        if weights.source == "packaged":
            join_packaged(doubted=True)
    try:
        return _load(weights.path, weights.identity)
    except RuntimeError as error:
        raise WeightsError(
            "these speech weights cannot be loaded",
            str(weights.path),
            "name a folder with a CTranslate2 Whisper model",
        ) from error


@lru_cache(maxsize=1)
def _load(folder: Path, identity: str) -> Engine:
    """``identity`` keeps weights that were changed from being taken for the old ones."""
    import ctranslate2

    if ctranslate2.get_cuda_device_count():
        try:
            return _on(folder, "cuda", "float16")
        except RuntimeError:  # a card without its libraries: the processor does as well
            pass
    return _on(folder, "cpu", "int8")


def _on(folder: Path, device: str, kind: str) -> Engine:
    from faster_whisper import WhisperModel

    model = WhisperModel(
        str(folder), device=device, compute_type=kind, cpu_threads=_threads(), local_files_only=True
    )
    if device != "cpu":  # a missing library only shows once there is work to do
        model.encode(np.zeros((model.feature_extractor.mel_filters.shape[0], 3000), np.float32))
    return Engine(model, f"{device} {kind}")


def _threads() -> int:
    usable = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count()
    return min(MOST_THREADS, usable or 1)
