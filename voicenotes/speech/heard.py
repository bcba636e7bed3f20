"""What the recogniser made of the sound, before it is judged."""

from voicenotes.record import Record
from voicenotes.speech.activity import Span
from voicenotes.transcript import Word


class Heard(Record):
    """One clip as it was heard. Times are seconds of the recording."""

    start: float
    end: float
    spans: tuple[Span, ...]
    """Where there is a voice."""
    words: tuple[Word, ...]
    again: tuple[Word, ...] = ()
    """Words from a second hearing of stretches that gave none."""
    log_probability: float
    """Mean over the clip's tokens."""
    no_speech: float
    """The recogniser's own probability that nobody speaks."""
    compression: float
    """How many times smaller the text packs: loops pack well."""
    other: str | None = None
    """Another language that it is probably in, by its ISO 639 code."""
    english: float | None = None
    """The recogniser's own probability that it is English; None where nothing made
    one ask."""


class Batch(Record):
    """Clips that were heard together."""

    clips: tuple[Heard, ...]


class Hearing(Record):
    """A whole recording as it was heard."""

    clips: tuple[Heard, ...]
    read_s: float
    """Seconds of sound that could be read."""
    cut_off: bool
    """True where the file holds less than it says."""
    device: str
