"""A review as files: for the swimmer, for the coach, and as data."""

from voicenotes.feedback.data import review_schema
from voicenotes.feedback.render import feedback_files

__all__ = ["feedback_files", "review_schema"]
