"""Judging: what the notes mean, set against the vocabulary."""
