"""Runs that are killed: ``python -m tests.benchmarks.killed [KILLS]``.

Reviews a recording of a minute and a half whole; then starts it twenty times with an empty cache,
kills each run (SIGKILL) at a random moment, takes it up again and compares what comes out, byte for
byte. Prints when each was killed, how much of the time the second run still took, and whether the
files are the same; 1 where they are not.
"""

import sys
import tempfile
import time
from pathlib import Path

from tests.killing import finish, kill_after, long_talk, moments, seconds_of
from tests.sounds import spoken
from voicenotes.media import SAMPLE_RATE

KILLS = 20
SEED = 20


def main() -> int:
    """Kills and prints."""
    times = int(sys.argv[1]) if len(sys.argv) > 1 else KILLS
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        remark = spoken()[round(3.5 * SAMPLE_RATE) : round(7.2 * SAMPLE_RATE)]
        clip = long_talk(folder / "clip.wav", remark, 11)
        took = min(
            seconds_of(clip, folder / "warm", folder / "warm-cache"),
            seconds_of(clip, folder / "whole", folder / "cache"),
        )
        whole = finish(clip, folder / "whole", folder / "cache")
        print(f"unbroken: {took:.1f} s")
        wrong = 0
        for number, moment in zip(range(1, times + 1), moments(SEED, took), strict=False):
            out, cache = folder / f"out{number}", folder / f"cache{number}"
            running = kill_after(moment, clip, out, cache)
            half = (out / "clip").exists() and running
            started = time.perf_counter()
            same = finish(clip, out, cache) == whole
            wrong += not same
            print(
                f"{number:3}: killed at {moment:5.1f} s{'' if running else ' (it had ended)'}"
                f"{', its review written' if half else ''}; taken up in "
                f"{time.perf_counter() - started:5.1f} s: {'the same' if same else 'NOT THE SAME'}",
                flush=True,
            )
        print(f"{times - wrong} of {times} the same")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
