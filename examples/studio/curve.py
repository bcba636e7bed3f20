"""Smooth curves through rows of numbers that come round again, with no overshoot."""

from collections.abc import Sequence

import numpy as np


class Curve:
    """Several numbers over one cycle, given as rows ``(share of the cycle, number, ...)``.

    Monotone cubics between rows (Fritsch and Carlson): equal neighbours stay still, and no
    value is passed that no row gives. ``turns`` is what each number gains in a cycle: -360 for
    an angle that goes once round.
    """

    def __init__(self, rows: Sequence[Sequence[float]], turns: Sequence[float]) -> None:
        table = np.array(rows, dtype=float)
        gain = np.array(turns, dtype=float)
        at, values = table[:, 0], table[:, 1:]
        self._at = np.concatenate([at - 1, at, at + 1])
        self._values = np.concatenate([values - gain, values, values + gain])
        self._slopes = _slopes(self._at, self._values)

    def at(self, share: float) -> list[float]:
        """The numbers at a share of the cycle; any share is brought into 0 to 1 first."""
        share %= 1
        i = int(np.searchsorted(self._at, share, side="right")) - 1
        width = self._at[i + 1] - self._at[i]
        s = (share - self._at[i]) / width
        start, end = self._values[i], self._values[i + 1]
        value = (
            (1 + 2 * s) * (1 - s) ** 2 * start
            + s * (1 - s) ** 2 * width * self._slopes[i]
            + s**2 * (3 - 2 * s) * end
            + s**2 * (s - 1) * width * self._slopes[i + 1]
        )
        return [float(v) for v in value]


def _slopes(at: np.ndarray, values: np.ndarray) -> np.ndarray:
    """Slope at each row: the harmonic mean of its neighbours', 0 where they disagree."""
    secants = np.diff(values, axis=0) / np.diff(at)[:, None]
    before, after = secants[:-1], secants[1:]
    agree = before * after > 0
    mean = np.zeros_like(before)
    np.divide(2 * before * after, before + after, out=mean, where=agree)
    return np.concatenate([secants[:1], mean, secants[-1:]])
