"""Drills and sets: what is prescribed, with its dose."""

from voicenotes.reading.sets.read import DrillReading, read_drills

__all__ = ["DrillReading", "read_drills"]
