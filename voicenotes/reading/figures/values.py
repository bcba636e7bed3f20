"""The value of a figure in its measure's own unit and convention."""

from dataclasses import dataclass

from spacy.tokens import Doc, Span

from voicenotes.notes import Interval
from voicenotes.reading.figures.words import UnitWords
from voicenotes.reading.numbers.quantities import Quantity
from voicenotes.vocabulary.model import Measure

STRAIGHT = 180.0
SQUARE = 90.0
MOST_BENT = 120.0
"""Degrees: knees and hips are bent no further in the water (common practice), so that a larger
angle is the inside one."""
_TIMES = frozenset({"pace", "split"})
_FROM_STRAIGHT = ("from straight", "off straight", "from a straight", "short of straight")
_SCALES = ("180", "one eighty", "inside", "straight", "hundred and eighty")
_BENDS = frozenset({"bend", "flexion", "flex"})


@dataclass(frozen=True)
class Value:
    """An interval in the measure's own unit, and what was converted, in words."""

    interval: Interval
    converted: str | None = None


def scaled(interval: Interval, by: float) -> Interval:
    """An interval in another unit."""
    low, high = (None if end is None else round(end * by, 4) for end in interval)
    return (low, high)


def fits(interval: Interval, bounds: tuple[float, float]) -> bool:
    """Whether an interval lies within bounds."""
    low, high = bounds
    return all(low <= end <= high for end in interval if end is not None)


def readings(quantity: Quantity, measure: Measure, unit: UnitWords | None) -> list[Interval]:
    """The intervals that a quantity may mean for a measure, likeliest first."""
    plain = scaled(quantity.interval, _scale(measure, unit))
    if measure.code not in _TIMES or quantity.clock is None:
        return [_turned(plain, quantity)] if measure.code in _TIMES else [plain]
    counted = unit is not None and unit[0] in {"second", "sec", "secs"}
    if quantity.pure == "clock" or (not counted and _by_the_clock(quantity)):
        return [quantity.clock, _turned(plain, quantity)]
    return [_turned(plain, quantity), quantity.clock]


def plausible(quantity: Quantity, measure: Measure, unit: UnitWords | None) -> list[Interval]:
    """What a quantity may mean for a measure, whichever way the joint is measured."""
    found = readings(quantity, measure, unit)
    if measure.code in {"elbow_angle", "knee_bend", "hip_bend"}:
        found.append(_over(quantity.interval))
    return found


def _over(interval: Interval) -> Interval:
    """The same joint measured the other way."""
    low, high = (None if end is None else STRAIGHT - end for end in reversed(interval))
    return (low, high)


def _by_the_clock(quantity: Quantity) -> bool:
    """Whether "one forty" is likelier minutes and seconds than a number of seconds."""
    return quantity.joined or all(end is None or end >= 100 for end in quantity.interval)


def _turned(interval: Interval, quantity: Quantity) -> Interval:
    """For times "or better" means less."""
    if quantity.limit in ("no_slower", "no_faster") and None in interval:
        return (interval[1], interval[0])
    return interval


def _scale(measure: Measure, unit: UnitWords | None) -> float:
    if unit is None:
        return 1
    if measure.unit == "cm" and unit[0] in {"metre", "meter", "m"}:
        return 100
    if measure.unit == "m" and unit[0].startswith("centim"):
        return 0.01
    if measure.unit == "s" and unit[0].startswith("millisecond"):
        return 0.001
    return 1


def value_of(
    doc: Doc, quantity: Quantity, measure: Measure, unit: UnitWords | None, sentence: Span
) -> Value:
    """A quantity as a value of its measure, converted to the measure's convention."""
    possible = readings(quantity, measure, unit)
    interval = next(
        (reading for reading in possible if fits(reading, measure.possible)), possible[0]
    )
    if measure.unit == "deg":
        return _in_convention(doc, quantity, measure, interval, sentence)
    if interval != quantity.interval:
        shown = f"{quantity.surface} is {spoken(interval)} {measure.unit}"
        return Value(interval, None if interval == quantity.clock else shown)
    return Value(interval)


def spoken(interval: Interval) -> str:
    """An interval in words and figures."""
    low, high = interval
    if low == high:
        return f"{low:g}"
    if low is None:
        return f"at most {high:g}"
    return f"at least {low:g}" if high is None else f"{low:g} to {high:g}"


def _in_convention(
    doc: Doc, quantity: Quantity, measure: Measure, interval: Interval, sentence: Span
) -> Value:
    """Bend from straight as an inside angle for the elbow, the other way for knee and hip."""
    ends = [end for end in interval if end is not None]
    near = doc[quantity.first : min(sentence.end, quantity.last + 7)].text.lower()
    text = sentence.text.lower()
    if measure.code == "elbow_angle" and ends and max(ends) <= SQUARE:
        if _is_bend(near, text, quantity, doc):
            return _turn_over(interval, "from straight", "an inside angle")
    elif measure.code in {"knee_bend", "hip_bend"} and ends and min(ends) < STRAIGHT:
        told = "inside" in near or (min(ends) >= SQUARE and _says_inside(text))
        if (told or min(ends) > MOST_BENT) and not _flexed(doc, quantity):
            return _turn_over(interval, "inside", "a bend")
    return Value(interval)


def _is_bend(near: str, text: str, quantity: Quantity, doc: Doc) -> bool:
    if any(words in near for words in _FROM_STRAIGHT):
        return True
    after = [token.lower_ for token in doc[quantity.anchor : quantity.anchor + 4]]
    if "of" in after and _BENDS & set(after):
        return True
    return any(words in text for words in _FROM_STRAIGHT) and "inside" not in near


def _says_inside(text: str) -> bool:
    """Whether a sentence tells of an angle that is 180 when the limb is straight."""
    return any(word in text for word in _SCALES)


def _flexed(doc: Doc, quantity: Quantity) -> bool:
    """Whether the number is plainly a flexion ("flexed to 115", "115 of bend")."""
    before = {token.lemma_.lower() for token in doc[max(0, quantity.first - 3) : quantity.first]}
    after = {token.lemma_.lower() for token in doc[quantity.anchor : quantity.anchor + 4]}
    return bool(before & {"flex", "bend", "fold"}) or ("of" in after and bool(after & _BENDS))


def _turn_over(interval: Interval, said: str, meant: str) -> Value:
    turned = _over(interval)
    return Value(turned, f"{spoken(interval)} {said} is {meant} of {spoken(turned)}")
