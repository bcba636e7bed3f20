"""How judging puts moments, figures and lists into plain words."""

from collections.abc import Iterable

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


def moment(seconds: float) -> str:
    """A moment of the narration as m:ss, or h:mm:ss from an hour on."""
    whole = int(seconds)
    hours, rest = divmod(whole, 3600)
    minutes, left = divmod(rest, 60)
    return f"{hours}:{minutes:02d}:{left:02d}" if hours else f"{minutes}:{left:02d}"


def number(value: float) -> str:
    """A figure without needless decimals."""
    return f"{round(value, 2):.10g}"


def clock(seconds: float) -> str:
    """A swim time in minutes and seconds, to a tenth: 1:47, 0:58.5."""
    minutes, rest = divmod(round(seconds, 1), 60)
    shown = number(rest)
    return f"{int(minutes)}:{'0' if rest < 10 else ''}{shown}"


def amount(value: float, unit: str) -> str:
    """A difference in a unit: "35°", "13 s per 100 m"."""
    if unit == "s/100m":
        return f"{number(value)} s per 100 m"
    return f"{number(value)}{_suffix(unit)}"


def quantity(interval: Interval, unit: str) -> str:
    """An interval in its unit: "90 to 120°", "60° at most", "155°"."""
    low, high = interval
    say = clock if unit == "s/100m" else number
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
