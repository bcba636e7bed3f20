"""The swimmers' history: ``python -m tests.benchmarks.history [KILLS] [REVIEWS]``.

Kills a process that adds reviews two hundred times (SIGKILL) at random moments, from the opening of
the file on, and afterwards has SQLite check the file and looks for every review that the process
had told of. Then fills a history with ten thousand reviews and prints how long it takes to add one,
and how long ``progress`` and ``squad`` take as commands; 1 where something is missing or too slow.
"""

import random
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.history.writing import review_number, start
from voicenotes.history.kept import Kept
from voicenotes.history.store import History

KILLS, REVIEWS = 200, 10_000
SEED = 200
SWIMMERS = 200
LONGEST_S = 1.2
"""The latest moment of a kill: a process is at work after about half of it."""
ADD_MS, COMMAND_S = 50.0, 1.0
"""The bars."""


def kills(file: Path, times: int) -> int:
    """How many reviews are missing, or files damaged, after so many kills."""
    moments = random.Random(SEED)
    told: set[str] = set()
    working = damaged = 0
    for number in range(times):
        process = start(file, f"k{number}-", 10_000)
        time.sleep(moments.uniform(0, LONGEST_S))
        process.kill()
        keys = process.communicate()[0].split()
        working += bool(keys)
        told |= set(keys)
        damaged += file.is_file() and not _is_whole(file)
    with History(file) as history:
        there = {one.key for one in history.every_review()}
    missing = told - there
    print(
        f"{times} kills, {working} of them while writing: {len(told)} reviews told of,"
        f" {len(missing)} missing; {damaged} times damaged"
    )
    return len(missing) + damaged


def _is_whole(file: Path) -> bool:
    connection = sqlite3.connect(file, timeout=20)
    try:
        return bool(connection.execute("PRAGMA integrity_check").fetchone() == ("ok",))
    finally:
        connection.close()


def fill(file: Path, count: int) -> float:
    """Fills a history and returns the milliseconds that 19 of 20 of the last 200 took at most."""
    took = []
    with History(file) as history:
        for number in range(count):
            kept = _as_large_as_real(review_number(number, swimmers=SWIMMERS))
            started = time.perf_counter()
            history.add(kept)
            took.append((time.perf_counter() - started) * 1000)
    last = took[-200:]
    slowest = statistics.quantiles(last, n=20)[-1]
    size = file.stat().st_size / 1e6
    print(
        f"{count} reviews of {SWIMMERS} swimmers, {size:.0f} MB; adding one: median"
        f" {statistics.median(last):.1f} ms, 19 of 20 under {slowest:.1f} ms"
        f" (bar {ADD_MS:.0f} ms)"
    )
    return slowest


def _as_large_as_real(kept: Kept) -> Kept:
    """With the findings, plan lines and sentences of a review of ten minutes."""
    return kept.model_copy(
        update={
            "findings": kept.findings * 5,
            "figures": kept.figures * 4,
            "plan": kept.plan * 4,
            "traces": tuple(f"{kept.key}-{n:08d}" for n in range(150)),
        }
    )


def seconds_of(file: Path, *command: str) -> float:
    """How long a command takes as a process of its own; the best of three."""
    words = [sys.executable, "-c", "from voicenotes.cli import main; main()", *command]
    took = []
    for _ in range(3):
        started = time.perf_counter()
        subprocess.run([*words, "--history", str(file)], check=True, capture_output=True)
        took.append(time.perf_counter() - started)
    print(f"{' '.join(command)}: {min(took):.2f} s (bar {COMMAND_S:.0f} s)")
    return min(took)


def main() -> int:
    """Kills, fills, measures and prints."""
    times = int(sys.argv[1]) if len(sys.argv) > 1 else KILLS
    count = int(sys.argv[2]) if len(sys.argv) > 2 else REVIEWS
    with tempfile.TemporaryDirectory() as name:
        wrong = kills(Path(name) / "killed.sqlite3", times)
        file = Path(name) / "large.sqlite3"
        slow = fill(file, count) >= ADD_MS
        slow |= seconds_of(file, "progress", "Swimmer a7") >= COMMAND_S
        slow |= seconds_of(file, "squad") >= COMMAND_S
        seconds_of(file, "progress", "Swimmer a7", "--out", str(Path(name) / "a7.html"))
    return 1 if wrong or slow else 0


if __name__ == "__main__":
    sys.exit(main())
