"""A spoken quantity, and what stands around it."""

from dataclasses import dataclass
from typing import Literal

from spacy.tokens import Doc

from voicenotes.notes import Interval
from voicenotes.reading.numbers.pieces import HYPHENS, Atom

Limit = Literal["at_most", "at_least", "no_slower", "no_faster"]


@dataclass(frozen=True)
class Quantity:
    """One spoken quantity; ``first`` and ``last`` are token indexes, last exclusive.

    ``clock`` is the same interval read as minutes and seconds, in seconds, where that is
    possible; ``pure`` says where only one reading is (see ``Atom``). ``limit`` is how an open end
    was said: ``no_slower`` ("or better") is an upper end for times and a lower one for rates.
    ``change`` marks the two ends of "from 26 to 21". ``taken_back`` is True for a value that the
    speaker corrected; what replaced it is a quantity of its own.
    """

    first: int
    last: int
    low: float | None
    high: float | None
    surface: str
    clock: Interval | None = None
    pure: str = ""
    limit: Limit | None = None
    joined: bool = False
    plural: bool = False
    change: Literal["from", "to"] | None = None
    taken_back: bool = False
    listed: bool = False
    """True for one of three or more values in a row ("138, 141, 149")."""
    atoms: tuple[Atom, ...] = ()

    @property
    def interval(self) -> Interval:
        """Low and high end, None where open."""
        return (self.low, self.high)

    @property
    def anchor(self) -> int:
        """The token of the last number itself: its unit follows there."""
        return self.atoms[-1].last


UNITS = frozenset(
    "degree degrees ° deg centimetre centimetres centimeter centimeters cm cms metre metres meter "
    "meters m second seconds sec secs s tenths stroke strokes cycle cycles beat beats kick kicks "
    "bpm rpm breaths of".split()
)
"""Words that may stand between the two ends of an interval."""
HEDGES = frozenset(
    "about around roughly say maybe perhaps possibly probably approximately nearly almost just uh "
    "um er erm eh ah like something somewhere even a an the it 's well call or so ish odd be could "
    "might only close near better nearer".split()
)
"""Words around a number that change nothing about it."""


def gap(doc: Doc, one: Quantity, two: Quantity) -> list[str]:
    """The words between two quantities, in lower case."""
    return [token.lower_ for token in doc[one.last : two.first]]


def unit_after(doc: Doc, quantity: Quantity) -> str | None:
    """The unit word right after a quantity, if it is one of the common ones."""
    for token in doc[quantity.anchor : quantity.anchor + 4]:
        if token.lower_ in UNITS - {"of", "m", "s"}:
            return str(token.lower_)
        if token.lower_ not in HYPHENS | {"of", "a", "full", "single", "arm"}:
            return None
    return None
