"""Narrations made of plain sentences, for the tests of reading."""

from voicenotes.reading.text import Narration
from voicenotes.transcript import Cue, Transcript


def narrated(*sentences: str) -> Narration:
    """A narration of one sentence a cue, four seconds each."""
    cues = tuple(
        Cue(start=4.0 * i, end=4.0 * i + 4.0, text=text) for i, text in enumerate(sentences)
    )
    return Narration(Transcript(name="spoken", cues=cues, duration=4.0 * len(sentences)))
