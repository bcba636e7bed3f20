"""Certainty that comes true: logits of left-out narrations against what was annotated."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from voicenotes.training.corpus import KINDS, Talk


def truths(talks: Sequence[Talk], codes: Sequence[str]) -> NDArray[np.float64]:
    """1 where a unit says a code, 0 where not, NaN where that cannot be told; a row a unit."""
    column = {code: i for i, code in enumerate(codes)}
    units = [unit for talk in talks for unit in talk.units]
    table = np.zeros((len(units), len(codes)))
    for row, unit in enumerate(units):
        table[row, [column[k] for k in unit.true if k in column]] = 1
        table[row, [column[k] for k in unit.maybe if k in column]] = np.nan
    return table


def calibrate(
    logits: NDArray[np.float32], talks: Sequence[Talk], codes: Sequence[str]
) -> dict[str, list[float]]:
    """Slope and shift for the logits of each kind, by Platt's method (Platt, 1999)."""
    table, lines = truths(talks, codes), {}
    for kind in KINDS:
        columns = [i for i, code in enumerate(codes) if code.startswith(f"{kind}:")]
        goal, logit = table[:, columns].ravel(), logits[:, columns].ravel().astype(np.float64)
        known = ~np.isnan(goal)
        lines[kind] = [round(float(x), 4) for x in _fit(logit[known], goal[known])]
    return lines


def _fit(logit: NDArray[np.float64], goal: NDArray[np.float64]) -> NDArray[np.float64]:
    """Logistic regression on one number, by Newton's method."""
    line = np.array([1.0, 0.0])
    table = np.stack([logit, np.ones_like(logit)], axis=1)
    for _ in range(30):
        likely = 1 / (1 + np.exp(-np.clip(table @ line, -30, 30)))
        slope = table.T @ (goal - likely) - 1e-3 * (line - [1.0, 0.0])
        curve = (table * (likely * (1 - likely))[:, None]).T @ table + 1e-3 * np.eye(2)
        line = line + np.clip(np.linalg.solve(curve, slope), -0.5, 0.5)
    return line
