"""Figures: quantities with their measure, side and role."""

from voicenotes.reading.figures.read import FigureReader, read_figures

__all__ = ["FigureReader", "read_figures"]
