"""Which measure a spoken quantity belongs to: by its unit, the words around it, what was just
measured, what is possible, and what the learned reader hears in its sentence."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import log

from voicenotes.notes import Interval
from voicenotes.reading.figures.evidence import Claims, Surroundings
from voicenotes.reading.figures.roles import Role
from voicenotes.reading.figures.times import Distance, can_be_time, governing
from voicenotes.reading.figures.values import fits, plausible, readings
from voicenotes.reading.figures.weights import Signs, weigh
from voicenotes.reading.figures.words import MeasureWords, Unit
from voicenotes.reading.learned.reader import FAINT, LearnedReader, LearnedReading
from voicenotes.reading.numbers.quantities import Quantity
from voicenotes.reading.text import Narration
from voicenotes.vocabulary.model import Measure

TIMES = frozenset({"pace", "split"})
RECENT = 3
"""Sentences within which a target still answers to its observation."""
JUST_NOW = 2
"""Sentences within which the other side still answers to the first."""
ALIKE, NOT_FAR = 2.5, 8.0
"""Ratios up to which two values of a measure are of one size, or not far from it."""
UNTAUGHT = 0.6
"""What a measure is taken to be heard with that the learned reader was never taught (a coach's
own): a name or unit beside a number of usual size is then enough, the size alone is not."""
_DETERMINERS = frozenset(
    "the these those them my his her your all other our both last next".split()
)
_PACE_WORDS = frozenset({"pace", "hundred", "100"})
_METRIC = frozenset({"m", "m/s"})


@dataclass(frozen=True)
class Choice:
    """A measure for a quantity, how much speaks for it, and what."""

    measure: Measure
    score: float
    signs: Signs


@dataclass(frozen=True)
class Asked:
    """One quantity to choose a measure for, and what is known of it.

    ``sided`` tells that left or right stands beside it. ``role`` is None where the quantity's
    own words do not say. ``topics`` holds, for the measures of earlier figures, the sentence and
    the value they were last spoken of with; ``claims`` the latest figures.
    """

    quantity: Quantity
    unit: Unit | None
    sentence: int
    sided: bool
    role: Role | None
    topics: Mapping[str, tuple[int, float]]
    claims: Claims

    @property
    def unit_words(self) -> tuple[str, ...] | None:
        """The plain words of the unit, None where none was said."""
        return self.unit.words if self.unit else None


class MeasureChooser:
    """Chooses measures for the quantities of one narration, in the order they were said."""

    def __init__(
        self,
        narration: Narration,
        words: MeasureWords,
        around: Surroundings,
        distances: Sequence[Distance],
        heard: Sequence[LearnedReading],
        weights: Mapping[str, float],
    ) -> None:
        self._taught = LearnedReader().measures
        self._weights = weights
        self._doc = narration.doc
        self._measures = words.measures
        self._around = around
        self._distances = distances
        self._heard = heard

    def choices(self, asked: Asked) -> list[Choice]:
        """Measures that a quantity can be of, best first."""
        evidence = self._around.signs(asked.quantity, asked.unit, asked.sentence, asked.claims)
        named = {
            code
            for code, signs in evidence.items()
            if (signs.get("names_before") or signs.get("names_after")) and _has_unit(asked, code)
        }
        beside = max((evidence[code].get("beside", 0.0) for code in named), default=0.0)
        barred = self._around.barred(asked.quantity, asked.sentence)
        shared = self._general(asked)
        choices = []
        for code in self._open_to(asked):
            measure = self._measures[code]
            signs = {**shared, **evidence.get(code, {}), "barred": float(code in barred)}
            signs["elsewhere"] = float(_is_elsewhere(asked, code, named))
            signs["outnamed"] = max(0.0, beside - signs.pop("beside", 0.0))
            self._add_heard(signs, asked, code)
            self._add_topic(signs, asked, measure, beaten=bool(named) and code not in named)
            self._add_size(signs, asked, measure)
            if code in TIMES:
                self._add_time(signs, asked, measure)
            choices.append(Choice(measure, weigh(signs, self._weights), signs))
        return sorted(choices, key=lambda choice: -choice.score)

    def _open_to(self, asked: Asked) -> list[str]:
        """The measures that the unit and the form of a number leave open."""
        return [
            code
            for code in self._measures
            if _has_unit(asked, code)
            and (asked.quantity.pure != "clock" or code in TIMES)
            and (asked.quantity.pure != "ordinal" or code == "breath_interval")
            and not (code in TIMES and self._is_impossible(asked, code))
        ]

    def _is_impossible(self, asked: Asked, code: str) -> bool:
        measure = self._measures[code]
        values = readings(asked.quantity, measure, asked.unit_words)
        return not any(fits(value, measure.possible) for value in values)

    def _general(self, asked: Asked) -> Signs:
        """What speaks for or against a number being a figure at all."""
        quantity = asked.quantity
        sentence = self._doc[quantity.first].sent
        before = self._doc[quantity.first - 1].lower_ if quantity.first > sentence.start else ""
        bare = asked.unit is None and quantity.pure != "clock"
        return {
            "none": 1.0,
            "range": float(len(quantity.atoms) > 1),
            "limit": float(quantity.limit is not None),
            "bare_small": float(bare and _is_small(quantity)),
            "loose_det": float(bare and before in _DETERMINERS),
        }

    def _add_heard(self, signs: Signs, asked: Asked, code: str) -> None:
        """How surely the learned reader hears a figure of the measure here, or next to here."""
        at, last = asked.sentence, len(self._heard) - 1
        if code not in self._taught:
            signs["heard"] = UNTAUGHT
            return
        signs["heard"] = _heard(self._heard[at], code)
        if set(asked.unit_words or ()) & set(self._measures[code].terms):
            # "1:50 pace" names its measure whatever the reader hears.
            signs["heard"] = max(signs["heard"], UNTAUGHT)
        near = [i for i in (at - 1, at + 1) if 0 <= i <= last]
        signs["heard_near"] = max((_heard(self._heard[i], code) for i in near), default=0.0)

    def _add_topic(self, signs: Signs, asked: Asked, measure: Measure, *, beaten: bool) -> None:
        """What was measured a little while ago may be measured still, if no other is named."""
        if measure.code not in asked.topics:
            return
        at, last = asked.topics[measure.code]
        back = asked.sentence - at
        values = plausible(asked.quantity, measure, asked.unit_words)
        if back <= RECENT and asked.role == "target" and not beaten:
            signs["asked_like"] = _alike(values, last)
        usual = any(fits(value, measure.usual) for value in values)
        signs["sided_topic"] = float(asked.sided and back <= JUST_NOW and usual)

    def _add_size(self, signs: Signs, asked: Asked, measure: Measure) -> None:
        """Whether the number has a size that the measure can have, or often has."""
        values = plausible(asked.quantity, measure, asked.unit_words)
        if self._is_impossible(asked, measure.code):
            signs["impossible"] = 1.0
        elif any(fits(value, measure.usual) for value in values):
            signs["usual"] = 1.0
        if asked.unit is not None:
            signs["unit"] = 1.0
        elif measure.unit in _METRIC and asked.quantity.pure != "clock":
            signs["bare_m"] = float(measure.code not in asked.topics)

    def _add_time(self, signs: Signs, asked: Asked, measure: Measure) -> None:
        """Whether the number can be the time for the distance that is spoken of."""
        quantity = asked.quantity
        metres, known = self._distance(asked)
        low = quantity.low or 0.0
        split_second = low > 9 and low % 1 > 0
        signs["time_form"] = float(quantity.joined or quantity.pure == "clock" or split_second)
        if measure.code == "pace":
            per_hundred = asked.unit is not None and asked.unit.words[-1] in _PACE_WORDS
            named = signs.get("names_before") or signs.get("names_after") or per_hundred
            over = 100.0 if metres == 100 or named else None
            odd = over is None and metres is not None
        else:
            over, odd = metres, metres == 100
        values = readings(quantity, measure, asked.unit_words)
        possible = any(can_be_time(value, over) for value in values)
        if over is None and measure.code == "split" and signs.get("names_near", 0) > 0.8:
            possible = True  # "hands to feet" takes a second or two
        if odd or not possible:
            signs["time_odd"] = 1.0
        elif over is not None:
            signs["distance_known"] = float(known)

    def _distance(self, asked: Asked) -> tuple[float | None, bool]:
        """The distance spoken of, and whether the number's own sentence says it."""
        start, end = self._around.bounds(asked.sentence)
        metres = governing(self._distances, asked.quantity, start, end)
        known = metres is not None
        for back in range(1, min(RECENT, asked.sentence) + 1):
            if metres is None:
                begin, _ = self._around.bounds(asked.sentence - back)
                metres = governing(self._distances, asked.quantity, begin, end)
        return metres, known


def _has_unit(asked: Asked, code: str) -> bool:
    return asked.unit is None or code in asked.unit.measures


def _is_elsewhere(asked: Asked, code: str, named: set[str]) -> bool:
    """Whether the sentence measures other things, and the number's words do not name this one."""
    here = {c for _, at, c in asked.claims if at == asked.sentence and _has_unit(asked, c)}
    if not here or code in here | named or (code in TIMES and here & TIMES):
        return False
    return asked.unit is None or len(asked.unit.measures) > 1


def certainty_of(reading: LearnedReading, code: str) -> float:
    """How surely a sentence has a figure of a measure, observed or asked for."""
    return max(reading.observed.get(code, 0.0), reading.targets.get(code, 0.0))


def _heard(reading: LearnedReading, code: str) -> float:
    """The same by its logarithm, from 0 (faint or less) to 1: half sure is nearly as good as sure,
    next to nothing at all."""
    return log(max(certainty_of(reading, code), FAINT) / FAINT) / -log(FAINT)


def _is_small(quantity: Quantity) -> bool:
    """Whether a number is one of those that count all sorts of things."""
    low = quantity.low if quantity.low is not None else quantity.high or 0.0
    return low <= 10 and low == int(low)


def _alike(values: Sequence[Interval], last: float) -> float:
    """1 where a value has the size of the last one of its measure, 0.5 where it is not far."""
    best = 0.0
    for low, high in values:
        end = high if high is not None else low
        if end is None:
            continue
        if not end or not last:
            best = max(best, 0.5)
        elif 1 / ALIKE <= end / last <= ALIKE:
            return 1.0
        elif 1 / NOT_FAR <= end / last <= NOT_FAR:
            best = max(best, 0.5)
    return best
