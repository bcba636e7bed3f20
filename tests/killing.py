"""Runs of the command line that are killed midway, and taken up again."""

import os
import random
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from tests.sounds import silence, write_media
from voicenotes.media import SAMPLE_RATE, Sound
from voicenotes.speech.cache import CACHE_VARIABLE

COMMAND = [sys.executable, "-c", "from voicenotes.cli import main; main()"]


def long_talk(path: Path, voice: Sound, times: int) -> Path:
    """A recording of a voice over and over, a little quieter each time, so that none is the same;
    in stretches too long to be heard in one go."""
    parts = [piece for time in range(times) for piece in (voice * 0.97**time, silence(4.5))]
    return write_media(path, np.concatenate(parts), "pcm_s16le", rate=SAMPLE_RATE)


def finish(clip: Path, out: Path, cache: Path) -> dict[str, bytes]:
    """The files of a review that is left to end, by name."""
    subprocess.run(
        _command(clip, out), env=_environment(cache), check=True, stdout=subprocess.DEVNULL
    )
    return {path.name: path.read_bytes() for path in sorted((out / clip.stem).iterdir())}


def kill_after(seconds: float, clip: Path, out: Path, cache: Path) -> bool:
    """Starts a review and kills it (SIGKILL) after some seconds; whether it was still running."""
    run = subprocess.Popen(_command(clip, out), env=_environment(cache), stdout=subprocess.DEVNULL)
    try:
        run.wait(seconds)
    except subprocess.TimeoutExpired:
        run.kill()
    return run.wait() < 0


def moments(seed: int, length_s: float) -> Iterator[float]:
    """Random seconds of a run, the same for the same seed."""
    drawn = random.Random(seed)
    while True:
        yield drawn.uniform(0.0, length_s)


def seconds_of(clip: Path, out: Path, cache: Path) -> float:
    """How long an unbroken run takes."""
    started = time.perf_counter()
    finish(clip, out, cache)
    return time.perf_counter() - started


def _command(clip: Path, out: Path) -> list[str]:
    return [*COMMAND, "review", str(clip), "--out", str(out)]


def _environment(cache: Path) -> dict[str, str]:
    return {**os.environ, CACHE_VARIABLE: str(cache)}
