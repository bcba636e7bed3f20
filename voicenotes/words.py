"""Moments, figures and lists in plain words, for everything that a coach or swimmer reads."""

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from voicenotes.notes import Figure, Interval, Mention
from voicenotes.vocabulary.model import Measure

SUFFIXES = {
    "deg": "°",
    "cm": " cm",
    "m": " m",
    "s": " s",
    "m/s": " m/s",
    "/min": " a minute",
    "/10": " out of 10",
    "s/100m": " per 100 m",
    "count": "",
}


MONTHS = (
    "January February March April May June July August September October November December".split()
)


class Ends(NamedTuple):
    """The two ends of an interval as text; ``clock`` is True where they are minutes and seconds."""

    low: str | None
    high: str | None
    clock: bool


def moment(seconds: float) -> str:
    """A moment as m:ss, or h:mm:ss from an hour on."""
    whole = int(seconds)
    hours, rest = divmod(whole, 3600)
    minutes, left = divmod(rest, 60)
    return f"{hours}:{minutes:02d}:{left:02d}" if hours else f"{minutes}:{left:02d}"


def day(of: date) -> str:
    """A day as "4 January 2027"."""
    return f"{of.day} {MONTHS[of.month - 1]} {of.year}"


def number(value: float) -> str:
    """A number without needless decimals, to a hundredth."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def swim_time(seconds: float) -> str:
    """A swim time in minutes and seconds, to a tenth: "1:40", "0:58.5"."""
    minutes, left = divmod(round(seconds * 10), 600)
    tenths = left % 10
    return f"{minutes}:{left // 10:02d}" + (f".{tenths}" if tenths else "")


def amount(value: float, unit: str) -> str:
    """A difference in a unit: "35°", "13 s per 100 m"."""
    if unit == "s/100m":
        return f"{number(value)} s per 100 m"
    return f"{number(value)}{_suffix(unit)}"


def quantity(interval: Interval, unit: str) -> str:
    """An interval in its unit: "90 to 120°", "60° at most", "155°"."""
    low, high = interval
    say = swim_time if unit == "s/100m" else number
    tail = _suffix(unit)
    if low is None and high is None:
        return "any"
    if low is None:
        return f"{say(high or 0)}{tail} at most"
    if high is None:
        return f"{say(low)}{tail} at least"
    if low == high:
        return f"{say(low)}{tail}"
    return f"{say(low)} to {say(high)}{tail}"


def ends(interval: Interval, unit: str) -> Ends:
    """An interval's ends as text: a pace, and seconds from a minute on, as minutes and seconds."""
    low, high = interval
    longest = max((end for end in interval if end is not None), default=0)
    clock = unit == "s/100m" or (unit == "s" and longest >= 60)
    say = swim_time if clock else number
    return Ends(None if low is None else say(low), None if high is None else say(high), clock)


def named(figure: Figure, measure: Measure) -> str:
    """The measure with its side: "left elbow angle", "pause of the lead hand (left)"."""
    side = {"left": "left", "right": "right", "both": "left and right", None: ""}[figure.side]
    if not side:
        return measure.name
    return f"{measure.name} ({side})" if " of " in measure.name else f"{side} {measure.name}"


def listing(items: Iterable[str]) -> str:
    """ "a", "a and b", "a, b and c"."""
    every = list(items)
    if len(every) < 2:
        return "".join(every)
    return f"{', '.join(every[:-1])} and {every[-1]}"


def listen(mentions: Iterable[Mention]) -> str:
    """What to do about a question: "Listen again at 0:14 and 0:50." """
    moments = dict.fromkeys(moment(mention.start) for mention in mentions)
    return f"Listen again at {listing(moments)}."


def _suffix(unit: str) -> str:
    return SUFFIXES.get(unit, f" {unit}")
