"""A ten-minute narration, reviewed whole: ``python -m tests.benchmarks.ten_minutes [SECONDS]``.

The example's narration over and over. Prints the time of a whole review with an empty cache, of
the same review again, and of faster-whisper alone by its batched and its default call; the ratios
beside their bars (by the clock and, as a busy machine changes it less, by processor time), and the
share of the vocabulary's terms that come out.
"""

import sys
import tempfile
from pathlib import Path

from tests.benchmarks.measuring import (
    PAUSE_S,
    Took,
    against,
    narration,
    review,
    timed,
    write_long,
)
from tests.benchmarks.speech import score
from voicenotes.media import SAMPLE_RATE, Sound
from voicenotes.transcript.formats import read_transcript
from voicenotes.vocabulary.load import load_vocabulary

SECONDS = 600.0
BATCHED_BAR, DEFAULT_BAR = 1.10, 0.65
REAL_TIME_BAR = 0.09
AGAIN_BAR_S = 2.0


def main() -> int:
    """Measures and prints; 1 where a bar is missed."""
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else SECONDS
    vocabulary = load_vocabulary()
    once, text = narration()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        sound = write_long(folder / "long.wav", once, seconds)
        said = _said(text, once, seconds)
        took: dict[str, Took] = {}
        heard: dict[str, str] = {}
        for way in ("batched", "default"):
            out = folder / f"{way}.txt"
            command = [sys.executable, "-m", "tests.benchmarks.bare", way, str(sound), str(out)]
            took[way] = timed(command, folder / "cache")
            heard[way] = out.read_text(encoding="utf-8")
        took["review"] = review(sound, folder / "out", folder / "cache")
        took["again"] = review(sound, folder / "out", folder / "cache")
        cues = read_transcript(folder / "out" / "long" / "transcript.vtt").cues
        heard["review"] = " ".join(cue.text for cue in cues)
    for way, spent in took.items():
        print(f"{way:8} {spent}  {score(said, heard[way], vocabulary) if way in heard else ''}")
    whole, batched, default = took["review"], took["batched"], took["default"]
    met = [
        against("review / batched, by the clock", whole.wall / batched.wall, BATCHED_BAR),
        against("review / batched, by processor", whole.busy / batched.busy, BATCHED_BAR),
        against("review / default, by the clock", whole.wall / default.wall, DEFAULT_BAR),
        against("review / default, by processor", whole.busy / default.busy, DEFAULT_BAR),
        against("review / length of sound, by the clock", whole.wall / seconds, REAL_TIME_BAR),
        against("the same review again, by the clock", took["again"].wall, AGAIN_BAR_S, " s"),
    ]
    return 0 if all(met) else 1


def _said(text: str, once: Sound, seconds: float) -> str:
    """The text as often as the sound holds it whole or in part: close enough for shares."""
    length = len(once) / SAMPLE_RATE + PAUSE_S
    return " ".join([text] * max(1, round(seconds / length)))


if __name__ == "__main__":
    sys.exit(main())
