"""Doses: repetitions, distances, times, rests and send-offs said within one stretch of words."""

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from voicenotes.reading.sets.text import DISTANCES, SetText

MAX_REPS = 50
"""More repetitions than this are not said of one set (common practice)."""

Kind = Literal[
    "set", "reps", "distance", "bare", "rest", "interval", "time", "span", "count", "rate"
]


@dataclass(frozen=True)
class Said:
    """One part of a dose as said; ``first`` and ``last`` are token indexes, last exclusive.

    ``kind``: a whole ``set`` (8 x 25), ``reps`` or a ``distance`` alone, a ``bare`` number that
    may be repetitions, a ``rest``, an ``interval`` (send-off), a ``time`` whose role is open, a
    ``span`` over which a drill is done ("two minutes of vertical kick"), a
    ``count`` that is part of how a drill is done ("six kicks a side", "hold for three seconds"), or
    a ``rate`` or count of strokes, which is a figure of its own.
    ``weak`` is True where only the surroundings can tell whether it is one. ``heard`` holds what
    recognition wrote where that was taken apart or mended.
    """

    kind: Kind
    first: int = 0
    last: int = 0
    reps: int | None = None
    distance_m: int | None = None
    seconds: int | None = None
    weak: bool = False
    heard: str | None = None


_PARTS = {
    "n": r"(?<![\d.:/])\d+",
    "time": (
        r"(?:half an? minute|an? half(?: a)? minute|half minute|(?:a )?quarter (?:of a )?minute"
        r"|an? minute and an? half|(?<!\d )(?<!strokes )(?<!beats )an? minute(?: \d\d(?! second))?"
        r"|(?<![\d.:/])\d+ minutes?(?: (?:and )?\d\d(?: seconds?)?)?"
        r"|(?<![\d.:/])\d+ ?(?:seconds?|secs?)\b)"
    ),
    "pause": r"(?:rest|resting|rests|break|breathers?|pause|recovery|repose)",
    "metres": r"(?: ?(?:m|meters?|metres?|yards?|yds?)\b)",
    "lots": (
        r"(?:lots?|lengths?|goes|go|reps?|repetitions?|repeats?|rounds?|sets?|series|pieces|times?"
        r"|efforts?|swims?|of (?:each|them|those|these|the)|of|x|by)"
    ),
    "goes": (
        r"(?:times|goes|go|lots|rounds|reps|repetitions|repeats|sets|series|tries|attempts|bursts"
        r"|blocks|shots|of (?:them|those|these|'?em|each))"
    ),
    "nouns": (
        r"(?:bobs|pulls|presses|(?:press|push|deck) (?:ups|outs)|holds|floats|float outs|push offs"
        r"|push and glides?|pushes|glides|entries|breaths|builds|stops|catches|exhales|stretches"
        r"|long ones|off (?:the )?wall|(?:on )?each (?:side|arm|shoulder|way)|(?:a|per) side)"
    ),
    "not_reps": r"(?! (?:a|per|each|every) (?:day|week|session|month|year))",
    "not_of": "".join(
        rf"(?<! {word} )"
        for word in "last that this per each under until than your my first second third fourth "
        "between".split()
    )
    + r"(?<! (?:for|out) the )(?<! (?:in|of|on|at) the )(?<! over the )",
    "not_distance": (
        r"(?! ?(?:seconds?|secs?|minutes?|kicks|strokes?|degrees?|percent|beats?|cycles?|counts?"
        r"|per|an? (?:minute|length)|years?|o clock|times|goes|reps|x|by|clips?)\b)"
    ),
}
"""Parts of the patterns below: numbers, times, pauses, and what repetitions are called."""

_TEENS = re.compile(r"1(\d)")
_NEAR_25 = 24
"""Recognition writes "825s" and "824s" for the same eight twenty-fives."""
_POOL_24 = re.compile(r" 24 ?(?:m|meters?|metres?) ")
LEAST_REST_S = 5
"""A shorter time is part of how a drill is done ("hold for two seconds"), not a rest."""
MOST_REST_S = 240
"""A longer time is how long something goes on (common practice)."""


def _seconds(said: str) -> int:
    """Seconds of a time in words ("half a minute", "1 minute 30", "20 seconds", "20")."""
    numbers = [int(n) for n in re.findall(r"\d+", said)]
    if "quarter" in said:
        return 15
    if "minute" not in said:
        return numbers[0]
    if "and a half" in said:
        return 90
    if "half" in said:
        return 30
    if not re.search(r"\d minute", said):
        return 60 + sum(numbers)
    return 60 * numbers[0] + sum(numbers[1:])


def _set(match: re.Match[str]) -> Said | None:
    reps, distance = int(match["reps"]), int(match["distance"])
    if not 1 <= reps <= MAX_REPS or not 10 <= distance <= 3000:
        return None
    return Said("set", reps=reps, distance_m=distance)


def _plural_set(match: re.Match[str]) -> Said | None:
    """ "8 25s", which says a set by the plural alone: only distances that sets are swum in."""
    return _set(match) if int(match["distance"]) in DISTANCES | {_NEAR_25} else None


def _single(match: re.Match[str]) -> Said:
    return Said("set", reps=1, distance_m=int(match["distance"]))


def _glued(match: re.Match[str]) -> Said | None:
    """ "825s" is eight twenty-fives: the one way to split it into repetitions and a distance."""
    digits = match["glued"]
    for cut in range(1, len(digits) - 1):
        reps, rest = int(digits[:cut]), digits[cut:]
        distance = int(rest)
        pool = distance in DISTANCES | {_NEAR_25} and distance >= 15
        if 2 <= reps <= MAX_REPS and rest[0] != "0" and pool:
            return Said("set", reps=reps, distance_m=distance, heard=digits + "s")
    return Said("count") if int(digits) in DISTANCES else None


def _stopped(match: re.Match[str]) -> Said | None:
    """ "18. 25s", with a full stop inside, is how recognition writes "eight twenty-fives"."""
    made, teen = _set(match), _TEENS.fullmatch(match["reps"])
    if made is None:
        return None
    reps = int(teen[1]) if teen and teen[1] != "0" else made.reps
    return replace(made, reps=reps, heard=match[0].strip())


def _reps(match: re.Match[str]) -> Said | None:
    said = match["reps"]
    number = int(said) if said.isdigit() else 12
    return Said("reps", reps=number) if 1 <= number <= MAX_REPS else None


def _bare(match: re.Match[str]) -> Said | None:
    made = _reps(match)
    return made and replace(made, kind="bare")


def _couple(match: re.Match[str]) -> Said:
    return Said("set", reps=2, distance_m=int(match["distance"]))


def _timed(match: re.Match[str]) -> Said | None:
    made = _reps(match)
    return made and replace(made, seconds=_seconds(match["time"]))


def _rest(match: re.Match[str]) -> Said | None:
    seconds = _seconds(match["time"])
    return Said("rest", seconds=seconds) if LEAST_REST_S <= seconds <= MOST_REST_S else None


def _time(match: re.Match[str]) -> Said:
    seconds = _seconds(match["time"])
    return Said("time" if seconds >= LEAST_REST_S else "count", seconds=seconds)


def _span(match: re.Match[str]) -> Said:
    return Said("span", seconds=_seconds(match["time"]))


def _count(match: re.Match[str]) -> Said:
    return Said("count")


def _rate(match: re.Match[str]) -> Said:
    return Said("rate")


def _interval(match: re.Match[str]) -> Said | None:
    minutes, seconds = match["minutes"], int(match["seconds"] or 0)
    total = (1 if minutes == "minute" else int(minutes or 0)) * 60 + seconds
    return Said("interval", seconds=total) if 15 <= total <= 1200 else None


def _short_interval(match: re.Match[str]) -> Said | None:
    """ "On forty" is a send-off, or the rate that a beeper is set to."""
    total = int(match["seconds"])
    return Said("interval", seconds=total, weak=True) if 15 <= total <= 59 else None


def _distance(match: re.Match[str]) -> Said | None:
    said = match["distance"]
    distance = int(said) if said.isdigit() else 1000
    if match["unit"] and 5 <= distance <= 3000:
        return Said("distance", distance_m=distance, weak=distance < 15)
    if distance not in DISTANCES or distance < 25 or distance == 30:
        return None
    return Said("distance", distance_m=distance, weak=distance < 75)


def _rule(
    template: str, make: Callable[[re.Match[str]], Said | None]
) -> tuple[re.Pattern[str], Callable[[re.Match[str]], Said | None]]:
    for name, part in _PARTS.items():
        template = template.replace(f"<<{name}>>", part)
    return re.compile(" " + template), make


_END = r"(?= (?:[,.;:!?]|turnaround|send off|and|for|with|then|to|so|that|but|if|this)| $)"
_REPS = r"(?P<reps><<n>>)"
_RULES = (
    # Send-offs: "on the minute (thirty)", "on 1:40", "on one thirty", "on two minutes", "on forty".
    _rule(r"on (?:the |a |about )*(?P<minutes>minute)(?: (?P<seconds>\d\d))?\b", _interval),
    _rule(r"on (?:the |a |about )*(?P<minutes>\d)[: ](?P<seconds>\d\d)\b", _interval),
    _rule(r"on (?:the |a |about )*(?P<minutes>\d) minutes?(?: (?P<seconds>\d\d))?\b", _interval),
    _rule(r"on (?:the |a |about )*(?P<minutes>)(?P<seconds>\d\d) seconds?" + _END, _interval),
    _rule(r"on (?:the |a |about )*(?P<seconds>\d\d)" + _END, _short_interval),
    # Work and rest by the clock: "20 seconds on, 20 off"; "six times thirty seconds".
    _rule(r"<<n>> seconds? on (?:and |, )*(?P<time>\d+)(?: seconds?)? (?:off|<<pause>>)\b", _rest),
    _rule(_REPS + r"(?: \w+)? <<lots>> (?P<time><<time>>)(?! <<pause>>| off| between)", _timed),
    _rule(_REPS + r" (?P<time>\d+ (?:seconds?|minutes?)) (?:bursts|blocks|goes|efforts)\b", _timed),
    # Whole sets: "8 x 25", "four lots of 25", "8 25s", "six easy 100s", "825s".
    _rule(_REPS + r" \. (?P<distance>\d+)s\b", _stopped),
    _rule(
        _REPS + r"(?: (?:more|easy|steady|slow|good))? <<lots>>(?: <<lots>>)?(?: an?| the)?"
        r" (?P<distance>\d+)(?:s\b)?<<metres>>?\b<<not_distance>>",
        _set,
    ),
    _rule(
        _REPS + r"(?! (?:kicks|strokes|seconds?|counts|minutes?|times|of|degrees)\b)"
        r"(?: (?!and\b|then\b|in\b|for\b|on\b)[a-z]+){0,3} (?P<distance>\d+)s\b(?! <<pause>>)",
        _plural_set,
    ),
    _rule(r"couple of (?P<distance>\d+)s\b", _couple),
    _rule(_REPS + r" (?P<distance>\d+)<<metres>>", _set),
    _rule(r"(?P<reps>1|one)(?: [a-z]+)? (?P<distance>[1-9]00)\b<<not_distance>>", _single),
    _rule(r"(?P<glued>\d{3,7})s\b(?! <<pause>>)", _glued),
    # Numbers that say how a drill is done.
    _rule(r"(?:to|for) (?:a |the )?counts? of (?:<<n>>|one)\b", _count),
    _rule(r"<<n>> (?:kicks|counts?)\b", _count),
    _rule(r"<<n>> (?:strokes?|beats?|cycles?)\b", _rate),
    _rule(r"every (?:<<n>>)\b", _count),
    _rule(
        r"(?:hold|holds|holding|held|freeze|count|waits?|still|humming|stops?|set it to|set to)"
        r"(?: (?!<<pause>>)\w+){0,3} <<time>>(?! <<pause>>| off| between)",
        _count,
    ),
    # Rests: "20 seconds between", "rest is 20 seconds", "take 20", "fifteen rest".
    _rule(
        r"(?P<time><<time>>) (?:of |to )?(?:\w+ )?(?:<<pause>>|off|between|apart|apiece|easy"
        r"|to breathe|to recover|to get your breath|after each|after every"
        r"|(?:at|on|in) (?:the |each |every )?(?:wall|end|side)|and go)\b",
        _rest,
    ),
    _rule(
        r"<<pause>>(?: (?:is|of|for|you|take|about|between|in|each|by|this|here|that|will|be|it))*"
        r"(?: \d+(?= \d+ seconds?))? (?P<time><<time>>|<<n>>(?! ?(?:x|by|times|lengths?|\d)))",
        _rest,
    ),
    _rule(
        r"take(?: (?:about|the|your))? (?P<time><<time>>|<<n>>(?! ?(?:x|by|times|of|\d|strokes?"
        r"|off|kicks?|lengths?|goes|breaths?|steps?|weeks?|days?)))(?= )",
        _rest,
    ),
    _rule(
        r"(?P<time><<n>>) (?:of )?(?:<<pause>>|off(?! wall| the)|in between|between)\b(?! each)",
        _rest,
    ),
    _rule(r"(?P<time><<time>>) of (?!<<pause>>)", _span),
    _rule(r"(?P<time><<time>>)", _time),
    # Repetitions alone: "ten times", "six goes", "ten slow pulls", "four lengths".
    _rule(
        r"(?<! the )(?<! last )(?P<reps><<n>>|(?:a )?dozen)"
        r"(?: (?!<<pause>>|and |or |to )[a-z]+){0,2}? <<goes>>\b<<not_reps>>",
        _reps,
    ),
    _rule(
        r"(?P<reps><<n>>|(?:a )?dozen)(?: (?!<<pause>>|and |or |to |of )[a-z]+){0,2}? <<nouns>>\b",
        _reps,
    ),
    _rule(_REPS + r"(?: [a-z]+)? (?:lengths|widths|laps)\b", _reps),
    # Distances alone, and numbers that stand alone between commas.
    _rule(
        r"<<not_of>>(?P<distance><<n>>)(?:s\b)?(?P<unit><<metres>>)?(?: or so)?(?= )"
        r"<<not_distance>>",
        _distance,
    ),
    _rule(r"(?:a )?(?P<distance>kilomet(?:re|er))(?P<unit>)\b", _distance),
    _rule(
        r"(?:(?<=[,.:;] )|(?<= do )|(?<= say )|(?<= like a ))(?P<reps><<n>>|dozen)"
        r"(?= (?:[,.;]|per|at|before|or so|in your))",
        _bare,
    ),
)
"""What is looked for, in order: an earlier pattern takes its words from the later ones."""


def find_said(text: SetText) -> tuple[Said, ...]:
    """All parts of doses in a stretch of words, in the order they were said."""
    left, found = text.text, []
    for pattern, make in _RULES:
        for match in pattern.finditer(left):
            said = make(match)
            if said is None:
                continue
            first, last = text.range(match.start() + 1, match.end())
            found.append(replace(_in_lengths(said, match, text), first=first, last=last))
            left = left[: match.start() + 1] + "#" * (len(match[0]) - 1) + left[match.end() :]
    return tuple(sorted(found, key=lambda said: said.first))


def _in_lengths(said: Said, match: re.Match[str], text: SetText) -> Said:
    """24 m is misheard for 25 m, unless the narration speaks of a pool of that length."""
    if said.distance_m != _NEAR_25 or _POOL_24.search(text.text):
        return said
    return replace(said, distance_m=25, heard=match[0].strip())
