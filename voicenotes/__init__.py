"""Turns a swim coach's spoken clip review into written corrections and a drill plan."""

__version__ = "0.1.0"
