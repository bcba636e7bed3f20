"""The order in which faults are worked on."""

from collections.abc import Mapping
from typing import Protocol

from voicenotes.notes import Mention, Notes, Severity

GRADES: dict[Severity, int] = {"slight": 1, "moderate": 2, "marked": 3}


class Ranked(Protocol):
    """What the order looks at."""

    @property
    def severity(self) -> Severity:
        """How grave the coach called it."""

    @property
    def excess(self) -> float:
        """How far a figure of it lies outside its range, as a share of what is possible."""

    @property
    def mentions(self) -> tuple[Mention, ...]:
        """Where it was said, in order."""


def coach_order(notes: Notes) -> list[str]:
    """Fault codes in the coach's own order of work."""
    return [*dict.fromkeys(p.code for p in sorted(notes.priorities, key=lambda p: p.rank))]


def brought_about(code: str, notes: Notes) -> tuple[str, ...]:
    """Codes that the coach said a fault brings about, in the order said."""
    return tuple(
        dict.fromkeys(c.effect for c in notes.causes if c.cause == code and c.effect != code)
    )


def order(faults: Mapping[str, Ranked], notes: Notes) -> list[str]:
    """Codes in the order to work on them.

    The coach's own order, then causes before effects. Of faults that wait for no cause the one
    that weighs most comes next; a cause weighs as much as the gravest of what it brings about.
    Where causes run in a circle the heaviest of the circle breaks it.
    """
    done = [code for code in coach_order(notes) if code in faults]
    left = [code for code in faults if code not in done]
    effects = {code: [e for e in brought_about(code, notes) if e in left] for code in left}
    weight = {code: _weight(code, faults, effects) for code in left}
    while left:
        waiting = {effect for code in left for effect in effects[code]}
        free = [code for code in left if code not in waiting] or left
        best = max(free, key=lambda code: weight[code])
        done.append(best)
        left.remove(best)
    return done


_Weight = tuple[int, int, float, int, float]


def _weight(code: str, faults: Mapping[str, Ranked], effects: Mapping[str, list[str]]) -> _Weight:
    """Severity (its own or inherited), effects, excess, times said, and how early."""
    reached = _reached(code, effects)
    fault = faults[code]
    return (
        max(GRADES[faults[c].severity] for c in {code, *reached}),
        len(reached - {code}),
        fault.excess,
        len(fault.mentions),
        -fault.mentions[0].start,
    )


def _reached(code: str, effects: Mapping[str, list[str]]) -> set[str]:
    """Everything a fault brings about, at first or at second hand."""
    found: set[str] = set()
    ahead = [*effects[code]]
    while ahead:
        effect = ahead.pop()
        if effect not in found:
            found.add(effect)
            ahead += effects[effect]
    return found
