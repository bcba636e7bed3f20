"""Numbers and times as a swimmer reads them."""

from typing import NamedTuple

from voicenotes.notes import Interval


class Ends(NamedTuple):
    """The two ends of an interval as text; ``clock`` is True where they are minutes and seconds."""

    low: str | None
    high: str | None
    clock: bool


def moment(seconds: float) -> str:
    """A moment of the narration: "0:14", or "1:02:05" from an hour on."""
    minutes, left = divmod(int(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02d}:{left:02d}" if hours else f"{minutes}:{left:02d}"


def number(value: float) -> str:
    """A number without needless decimals, to a hundredth."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def swim_time(seconds: float) -> str:
    """A swim time in minutes and seconds, to a tenth: "1:40", "0:58.5"."""
    minutes, left = divmod(round(seconds * 10), 600)
    tenths = left % 10
    return f"{minutes}:{left // 10:02d}" + (f".{tenths}" if tenths else "")


def ends(interval: Interval, unit: str) -> Ends:
    """An interval's ends as text: a pace, and seconds from a minute on, as minutes and seconds."""
    low, high = interval
    longest = max((end for end in interval if end is not None), default=0)
    clock = unit == "s/100m" or (unit == "s" and longest >= 60)
    say = swim_time if clock else number
    return Ends(None if low is None else say(low), None if high is None else say(high), clock)
