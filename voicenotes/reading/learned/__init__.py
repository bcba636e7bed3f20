"""The learned reader and its network."""

from voicenotes.reading.learned.reader import LearnedReader, LearnedReading, Seen

__all__ = ["LearnedReader", "LearnedReading", "Seen"]
