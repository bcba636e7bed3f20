"""Three hours in one piece: ``python -m tests.benchmarks.memory [HOURS]``.

Reviews the example's narration over and over, as a recording of three hours, and prints the peak of
the program's memory. It takes about a tenth of the recording's length on two quiet cores.
"""

import sys
import tempfile
from pathlib import Path

from tests.benchmarks.measuring import against, narration, review, write_long

HOURS = 3.0
BAR_MB = 1500.0


def main() -> int:
    """Measures and prints; 1 where the bar is missed."""
    hours = float(sys.argv[1]) if len(sys.argv) > 1 else HOURS
    once, _ = narration()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        sound = write_long(folder / "long.wav", once, hours * 3600)
        took = review(sound, folder / "out", folder / "cache")
    print(f"{hours:g} hours: {took}")
    return 0 if against("peak of memory", took.peak, BAR_MB, " MB") else 1


if __name__ == "__main__":
    sys.exit(main())
