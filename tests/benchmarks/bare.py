"""faster-whisper alone: ``python -m tests.benchmarks.bare batched|default SOUND TEXT``.

Loads the tool's weights in the tool's manner and writes what it hears; nothing of ours is run but
the search for the weights. Both calls are as their library makes them, with English and word times
asked for.
"""

import sys
from pathlib import Path

from voicenotes.speech.engine import load_engine
from voicenotes.speech.weights import find_weights


def main() -> None:
    """Hear and write."""
    from faster_whisper import BatchedInferencePipeline

    way, sound, text = sys.argv[1:4]
    model = load_engine(find_weights()).model
    call = BatchedInferencePipeline(model).transcribe if way == "batched" else model.transcribe
    segments, _ = call(sound, language="en", word_timestamps=True)
    Path(text).write_text(" ".join(segment.text.strip() for segment in segments), encoding="utf-8")


if __name__ == "__main__":
    main()
