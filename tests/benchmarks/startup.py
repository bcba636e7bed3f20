"""Waiting, measured: ``python -m tests.benchmarks.startup``.

Prints the wall time and the processor time of ``voicenotes --help``, and of a whole review of a
ten-minute transcript, start of the program included. The transcript is the example's, said four
times over at later and later moments with other figures. The bars are for two quiet cores: on a
busy machine look at the processor time.
"""

import os
import re
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from voicenotes.speech.cache import CACHE_VARIABLE
from voicenotes.transcript import Cue, Transcript
from voicenotes.transcript.formats import read_transcript, write_vtt

CLIP = Path(__file__).parent.parent.parent / "examples" / "clip.vtt"
LENGTH_S = 600.0
RUNS = 3

HELP_BAR_S = 0.4
REVIEW_BAR_S = 4.0


def main() -> int:
    """Measures and prints; 1 where a bar is missed."""
    with tempfile.TemporaryDirectory() as folder:
        talk = Path(folder) / "ten-minutes.vtt"
        talk.write_text(write_vtt(ten_minutes()), encoding="utf-8")
        out = str(Path(folder) / "out")
        met = [
            measure("voicenotes --help", ["--help"], HELP_BAR_S),
            measure("ten minutes reviewed", ["review", str(talk), "--out", out], REVIEW_BAR_S),
        ]
    return 0 if all(met) else 1


def ten_minutes() -> Transcript:
    """The example's transcript over and over, figures a little higher each time."""
    once = read_transcript(CLIP)
    cues: list[Cue] = []
    for turn in range(int(LENGTH_S // once.duration) + 1):
        shift = turn * once.duration
        for cue in once.cues:
            if cue.end + shift <= LENGTH_S:
                text = _higher(cue.text, turn)
                cues.append(Cue(start=cue.start + shift, end=cue.end + shift, text=text))
    return Transcript(name="ten-minutes", cues=tuple(cues), duration=LENGTH_S)


def _higher(text: str, by: int) -> str:
    return re.sub(r"\d+", lambda number: str(int(number[0]) + by), text)


def measure(name: str, arguments: list[str], bar: float) -> bool:
    """Runs the command line a few times and prints the best; whether it is within its bar."""
    command = [sys.executable, "-c", "from voicenotes.cli import main; main()", *arguments]
    times = []
    for _ in range(RUNS):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        with tempfile.TemporaryDirectory() as cache:  # nothing read before
            environment = {**os.environ, CACHE_VARIABLE: cache}
            started = time.perf_counter()
            subprocess.run(command, check=True, stdout=subprocess.DEVNULL, env=environment)
            wall = time.perf_counter() - started
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        times.append((wall, used))
    wall, used = min(times)
    met = "within" if wall < bar else "over"
    print(f"{name:22} {wall:5.2f} s, processor {used:5.2f} s: {met} {bar:g} s")
    return wall < bar


if __name__ == "__main__":
    sys.exit(main())
