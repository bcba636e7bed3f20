"""The narration in words, and its file formats."""

from voicenotes.transcript.model import Cue, Doubt, Transcript, Word

__all__ = ["Cue", "Doubt", "Transcript", "Word"]
