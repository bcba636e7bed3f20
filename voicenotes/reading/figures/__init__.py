"""Figures: quantities with their measure, side and role."""

from voicenotes.reading.figures.read import read_figures

__all__ = ["read_figures"]
