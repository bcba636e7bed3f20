"""How the edit names entries and writes amounts, so that a coach can read them and find them."""

import re
from collections.abc import Iterable, Sequence

from voicenotes.notes import DrillSet, Figure, Finding, Interval, Mention, Notes
from voicenotes.review import Review
from voicenotes.words import moment, number, swim_time

_AMOUNT = r"(\d+(?:\.\d+)?|\d+:[0-5]\d(?:\.\d+)?)"
_WAYS = (
    (re.compile(rf"at most {_AMOUNT}"), lambda a: (None, a[0])),
    (re.compile(rf"at least {_AMOUNT}"), lambda a: (a[0], None)),
    (re.compile(rf"{_AMOUNT} ?(?:to|-|–) ?{_AMOUNT}"), lambda a: (a[0], a[1])),
    (re.compile(_AMOUNT), lambda a: (a[0], a[0])),
)


def notes_of(review: Review) -> Notes:
    """The notes that a review holds."""
    return Notes(
        findings=review.findings,
        figures=review.figures,
        drills=review.drills,
        causes=review.links,
        priorities=review.priorities,
        set_aside=review.set_aside,
        repairs=review.repairs,
    )


def strengths(notes: Notes) -> list[Finding]:
    """What was praised, in the order said."""
    return [finding for finding in notes.findings if finding.kind == "strength"]


def strength_names(notes: Notes) -> list[str]:
    """ "catch right at 0:57" for each strength."""
    return _named((f.code, f.side, f.mentions) for f in strengths(notes))


def figure_names(figures: Sequence[Figure]) -> list[str]:
    """ "elbow_angle left at 0:49" for each figure."""
    return _named((f.measure, f.side, f.mentions) for f in figures)


def set_names(drills: Sequence[DrillSet]) -> list[str]:
    """ "scull_front at 2:17" for each set."""
    return _named((d.code, None, d.mentions) for d in drills)


def _named(entries: Iterable[tuple[str, str | None, tuple[Mention, ...]]]) -> list[str]:
    names: list[str] = []
    for code, side, mentions in entries:
        at = f"at {moment(mentions[0].start)}" if mentions else ""
        name = " ".join(filter(None, (code, side, at)))
        copies = sum(other == name or other.startswith(f"{name} (") for other in names)
        names.append(f"{name} ({copies + 1})" if copies else name)
    return names


def amount(interval: Interval | None, unit: str) -> int | float | str:
    """An interval as the file writes it: 150, "100 to 120", "at most 40", "1:50", "none"."""
    say = swim_time if unit == "s/100m" else number
    low, high = interval or (None, None)
    if low is None and high is None:
        return "none"
    if low is None:
        return f"at most {say(high or 0)}"
    if high is None:
        return f"at least {say(low)}"
    if low != high:
        return f"{say(low)} to {say(high)}"
    if unit == "s/100m":
        return swim_time(low)
    return int(low) if float(low).is_integer() else low


def read_amount(text: float | str) -> Interval:
    """An amount back as an interval. Raises ValueError."""
    words = " ".join(str(text).split()).casefold().rstrip("°")
    for way, ends in _WAYS:
        if found := way.fullmatch(words):
            low, high = ends([_value(a) for a in found.groups()])
            if low is not None and high is not None and low > high:
                raise ValueError("runs backwards")
            return low, high
    raise ValueError("is no amount")


def _value(amount_: str) -> float:
    minutes, _, seconds = amount_.rpartition(":")
    return float(minutes or 0) * 60 + float(seconds)
