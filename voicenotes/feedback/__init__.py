"""Feedback: the files that a coach approves and a swimmer reads."""
