"""The vocabulary's own test: reads the example sentences of every entry."""

from voicenotes.reading.context import Context
from voicenotes.reading.faults.frames import FramesReader
from voicenotes.reading.text import Narration
from voicenotes.transcript import Cue, Transcript
from voicenotes.vocabulary.check import ExampleReader, check_examples, count_examples
from voicenotes.vocabulary.model import Vocabulary


def sentence_reader(vocabulary: Vocabulary) -> ExampleReader:
    """Reads one sentence by the vocabulary's frames, as if it were a whole narration."""
    frames = FramesReader(vocabulary)

    def read(sentence: str) -> set[tuple[str, str]]:
        cue = Cue(start=0, end=5, text=sentence)
        narration = Narration(Transcript(name="example", cues=(cue,), duration=5))
        sightings = frames.read(narration, Context(narration))
        return {(s.kind, s.code) for s in sightings if s.status == "true"}

    return read


def check_vocabulary(vocabulary: Vocabulary) -> tuple[list[str], int]:
    """A line for every example of faults and strengths read wrongly, and how many were tried."""
    failures = check_examples(vocabulary, sentence_reader(vocabulary))
    return [failure.line for failure in failures], count_examples(vocabulary)
