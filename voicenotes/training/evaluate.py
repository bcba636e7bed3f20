"""How well a reader does on narrations it never saw: codes found, missed, made up, traps sprung."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from voicenotes.training.corpus import KINDS, Talk


@dataclass(frozen=True)
class Score:
    """Counts over whole narrations; sides are left aside."""

    hit: int = 0
    missed: int = 0
    false: int = 0

    @property
    def precision(self) -> float:
        """Share of what was found that is there."""
        return self.hit / max(1, self.hit + self.false)

    @property
    def recall(self) -> float:
        """Share of what is there that was found."""
        return self.hit / max(1, self.hit + self.missed)

    @property
    def f1(self) -> float:
        """Harmonic mean of precision and recall."""
        return 2 * self.hit / max(1, 2 * self.hit + self.missed + self.false)


@dataclass(frozen=True)
class Report:
    """A score for each kind, and the traps (things that must not be read) that were sprung."""

    scores: dict[str, Score]
    traps: int
    sprung: int


def evaluate(
    talks: Sequence[Talk], certainty: NDArray[np.floating], codes: Sequence[str], least: float = 0.5
) -> Report:
    """Scores certainties, a row a unit, against the narrations' annotation.

    A code counts as found where a unit within a line of one that says it is certain enough.
    """
    counts = {kind: [0, 0, 0] for kind in KINDS}
    traps = sprung = row = 0
    for talk in talks:
        gold = talk.gold or {}
        found: dict[str, set[str]] = {}
        for unit in talk.units:
            for column in np.flatnonzero(certainty[row] >= least):
                found.setdefault(codes[int(column)], set()).update(unit.lines)
            row += 1
        said = _said(gold)
        for key in set(found) | set(said):
            both = key in found and key in said
            near = both and _near(found[key], said[key], gold["ids"])
            tally = counts[key.split(":")[0]]
            tally[0] += near
            tally[1] += key in said and not near
            tally[2] += key in found and not near
        for trap in gold["traps"]:
            for key in (k for k in trap["must_not"] if k.split(":")[0] in KINDS):
                traps += 1
                lines = found.get(key, set()) if key not in said else set()
                sprung += _near(lines, set(trap["at"]), gold["ids"])
    return Report({kind: Score(*tally) for kind, tally in counts.items()}, traps, sprung)


def _said(gold: dict[str, list[dict[str, list[str]]]]) -> dict[str, set[str]]:
    """The lines of every code that is annotated."""
    said: dict[str, set[str]] = {}
    for entry in gold["findings"]:
        said.setdefault(f"{entry['kind']}:{entry['code']}", set()).update(entry["at"])
    for entry in gold["drills"]:
        said.setdefault(f"drill:{entry['code']}", set()).update(entry["at"])
    return said


def _near(a: set[str], b: set[str], ids: Sequence[str]) -> bool:
    place = {line: number for number, line in enumerate(ids)}
    return any(abs(place[x] - place[y]) <= 1 for x in a for y in b)
