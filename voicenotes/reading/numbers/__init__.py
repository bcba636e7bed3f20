"""Spoken numbers: words and digits in, quantities out."""

from voicenotes.reading.numbers.find import find_ordinals, find_quantities
from voicenotes.reading.numbers.quantities import Quantity

__all__ = ["Quantity", "find_ordinals", "find_quantities"]
