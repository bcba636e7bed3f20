"""A process that adds reviews one by one and says of each that it is in: to be killed.

``python -m tests.history.writing FILE WRITER COUNT``
"""

import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path

from tests.history.season import SEASON, kept
from voicenotes.history.kept import Kept
from voicenotes.history.store import History


def review_number(number: int, writer: str = "a", swimmers: int = 4) -> Kept:
    """An invented review; the same number is the same review."""
    said = SEASON[number % len(SEASON)][1]
    made = kept(said, date(2020, 1, 1) + timedelta(days=number // swimmers))
    swimmer = f"Swimmer {writer}{number % swimmers}"
    return made.model_copy(update={"key": f"{writer}{number}", "swimmer": swimmer})


def start(file: Path, writer: str, count: int) -> "subprocess.Popen[str]":
    """The process, whose output tells the keys that are in."""
    command = [sys.executable, "-m", "tests.history.writing", str(file), writer, str(count)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True)


def main() -> None:
    """Adds and tells."""
    file, writer, count = sys.argv[1:]
    with History(Path(file)) as history:
        for number in range(int(count)):
            added = review_number(number, writer)
            history.add(added)
            print(added.key, flush=True)


if __name__ == "__main__":
    main()
