"""Transcript files: WebVTT, SubRip, the tool's own JSON, and text with or without time marks."""

from voicenotes.transcript.formats.captions import write_vtt
from voicenotes.transcript.formats.read import looks_like_transcript, read_transcript

__all__ = ["looks_like_transcript", "read_transcript", "write_vtt"]
