"""A card for the poolside: one page a session, with what can be read wet and at arm's length."""

import re
from dataclasses import dataclass

from voicenotes.feedback.escape import without_emphasis
from voicenotes.feedback.view import SwimLine, View, Visit

LONGEST_FOCUS = 110
"""Characters of a focus that stand on two lines of a card."""


@dataclass(frozen=True)
class CardLine:
    """One set: ``focus`` is the one thing to think of."""

    line: SwimLine
    part: str | None
    """The part of the session, where it begins with this line."""
    focus: str | None


@dataclass(frozen=True)
class Card:
    """One session."""

    visit: Visit
    lines: tuple[CardLine, ...]


def cards(view: View) -> tuple[Card, ...]:
    """A card for each session of the plan."""
    return tuple(Card(visit, tuple(_lines(visit))) for visit in view.visits)


def _lines(visit: Visit) -> list[CardLine]:
    return [
        CardLine(
            line=line,
            part=part.part if first == 0 else None,
            focus=short_focus(line.focus) if line.focus else None,
        )
        for part in visit.parts
        for first, line in enumerate(part.lines)
    ]


def short_focus(cue: str) -> str:
    """One thing to think of: a cue's first sentence, without its full stop."""
    first = re.split(r"(?<=[.!?])\s", without_emphasis(cue), maxsplit=1)[0].rstrip(".")
    return first if len(first) <= LONGEST_FOCUS else f"{first[:LONGEST_FOCUS].rsplit(' ', 1)[0]} …"
