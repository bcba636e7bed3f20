"""Which figures put a number to which fault."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import product

from voicenotes.notes import Figure, Mention, Side
from voicenotes.review import Verdict
from voicenotes.vocabulary.model import Vocabulary


@dataclass(frozen=True)
class Said:
    """Where a fault was said, and of which side."""

    side: Side | None
    mentions: tuple[Mention, ...]


def figures_of_faults(
    faults: Mapping[str, Said],
    figures: tuple[Figure, ...],
    verdicts: Sequence[Verdict],
    vocabulary: Vocabulary,
) -> dict[str, tuple[int, ...]]:
    """Indexes of the figures that measure each fault.

    A figure tells of the faults that its measure is a sign of, on a side that fits, if it is off
    in that direction or has no range to be off from; of several the one said nearest to it.
    """
    told: dict[str, list[int]] = {code: [] for code in faults}
    for index, figure in enumerate(figures):
        verdict = next((v for v in verdicts if v.figure == index), None)
        fitting = [
            code
            for code, said in faults.items()
            if _sides_fit(said.side, figure.side) and _is_sign(code, figure, verdict, vocabulary)
        ]
        away = {code: _seconds_apart(faults[code].mentions, figure.mentions) for code in fitting}
        for code in fitting:
            if away[code] == min(away.values()):
                told[code].append(index)
    return {code: tuple(indexes) for code, indexes in told.items()}


def farthest_off(
    code: str,
    indexes: Sequence[int],
    figures: tuple[Figure, ...],
    verdicts: Sequence[Verdict],
    vocabulary: Vocabulary,
) -> tuple[Verdict | None, float]:
    """The verdict that lies farthest out in the fault's direction, spoken targets first.

    With it how far out that is, as a share of all that is possible for the measure.
    """
    off: list[tuple[bool, float, Verdict]] = []
    for verdict in verdicts:
        figure = figures[verdict.figure]
        measure = vocabulary.measures.get(figure.measure)
        straddles = verdict.outcome == "straddles"
        if verdict.figure not in indexes or measure is None or straddles:
            continue
        if _is_sign(code, figure, verdict, vocabulary):
            reach = measure.possible[1] - measure.possible[0]
            share = verdict.margin / reach if reach else 0.0
            off.append((verdict.against == "spoken target", share, verdict))
    if not off:
        return None, 0.0
    _, share, worst = max(off, key=lambda found: found[:2])
    return worst, share


def _is_sign(code: str, figure: Figure, verdict: Verdict | None, vocabulary: Vocabulary) -> bool:
    fault = vocabulary.faults.get(code)
    signs = [s for s in fault.measured_by if s.measure == figure.measure] if fault else []
    if verdict is None or verdict.outcome == "straddles":
        return bool(signs)
    return any(sign.when == verdict.outcome for sign in signs)


def _sides_fit(one: Side | None, other: Side | None) -> bool:
    return one == other or bool({one, other} & {None, "both"})


def _seconds_apart(one: tuple[Mention, ...], other: tuple[Mention, ...]) -> float:
    """Seconds from one to the other where they are nearest; 0 where they overlap."""
    return min(max(0.0, a.start - b.end, b.start - a.end) for a, b in product(one, other))
