"""What the benchmarks share: a child process with its time and memory, sounds, and bars."""

import os
import re
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import av
import numpy as np

from tests.sounds import whole
from voicenotes.media import SAMPLE_RATE, Sound
from voicenotes.speech.cache import CACHE_VARIABLE
from voicenotes.speech.weights import MODEL_VARIABLE, find_weights

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
COMMAND = [sys.executable, "-c", "from voicenotes.cli import main; main()"]


PAUSE_S = 2.0
"""Silence between one round of a sound and the next."""


@dataclass(frozen=True)
class Took:
    """Seconds by the clock, seconds of processor, and the peak of memory in MB of one process."""

    wall: float
    busy: float
    peak: float

    def __str__(self) -> str:
        return f"{self.wall:7.1f} s  processor {self.busy:7.1f} s  {self.peak:5.0f} MB"


def timed(command: Sequence[str], cache: Path) -> Took:
    """Runs a command with a cache of its own until it ends. Raises where it fails."""
    environment = {
        **os.environ,
        CACHE_VARIABLE: str(cache),
        MODEL_VARIABLE: str(find_weights().path),  # joined already
    }
    started = time.perf_counter()
    run = subprocess.Popen(command, env=environment, stdout=subprocess.DEVNULL)
    _, status, used = os.wait4(run.pid, 0)
    run.returncode = os.waitstatus_to_exitcode(status)
    if run.returncode:
        raise subprocess.CalledProcessError(run.returncode, command)
    wall = time.perf_counter() - started
    return Took(wall, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


def review(sound: Path, out: Path, cache: Path) -> Took:
    """A whole review by the command line, start of the program included."""
    return timed([*COMMAND, "review", str(sound), "--out", str(out)], cache)


def narration() -> tuple[Sound, str]:
    """The example's narration: its sound and its text."""
    text = (EXAMPLES / "narration.txt").read_text(encoding="utf-8")
    return whole(EXAMPLES / "clip.mp4"), re.sub(r"\([\d.]+ s\)\s*", "", text)


def write_long(path: Path, once: Sound, seconds: float) -> Path:
    """A recording as long as asked for, of one sound over and over, each time a little quieter.

    It is written bit by bit, so that making it takes no memory to speak of.
    """
    pause = np.zeros(round(PAUSE_S * SAMPLE_RATE), np.float32)
    with av.open(str(path), "w") as container:
        track = container.add_stream("pcm_s16le", rate=SAMPLE_RATE, layout="mono")
        left, turn = round(seconds * SAMPLE_RATE), 0
        while left > 0:
            piece = np.concatenate([once * 0.99 ** (turn % 50), pause])[:left]
            samples = np.round(piece * 32767).astype(np.int16).reshape(1, -1)
            frame = av.AudioFrame.from_ndarray(samples, format="s16", layout="mono")
            frame.sample_rate = SAMPLE_RATE
            container.mux(track.encode(frame))
            left, turn = left - len(piece), turn + 1
        container.mux(track.encode(None))
    return path


def against(name: str, value: float, bar: float, unit: str = "") -> bool:
    """Prints a figure beside its bar, and says whether it is within it."""
    met = value <= bar
    print(f"{name:48} {value:7.3f}{unit}, {'within' if met else 'OVER'} {bar:g}{unit}", flush=True)
    return met
