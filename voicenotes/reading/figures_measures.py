"""Which measure a spoken quantity belongs to: by its unit, the words around it, what was just
measured, and what is possible."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from voicenotes.notes import Interval
from voicenotes.reading.figures_evidence import Claims, Surroundings
from voicenotes.reading.figures_terms import MeasureWords, Unit
from voicenotes.reading.figures_times import Distance, can_be_time, governing
from voicenotes.reading.figures_values import fits, plausible, readings
from voicenotes.reading.figures_weights import Signs, weigh
from voicenotes.reading.quantities import Quantity
from voicenotes.reading.roles import Role
from voicenotes.reading.text import Narration
from voicenotes.vocabulary.model import Measure

TIMES = frozenset({"pace", "split"})
TOPIC_LASTS = 6
"""Sentences after which a measure is no longer spoken of."""
_FRAMES = frozenset(
    "at to of is 's be was every by about around only just roughly want like a an on get got "
    "nearer under over say read are were call took need from with".split()
)
"""Words before a number that is measured rather than counted."""
_DETERMINERS = frozenset(
    "the these those them my his her your all other our both last next".split()
)
_DIMENSIONS = {
    **dict.fromkeys(("degree", "deg", "°"), "dim_deg"),
    **dict.fromkeys(("centimetre", "centimeter", "cm", "cms"), "dim_cm"),
    **dict.fromkeys(("second", "sec", "secs", "s"), "dim_s"),
    **dict.fromkeys(("metre", "meter", "m"), "dim_m"),
    **dict.fromkeys(("stroke", "beat"), "dim_count"),
    "/": "dim_rate",
}
_COUNTED = frozenset({"/", "beat", "stroke"})
"""Units whose measures differ so much in size that the size tells."""
_DURATIONS = frozenset({"second", "sec", "secs", "minute"})
_BARE = {"cm": "bare_cm", "m": "bare_m", "s": "bare_s", "m/s": "bare_m"}


@dataclass(frozen=True)
class Choice:
    """A measure for a quantity, how much speaks for it, and what."""

    measure: Measure
    score: float
    signs: Signs


@dataclass(frozen=True)
class Asked:
    """One quantity to choose a measure for, and what is known of it.

    ``topics`` holds, for the measures of earlier figures, the sentence and the value they were
    last spoken of with; ``role`` is None where the quantity's own words do not say.
    """

    quantity: Quantity
    unit: Unit | None
    sentence: int
    counted: bool
    sided: bool
    role: Role | None
    topics: Mapping[str, tuple[int, float]]
    claims: Claims = field(default=())

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
    ) -> None:
        self._doc = narration.doc
        self._measures = words.measures
        self._around = around
        self._distances = distances

    def choices(self, asked: Asked) -> list[Choice]:
        """Measures that fit a quantity, best first."""
        evidence = self._around.signs(asked.quantity, asked.unit, asked.sentence, asked.claims)
        named = {
            code
            for code, signs in evidence.items()
            if signs.get("names_local") and self._has_unit(asked, code)
        }
        shared = self._general(asked)
        choices = []
        for code in self._open_to(asked, named):
            measure = self._measures[code]
            signs = {**shared, **evidence.get(code, {})}
            self._add_topic(signs, asked, measure, bool(named))
            self._add_size(signs, asked, measure)
            self._add_form(signs, asked, measure)
            if code in TIMES:
                self._add_time(signs, asked, measure)
            if _has_grounds(asked, signs, code):
                choices.append(Choice(measure, weigh(signs), signs))
        return sorted(choices, key=lambda choice: -choice.score)

    def _open_to(self, asked: Asked, named: set[str]) -> list[str]:
        """The measures that come into question.

        Where figures were read in the sentence already, only theirs do, or those that the
        number's own words name.
        """
        barred = self._around.barred(asked.quantity, asked.sentence)
        here = {
            code
            for _, at, code in asked.claims
            if at == asked.sentence and self._has_unit(asked, code)
        }
        own_unit = asked.unit is not None and len(asked.unit.measures) == 1
        return [
            code
            for code in self._measures
            if self._has_unit(asked, code)
            and code not in barred
            and (asked.quantity.pure != "clock" or code in TIMES)
            and (asked.quantity.pure != "ordinal" or code == "breath_interval")
            and (not here or own_unit or code in here | named or (code in TIMES and here & TIMES))
            and not (code in TIMES and self._is_impossible(asked, code))
        ]

    def _has_unit(self, asked: Asked, code: str) -> bool:
        return asked.unit is None or code in asked.unit.measures

    def _is_impossible(self, asked: Asked, code: str) -> bool:
        measure = self._measures[code]
        values = readings(asked.quantity, measure, asked.unit_words)
        return not any(fits(value, measure.possible) for value in values)

    def _general(self, asked: Asked) -> Signs:
        """What speaks for or against a number being a figure at all."""
        quantity = asked.quantity
        sentence = self._doc[quantity.first].sent
        before = self._doc[quantity.first - 1].lower_ if quantity.first > sentence.start else ""
        signs: Signs = {
            "none": 1.0,
            "alone": float(quantity.last - quantity.first >= len(sentence) - 2),
            "joined": float(quantity.joined),
            "range": float(len(quantity.atoms) > 1),
            "limit": float(quantity.limit is not None),
            "counted": float(asked.counted),
        }
        if asked.role is not None:
            signs["asked" if asked.role == "target" else "seen"] = 1.0
        if asked.unit is not None:
            dimension = _DIMENSIONS.get(asked.unit.words[0])
            if dimension and len(asked.unit.measures) > 1:
                signs[dimension] = 1.0
        elif quantity.pure != "clock":
            small = _is_small(quantity)
            signs["bare"] = 1.0
            signs["bare_small"] = float(small)
            signs["small_framed" if small else "framed"] = float(before in _FRAMES)
            signs["loose_det"] = float(before in _DETERMINERS)
        return signs

    def _add_topic(self, signs: Signs, asked: Asked, measure: Measure, beaten: bool) -> None:
        """What was measured a little while ago may be measured still."""
        if measure.code not in asked.topics:
            return
        at, last = asked.topics[measure.code]
        back = asked.sentence - at
        if back > TOPIC_LASTS:
            return
        if beaten and not signs.get("names_local"):
            signs["topic_beaten"] = 1.0
        else:
            latest = max(sentence for sentence, _ in asked.topics.values())
            signs[f"topic_{min(3, back)}"] = 1.0 if at == latest else 0.5
        if back <= 3:
            signs["like_last"] = _alike(plausible(asked.quantity, measure, asked.unit_words), last)
            if asked.role == "target" and not beaten:
                signs["asked_like"] = signs["like_last"]

    def _add_size(self, signs: Signs, asked: Asked, measure: Measure) -> None:
        """Whether the number has a size that the measure can have, or often has."""
        values = plausible(asked.quantity, measure, asked.unit_words)
        if self._is_impossible(asked, measure.code):
            signs["impossible"] = 1.0
        elif any(fits(value, measure.usual) for value in values):
            signs["usual"] = 1.0
        if asked.unit is not None:
            alone = self._alone_fits(asked, measure.code)
            own = len(asked.unit.measures) == 1 or (alone and asked.unit.words[0] in _COUNTED)
            signs["unit_own" if own else "unit_shared"] = 1.0
            signs["unit_alone"] = float(alone)

    def _alone_fits(self, asked: Asked, code: str) -> bool:
        """Whether a number with a unit has the size of this measure and of no other."""
        assert asked.unit is not None
        fitting = [
            other
            for other in asked.unit.measures
            if any(
                fits(value, self._measures[other].usual)
                for value in readings(asked.quantity, self._measures[other], asked.unit_words)
            )
        ]
        return fitting == [code]

    def _add_form(self, signs: Signs, asked: Asked, measure: Measure) -> None:
        """How the number is said beside what is usual for the measure."""
        before = self._doc[asked.quantity.first - 1].lower_ if asked.quantity.first else ""
        if measure.code == "breath_interval":
            signs["every"] = float(before in {"every", "each"})
        out_of_ten = asked.unit is not None and asked.unit.words[0] == "out"
        signs["scale_alone"] = float(
            out_of_ten and not signs.get("names") and not signs.get("hints")
        )
        topic = any(signs.get(f"topic_{back}") for back in range(4))
        if signs.get("bare") and not topic and measure.unit in _BARE:
            signs[_BARE[measure.unit]] = 1.0
        recent = (
            measure.code in asked.topics and asked.sentence - asked.topics[measure.code][0] <= 2
        )
        signs["sided_topic"] = float(asked.sided and recent and bool(signs.get("usual")))

    def _add_time(self, signs: Signs, asked: Asked, measure: Measure) -> None:
        """Whether the number can be the time for the distance that is spoken of."""
        quantity = asked.quantity
        start, metres, known = self._distance(asked)
        low = quantity.low or 0.0
        split_second = low > 9 and low % 1 > 0
        signs["time_form"] = float(quantity.joined or quantity.pure == "clock" or split_second)
        if measure.code == "pace":
            per_hundred = asked.unit is not None and asked.unit.words[-1] in {
                "pace",
                "hundred",
                "100",
            }
            named = bool(signs.get("names_local")) or per_hundred
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
            beside = any(0 <= quantity.first - d.last <= 2 for d in self._distances)
            signs["time_fits"] = 1.0
            signs["clock_fits"] = float(quantity.pure == "clock")
            signs["distance_known"] = float(known)
            signs["distance_beside"] = float(beside and quantity.first > start)

    def _distance(self, asked: Asked) -> tuple[int, float | None, bool]:
        """The sentence's start, the distance spoken of, and whether the sentence says it."""
        start, end = self._around.bounds(asked.sentence)
        metres = governing(self._distances, asked.quantity, start, end)
        known = metres is not None
        for back in range(1, min(3, asked.sentence) + 1):
            if metres is None:
                begin, _ = self._around.bounds(asked.sentence - back)
                metres = governing(self._distances, asked.quantity, begin, end)
        return start, metres, known


def _is_small(quantity: Quantity) -> bool:
    """Whether a number is one of those that count all sorts of things."""
    low = quantity.low if quantity.low is not None else quantity.high or 0.0
    return low <= 10 and low == int(low)


def _has_grounds(asked: Asked, signs: Mapping[str, float], code: str) -> bool:
    """Whether anything but the size of a number speaks for a measure."""
    topic = any(signs.get(f"topic_{back}") for back in range(4)) or signs.get("topic_beaten")
    if signs.get("scale_alone") and not topic and not signs.get("names_1"):
        return False
    if asked.unit and not (code == "split" and asked.unit.words[0] in _DURATIONS):
        return True
    if signs.get("bare_small"):
        near = signs.get("names_near", 0.0) >= 0.5 or signs.get("beside") or signs.get("every")
        back = signs.get("latest") or signs.get("intro") or signs.get("names_1")
        said = signs.get("asked") or signs.get("seen") or signs.get("alone")
        return bool(near or (topic and signs.get("like_last") and said) or (back and said))
    hinted = signs.get("hints", 0.0) >= 0.25 and signs.get("usual")
    timed = signs.get("time_fits") or (signs.get("time_form") and signs.get("hints"))
    named = any(signs.get(name) for name in ("names", "names_1", "names_2", "latest"))
    return bool(named or topic or hinted or timed)


def _alike(values: Sequence[Interval], last: float) -> float:
    """1 where a value has the size of the last one of its measure, 0.5 where it is not far."""
    best = 0.0
    for low, high in values:
        end = high if high is not None else low
        if end is None:
            continue
        if not end or not last:
            best = max(best, 0.5)
        elif 1 / 2.5 <= end / last <= 2.5:
            return 1.0
        elif 1 / 8 <= end / last <= 8:
            best = max(best, 0.5)
    return best
