"""The arithmetic of swimming, and figures that cannot all be right.

Speed, pace, stroke rate, distance per stroke and stroke count hang together, so a figure that was
misheard or misread often gives itself away.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import TypeVar

from voicenotes.judging.intervals import Span, meet, span
from voicenotes.notes import Figure, Mention
from voicenotes.review import Brief, Question
from voicenotes.vocabulary.model import Stroke
from voicenotes.words import listen, number, quantity

STROKES_TOLERANCE = 1.15
"""Factor by which rate times distance per stroke may miss the speed. Mean rate, length and speed of
one study, taken over different stretches, miss each other by 12 % (Seifert, Chollet, Chatard
2007, Med Sci Sports Exerc 39:1784); "2 m, 50 cycles a minute, 2 m/s" is wrong by 20 %."""

PACE_TOLERANCE = 1.1
"""The same between pace and speed: pace holds the turns, speed is clean swimming (common
practice)."""

GLIDE_M = 10.0
"""Metres of a length that may pass without a stroke after the push-off (common practice)."""

SAME_PASSAGE_S = 20.0
"""A split and a pace said within this time are of the same swim."""

SWOLF_TOLERANCE = 2.0
"""Seconds and strokes are both rounded to whole numbers when they are added up."""

ONE_PULL_A_CYCLE: tuple[Stroke, ...] = ("breaststroke", "butterfly")


def speed_from_strokes(rate: float, distance: float) -> float:
    """Speed in m/s from strokes a minute and metres a stroke (v = rate x distance / 60).

    Rate and distance must both be of single strokes or both of cycles (Craig and Pendergast
    1979, Med Sci Sports 11:278).
    """
    return rate * distance / 60


def speed_from_pace(pace: float) -> float:
    """Speed in m/s from seconds per 100 m."""
    return 100 / pace


def pace_from_speed(speed: float) -> float:
    """Seconds per 100 m from a speed in m/s."""
    return 100 / speed


def pace_from_split(seconds: float, distance: float) -> float:
    """Seconds per 100 m from a time in seconds over a distance in metres."""
    return 100 * seconds / distance


def distance_from_count(length: float, count: float, glide: float = 0) -> float:
    """Metres a stroke from strokes over a length in metres, less the glide off the wall."""
    return (length - glide) / count


def swolf(seconds: float, strokes: float) -> float:
    """Time in seconds plus strokes of one length."""
    return seconds + strokes


@dataclass(frozen=True)
class _Value:
    """An observed figure in the unit of a sum, the figure it came from, and how it was said."""

    span: Span
    index: int
    figure: Figure
    said: str


def questions_between(
    figures: tuple[Figure, ...], brief: Brief, skip: frozenset[int]
) -> list[Question]:
    """What to listen to again because figures cannot all be right.

    A coach may measure several lengths, so figures are only put to the coach where no
    combination of them agrees. ``skip`` holds indexes of figures that are doubted already.
    """
    seen = _seen(figures, skip)
    found = (
        _strokes_and_speed(seen, brief),
        _pace_and_speed(seen),
        _count_and_length(seen, brief),
        _split_and_pace(seen, brief),
        _swolf_and_parts(seen, brief),
    )
    return [question for question in found if question]


def borne_out(figures: tuple[Figure, ...], brief: Brief) -> frozenset[int]:
    """Indexes of figures whose rate, distance per stroke and speed fit each other as read."""
    fitting = filter(_make_the_speed, _strokes(_seen(figures, frozenset()), brief))
    return frozenset(value.index for group in fitting for value in group)


_Seen = list[tuple[int, Figure]]
_Group = TypeVar("_Group", bound=tuple[_Value, ...])


def _seen(figures: tuple[Figure, ...], skip: frozenset[int]) -> _Seen:
    """Observations with both ends above nought, which is all that the sums can use."""
    return [
        (index, figure)
        for index, figure in enumerate(figures)
        if index not in skip
        and figure.observed
        and None not in figure.observed
        and span(figure.observed).low > 0
    ]


def _values(seen: _Seen, measure: str, said: str, factor: float = 1) -> list[_Value]:
    return [
        _Value(
            Span(*(end * factor for end in span(figure.observed or (None, None)))),
            index,
            figure,
            f"{said} of {quantity(figure.observed or (None, None), figure.unit)}",
        )
        for index, figure in seen
        if figure.measure == measure
    ]


def _speeds(seen: _Seen) -> list[_Value]:
    """Speeds, said as such or as paces."""
    return _values(seen, "speed", "a speed") + [
        replace(pace, span=Span(speed_from_pace(pace.span.high), speed_from_pace(pace.span.low)))
        for pace in _values(seen, "pace", "a pace")
    ]


def _strokes(seen: _Seen, brief: Brief) -> Iterator[tuple[_Value, _Value, _Value]]:
    """Every rate with every distance per stroke and every speed."""
    rates = _values(seen, "stroke_rate", "a stroke rate") + _values(
        seen, "cycle_rate", "a cycle rate", _pulls(brief)
    )
    lengths = _values(seen, "distance_per_stroke", "a distance per stroke")
    return product(rates, lengths, _speeds(seen))


def _pulls(brief: Brief) -> int:
    """Single strokes to a cycle."""
    return 1 if brief.stroke in ONE_PULL_A_CYCLE else 2


def _make_the_speed(strokes: tuple[_Value, _Value, _Value]) -> bool:
    rate, length, speed = strokes
    return _agree(_made(rate, length), speed.span, STROKES_TOLERANCE)


def _strokes_and_speed(seen: _Seen, brief: Brief) -> Question | None:
    odd = _odd_one(_strokes(seen, brief), _make_the_speed)
    if odd is None:
        return None
    rate, length, speed = odd
    result = _made(rate, length)
    text = (
        f"{rate.said.capitalize()} and {length.said} make {_around(result)} m/s, but you gave"
        f" {speed.said}{_as_speed(speed)}."
    )
    doubled = [_scaled(result, factor) for factor in (0.5, 2.0)]
    mixed = _pulls(brief) == 2 and any(_agree(d, speed.span, STROKES_TOLERANCE) for d in doubled)
    if mixed:
        text += " It fits if one of them counts full cycles."
    return _ask("convention" if mixed else "disagrees", text, odd)


def _made(rate: _Value, length: _Value) -> Span:
    """The speeds that a rate and a distance per stroke allow, in m/s."""
    return Span(
        speed_from_strokes(rate.span.low, length.span.low),
        speed_from_strokes(rate.span.high, length.span.high),
    )


def _pace_and_speed(seen: _Seen) -> Question | None:
    odd = _odd_one(
        product(_values(seen, "speed", "a speed"), _values(seen, "pace", "a pace")),
        lambda t: _agree(_paces(t[0]), t[1].span, PACE_TOLERANCE),
    )
    if odd is None:
        return None
    speed, pace = odd
    text = f"{speed.said.capitalize()} is {_as_pace(_paces(speed))}, but you gave {pace.said}."
    return _ask("disagrees", text, odd)


def _count_and_length(seen: _Seen, brief: Brief) -> Question | None:
    """Strokes times distance per stroke must fill a length, less the glide off the wall."""
    odd = _odd_one(
        product(
            _values(seen, "stroke_count", "a stroke count"),
            _values(seen, "distance_per_stroke", "a distance per stroke"),
        ),
        lambda t: _fills(t[0], t[1], brief),
    )
    if odd is None:
        return None
    count, length = odd
    covered = Span(count.span.low * length.span.low, count.span.high * length.span.high)
    over = count.figure.distance_m or brief.pool_m
    text = (
        f"{count.said.capitalize()} and {length.said} cover {_around(covered)} m, which does not"
        f" fit {number(over)} m."
    )
    return _ask("disagrees", text, odd)


def _fills(count: _Value, length: _Value, brief: Brief) -> bool:
    """Whether a count fits its distance, or one or two lengths where no distance was said."""
    said = count.figure.distance_m
    pool = brief.pool_m
    swims = [(said, max(1.0, said / pool))] if said else [(pool, 1.0), (2 * pool, 2.0)]
    return any(
        _agree(
            Span(
                distance_from_count(metres, count.span.high, min(GLIDE_M * laps, metres)),
                distance_from_count(metres, count.span.low),
            ),
            length.span,
            PACE_TOLERANCE,
        )
        for metres, laps in swims
    )


def _split_and_pace(seen: _Seen, brief: Brief) -> Question | None:
    """A split over its distance against the pace, where both are of the same swim."""
    swims = [
        (split, pace)
        for split, pace in product(
            _values(seen, "split", "a split"), _values(seen, "pace", "a pace")
        )
        if (split.figure.distance_m or 0) >= brief.pool_m and _same_passage(split, pace)
    ]
    odd = _odd_one(swims, lambda t: _agree(_split_pace(t[0]), t[1].span, PACE_TOLERANCE))
    if odd is None:
        return None
    split, pace = odd
    text = (
        f"{split.said.capitalize()} over {number(split.figure.distance_m or 0)} m is"
        f" {_as_pace(_split_pace(split))}, but you gave {pace.said}."
    )
    return _ask("disagrees", text, odd)


def _swolf_and_parts(seen: _Seen, brief: Brief) -> Question | None:
    """Time plus strokes of one length against the sum that was given."""
    lengths = [
        (whole, time, count)
        for whole, time, count in product(
            _values(seen, "swolf", "a time plus strokes"),
            _values(seen, "split", "a time"),
            _values(seen, "stroke_count", "a stroke count"),
        )
        if time.figure.distance_m == (count.figure.distance_m or brief.pool_m)
    ]
    odd = _odd_one(lengths, lambda t: meet(_parts(t[1], t[2], SWOLF_TOLERANCE), t[0].span))
    if odd is None:
        return None
    whole, time, count = odd
    text = (
        f"{time.said.capitalize()} and {count.said} add up to {_around(_parts(time, count, 0))},"
        f" but you gave {whole.said}."
    )
    return _ask("disagrees", text, odd)


def _odd_one(together: Iterable[_Group], agrees: Callable[[_Group], bool]) -> _Group | None:
    """The first group of figures where no group agrees; None where one does or there is none."""
    groups = list(together)
    return None if any(map(agrees, groups)) else next(iter(groups), None)


def _paces(speed: _Value) -> Span:
    return Span(pace_from_speed(speed.span.high), pace_from_speed(speed.span.low))


def _split_pace(split: _Value) -> Span:
    distance = split.figure.distance_m or 1.0
    return Span(*(pace_from_split(end, distance) for end in split.span))


def _as_pace(pace: Span) -> str:
    return quantity((round(pace.low, 1), round(pace.high, 1)), "s/100m")


def _parts(time: _Value, count: _Value, tolerance: float) -> Span:
    return Span(
        swolf(time.span.low, count.span.low) - tolerance,
        swolf(time.span.high, count.span.high) + tolerance,
    )


def _agree(one: Span, other: Span, factor: float) -> bool:
    """Whether two spans of positive figures meet, give or take a factor."""
    return meet(Span(one.low / factor, one.high * factor), other)


def _scaled(one: Span, factor: float) -> Span:
    return Span(one.low * factor, one.high * factor)


def _same_passage(one: _Value, other: _Value) -> bool:
    return any(
        abs(a.start - b.start) <= SAME_PASSAGE_S
        for a, b in product(one.figure.mentions, other.figure.mentions)
    )


def _as_speed(speed: _Value) -> str:
    """The speed that a pace amounts to, for the reader."""
    return "" if speed.figure.measure == "speed" else f", which is {_around(speed.span)} m/s"


def _around(value: Span) -> str:
    low, high = number(value.low), number(value.high)
    return low if low == high else f"{low} to {high}"


def _ask(about: str, text: str, values: Sequence[_Value]) -> Question:
    return Question.model_validate(
        {
            "about": about,
            "text": f"{text} {listen(_first_mentions(values))}",
            "figures": tuple(value.index for value in values),
            "mention": values[0].figure.mentions[0],
        }
    )


def _first_mentions(values: Iterable[_Value]) -> list[Mention]:
    return sorted((value.figure.mentions[0] for value in values), key=lambda m: m.start)
