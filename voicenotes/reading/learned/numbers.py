"""What the learned reader's network says of the numbers in a sentence."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

NUMBER_ROLES = ("none", "observed", "target")
"""What a number is: no figure of the swimmer, what was seen, or what is asked for."""


@dataclass(frozen=True)
class HeardNumber:
    """What a number in a sentence is: shares that add up to 1.

    ``none`` is the share of its being no figure of the swimmer; ``measures`` are of what it
    measures if it is one.
    """

    none: float
    observed: float
    target: float
    measures: Mapping[str, float]


@dataclass(frozen=True)
class Pieces:
    """What the network says of a sentence's word pieces.

    ``offsets`` are the characters of the sentence that each stands for; ``logits`` (a row a piece)
    are those of NUMBER_ROLES, then of the measures.
    """

    offsets: Sequence[tuple[int, int]]
    logits: NDArray[Any]
    measures: Sequence[str]

    def number(self, first: int, last: int) -> HeardNumber | None:
        """What the number from one character to another is; None where no piece stands there."""
        at = [i for i, (a, b) in enumerate(self.offsets) if a < last and b > first]
        at = [i for i in at if i < len(self.logits)]
        if not at:
            return None
        roles, measures = np.split(self.logits[at], [len(NUMBER_ROLES)], axis=1)
        none, observed, target = map(float, shares(roles))
        named = zip(self.measures, map(float, shares(measures)), strict=True)
        return HeardNumber(none, observed, target, dict(named))


def shares(logits: NDArray[Any]) -> NDArray[Any]:
    """Shares that add up to 1, of rows of logits taken together (their mean)."""
    mean = logits.mean(0)
    shares = np.exp(mean - mean.max())
    return np.asarray(shares / shares.sum())
