"""Which measure a spoken quantity belongs to: by its unit, the words around it, what was just
measured, and what is possible."""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

from spacy.tokens import Doc

from voicenotes.notes import Interval
from voicenotes.reading.figures_times import Distance, can_be_time, governing
from voicenotes.reading.figures_units import UnitWords, following, plain_units
from voicenotes.reading.figures_values import fits, plausible, readings
from voicenotes.reading.groups import Groups
from voicenotes.reading.numbers import Quantity
from voicenotes.reading.text import Narration
from voicenotes.vocabulary.model import Measure, Vocabulary

SENTENCES_BACK = 3
"""How far back a word still tells what a number measures."""
_BREAKS = frozenset({",", ";", ":", "-", "–", "—", "but", "and", "while", "whereas", "where"})
_FRAMES = frozenset(
    "at to of is 's be was every by about around only just roughly want like a an on get got "
    "nearer under over say read are were call took need from with".split()
)
_DETERMINERS = frozenset(
    "the these those them my his her your all other our both last next".split()
)
_DIMENSIONS = {
    "degree": "dim_deg",
    "deg": "dim_deg",
    "°": "dim_deg",
    "centimetre": "dim_cm",
    "centimeter": "dim_cm",
    "cm": "dim_cm",
    "cms": "dim_cm",
    "second": "dim_s",
    "sec": "dim_s",
    "secs": "dim_s",
    "s": "dim_s",
    "metre": "dim_m",
    "meter": "dim_m",
    "m": "dim_m",
    "stroke": "dim_count",
    "beat": "dim_count",
    "kick": "dim_count",
    "arm": "dim_count",
    "/": "dim_rate",
}
_LINKS = frozenset(
    "distance time angle score reading number one is 's was are were at of to : , about around on reads , only just roughly by - it maybe bent turned angled".split()
)
_LINKS_AFTER = frozenset(
    "of at on for in the your that his her a both degree degrees their this my each".split()
)
_COUNTED_UNITS = frozenset({"/", "beat", "stroke"})
_BARE = {"cm": "bare_cm", "m": "bare_m", "s": "bare_s", "m/s": "bare_m"}
_SHARED_UNITS = frozenset({"second", "metre", "meter"})
TIMES = frozenset({"pace", "split"})

WEIGHTS: dict[str, float] = {
    "names": 0.6,
    "names_near": 1.4,
    "names_local": 0.5,
    "hints": 1.9,
    "names_1": 0.2,
    "intro": 0.3,
    "latest": 1.2,
    "names_2": -0.3,
    "names_3": 0.6,
    "hints_back": 0.4,
    "topic_0": 0.7,
    "topic_1": 0.5,
    "topic_2": -0.3,
    "topic_3": -2.4,
    "topic_beaten": 1.5,
    "unit_own": 4.0,
    "sided_topic": 1.0,
    "clock_fits": 0.5,
    "unit_alone": 0.7,
    "distance_beside": 1.0,
    "unit_shared": 2.2,
    "dim_deg": 0.7,
    "dim_cm": 0.7,
    "dim_s": 0.2,
    "dim_m": 0.0,
    "dim_count": -1.5,
    "usual": 1.8,
    "beside": 1.6,
    "like_last": 0.3,
    "bare_cm": -1.9,
    "bare_m": -4.2,
    "bare_s": -1.0,
    "asked_like": 2.0,
    "dim_rate": 1.2,
    "asked": -0.8,
    "seen": -0.6,
    "scale_alone": -0.5,
    "impossible": -3.8,
    "every": 0.8,
    "time_fits": 0.8,
    "time_odd": -1.5,
    "time_form": 2.3,
    "distance_known": 1.1,
    "bare": 2.0,
    "bare_small": -1.4,
    "small_framed": 1.1,
    "framed": 0.2,
    "loose_det": -2.1,
    "alone": 1.1,
    "joined": 0.2,
    "range": 1.9,
    "limit": 1.7,
    "counted": -2.9,
    "none": -4.8,
}


@dataclass(frozen=True)
class Term:
    """A word of a measure found in the text; ``names`` is False for a mere hint."""

    words: str
    measure: str
    weight: float
    first: int
    last: int
    names: bool


@dataclass(frozen=True)
class Unit:
    """The unit said with a quantity: its plain words, the measures it fits, the token after it."""

    words: UnitWords
    measures: frozenset[str]
    last: int


@dataclass(frozen=True)
class Choice:
    """A measure for a quantity, how much speaks for it, and what."""

    measure: Measure
    score: float
    unit: Unit | None
    features: Mapping[str, float]


class MeasureWords:
    """The words of all measures: built once from the vocabulary."""

    def __init__(self, vocabulary: Vocabulary) -> None:
        self.measures = vocabulary.measures
        self._units: dict[UnitWords, set[str]] = defaultdict(set)
        sharing: dict[str, set[str]] = defaultdict(set)
        hinted: dict[str, set[str]] = defaultdict(set)
        for code, measure in self.measures.items():
            for unit in measure.units:
                self._units[plain_units(unit.lower().split())].add(code)
            for term in measure.terms:
                sharing[term].add(code)
            for hint in measure.hints:
                hinted[hint].add(code)
        self._sharing, self._hinted = sharing, hinted
        self._groups = Groups({term: [term] for term in [*sharing, *hinted]}, by_lemma=True)

    def terms(self, doc: Doc) -> list[Term]:
        """Every term of every measure in a text, in order."""
        found = []
        for words, first, last in self._groups.find(doc):
            named, hinted = self._sharing.get(words, ()), self._hinted.get(words, ())
            weight = (1.0 if " " not in words else 1.4) / sqrt(len(named) or 1)
            found += [Term(words, code, weight, first, last, True) for code in sorted(named)]
            weight = 1.0 / sqrt(len(hinted) or 1)
            found += [Term(words, code, weight, first, last, False) for code in sorted(hinted)]
        return found

    def named_by(self, words: str) -> set[str]:
        """The measures that a term names or hints at."""
        return self._sharing.get(words, set()) | self._hinted.get(words, set())

    def unit(self, doc: Doc, quantity: Quantity) -> Unit | None:
        """The longest unit that is said right after a quantity, or within it ("a second")."""
        best = None
        for words, last in following(doc, quantity):
            if words in self._units:
                best = Unit(words, frozenset(self._units[words]), last)
        if best is None and quantity.pure != "clock":
            for token in doc[quantity.first : quantity.anchor]:
                inside = plain_units([token.lower_])
                if inside in self._units and inside[0] in _SHARED_UNITS:
                    best = Unit(inside, frozenset(self._units[inside]), quantity.anchor)
        return best


class MeasureChooser:
    """Chooses measures for the quantities of one narration, in the order they were said."""

    def __init__(
        self,
        narration: Narration,
        words: MeasureWords,
        found: list[Quantity],
        distances: list[Distance],
        units: list["Unit | None"],
    ) -> None:
        self._doc = narration.doc
        self._words = words
        self._distances = distances
        self._terms = words.terms(narration.doc)
        self.term_tokens = {at for term in self._terms for at in range(term.first, term.last)}
        self._firsts = [term.first for term in self._terms]
        self._starts = [sentence.span.start for sentence in narration.sentences]
        self._quantities = [quantity.first for quantity in found]
        self._spans = [
            (q.first, max(q.last, u.last if u else 0)) for q, u in zip(found, units, strict=True)
        ]
        self._owned: dict[int, int] = {}
        self._inside = {at for q in found for at in range(q.first, q.last)}
        self._used = {
            at for q, u in zip(found, units, strict=True) if u for at in range(q.anchor, u.last)
        }

    def own(self, quantity: Quantity, measure: str) -> None:
        """Notes the words right after a quantity that say what it measures: they say no more."""
        start = bisect_left(self._firsts, quantity.last)
        for term in self._terms[start : start + 12]:
            if term.names and term.measure == measure and self._is_beside(quantity, term):
                self._owned.update(dict.fromkeys(range(term.first, term.last), quantity.first))

    def choices(
        self,
        quantity: Quantity,
        unit: Unit | None,
        sentence: int,
        topics: Mapping[str, tuple[int, float]],
        *,
        counted: bool,
        role: str | None,
        sided: bool,
        said: list[tuple[int, int, str]],
    ) -> list[Choice]:
        """Measures that fit a quantity, best first.

        ``topics`` holds, for measures of earlier figures, the sentence they were last spoken of in.
        """
        shared = self._general(quantity, unit, counted)
        evidence = self._evidence(quantity, unit, sentence, said)
        here = {
            code for _, at, code in said if at == sentence and (not unit or code in unit.measures)
        }
        beaten = any(
            values.get("names_local")
            for code, values in evidence.items()
            if not unit or code in unit.measures
        )
        latest = max((at for at, _ in topics.values()), default=-9)
        if role is not None:
            shared["asked" if role == "target" else "seen"] = 1
        choices = []
        for code, measure in self._words.measures.items():
            if (unit and code not in unit.measures) or (
                quantity.pure == "clock" and code not in TIMES
            ):
                continue
            if (
                here
                and code not in here
                and not (code in TIMES and here & TIMES)
                and not evidence.get(code, {}).get("names_local")
                and not (unit and len(unit.measures) == 1)
            ):
                continue
            features = dict(shared)
            features.update(evidence.get(code, {}))
            at, last = topics.get(code, (None, 0.0))
            self._add_topic(features, at, sentence, latest, beaten)
            if at is not None and sentence - at <= 3:
                features["like_last"] = _alike(
                    plausible(quantity, measure, unit and unit.words), last
                )
                if role == "target" and not beaten:
                    features["asked_like"] = features["like_last"]
            if unit:
                alone = self._alone_fits(quantity, unit, code)
                own = len(unit.measures) == 1 or (alone and unit.words[0] in _COUNTED_UNITS)
                features["unit_own" if own else "unit_shared"] = 1
                features["unit_alone"] = float(alone)
            values = readings(quantity, measure, unit and unit.words)
            if not any(fits(value, measure.possible) for value in values):
                features["impossible"] = 1
                if code in TIMES:
                    continue
            elif any(
                fits(v, measure.usual) for v in plausible(quantity, measure, unit and unit.words)
            ):
                features["usual"] = 1
            if (
                unit
                and unit.words[0] == "out"
                and not features.get("names")
                and not features.get("hints")
            ):
                features["scale_alone"] = 1
            if (
                code == "breath_interval"
                and quantity.first
                and self._doc[quantity.first - 1].lower_ in {"every", "each"}
            ):
                features["every"] = 1
            if code in TIMES:
                self._add_time(features, quantity, measure, unit, sentence)
            topic = any(features.get(f"topic_{back}") for back in range(4))
            if features.get("bare") and not topic and measure.unit in _BARE:
                features[_BARE[measure.unit]] = 1
            if sided and at is not None and sentence - at <= 2 and features.get("usual"):
                features["sided_topic"] = 1
            if not self._has_grounds(quantity, unit, features):
                continue
            score = sum(WEIGHTS[name] * value for name, value in features.items())
            choices.append(Choice(measure, score, unit, features))
        return sorted(choices, key=lambda choice: -choice.score)

    def _alone_fits(self, quantity: Quantity, unit: Unit, code: str) -> bool:
        """Whether a number with a unit has the size of this measure and of no other."""
        measures = self._words.measures
        fitting = [
            c
            for c in unit.measures
            if any(fits(r, measures[c].usual) for r in readings(quantity, measures[c], unit.words))
        ]
        return fitting == [code]

    def _has_grounds(
        self, quantity: Quantity, unit: Unit | None, features: Mapping[str, float]
    ) -> bool:
        """Whether anything but the size of a number speaks for a measure."""
        topic = max((features.get(f"topic_{back}", 0.0) for back in range(4)), default=0.0)
        topic = max(topic, features.get("topic_beaten", 0.0))
        if features.get("scale_alone") and not topic and not features.get("names_1"):
            return False
        if unit is not None:
            return True
        if features.get("bare_small"):
            near = (
                features.get("names_near", 0.0) >= 0.5
                or features.get("beside")
                or features.get("every")
            )
            back = features.get("latest") or features.get("intro") or features.get("names_1")
            said = features.get("asked") or features.get("seen") or features.get("alone")
            return bool(near or (topic and features.get("like_last") and said) or (back and said))
        if features.get("hints", 0.0) >= 0.25 and features.get("usual"):
            return True
        return bool(
            features.get("names")
            or features.get("names_1")
            or features.get("latest")
            or features.get("names_2")
            or topic
            or features.get("time_fits")
            or (features.get("time_form") and features.get("hints"))
        )

    def _general(self, quantity: Quantity, unit: Unit | None, counted: bool) -> dict[str, float]:
        """What speaks for or against a number being a figure at all."""
        features: dict[str, float] = {"none": 1}
        sent = self._doc[quantity.first].sent
        before = self._doc[quantity.first - 1].lower_ if quantity.first > sent.start else ""
        if unit is None and quantity.pure != "clock":
            low = quantity.low if quantity.low is not None else quantity.high or 0.0
            small = low <= 10 and low == int(low)
            features["bare"] = 1
            features["bare_small"] = float(small)
            framed = before in _FRAMES
            features["small_framed" if small else "framed"] = float(framed)
            features["loose_det"] = float(before in _DETERMINERS)
        elif unit is not None:
            dim = _DIMENSIONS.get(unit.words[0])
            if dim and len(unit.measures) > 1:
                features[dim] = 1
        features["alone"] = float(quantity.last - quantity.first >= len(sent) - 2)
        features["joined"] = float(quantity.joined)
        features["range"] = float(len(quantity.atoms) > 1)
        features["limit"] = float(quantity.limit is not None)
        if counted:
            features["counted"] = 1
        return features

    def _add_topic(
        self, features: dict[str, float], at: int | None, sentence: int, latest: int, beaten: bool
    ) -> None:
        if at is None or sentence - at > 6:
            return
        if beaten and not features.get("names_local"):
            features["topic_beaten"] = 1
            return
        back = min(3, sentence - at)
        features[f"topic_{back}"] = 1.0 if at == latest else 0.5

    def _add_time(
        self,
        features: dict[str, float],
        quantity: Quantity,
        measure: Measure,
        unit: Unit | None,
        sentence: int,
    ) -> None:
        start, end = self.bounds(sentence)
        metres = governing(self._distances, quantity, start, end)
        known = metres is not None
        back = 1
        while metres is None and back <= min(3, sentence):
            metres = governing(self._distances, quantity, self._starts[sentence - back], end)
            back += 1
        form = (
            quantity.joined
            or quantity.pure == "clock"
            or (quantity.low or 0) % 1 > 0
            and (quantity.low or 0) > 9
        )
        features["time_form"] = float(form)
        named = bool(features.get("names_local")) or (
            unit is not None and unit.words[-1] in {"pace", "hundred", "100"}
        )
        if measure.code == "pace":
            over = 100.0 if metres == 100 or named else None
            odd = over is None and metres is not None
        else:
            over, odd = metres, metres == 100
        values = readings(quantity, measure, unit and unit.words)
        possible = any(can_be_time(value, over) for value in values)
        if over is None and measure.code == "split" and features.get("names_near", 0) > 0.8:
            possible = True
        if odd or not possible:
            features["time_odd"] = 1
        elif over is not None:
            features["time_fits"] = 1
            features["clock_fits"] = float(quantity.pure == "clock")
            features["distance_known"] = float(known)
            near = [d for d in self._distances if 0 <= quantity.first - d.last <= 2]
            features["distance_beside"] = float(bool(near) and quantity.first > start)

    def bounds(self, sentence: int) -> tuple[int, int]:
        """First token of a sentence and of the one after it."""
        after = self._starts[sentence + 1] if sentence + 1 < len(self._starts) else len(self._doc)
        return self._starts[sentence], after

    def _evidence(
        self,
        quantity: Quantity,
        unit: Unit | None,
        sentence: int,
        said: list[tuple[int, int, str]],
    ) -> dict[str, dict[str, float]]:
        """How much the words around a quantity speak for each measure."""
        best: dict[tuple[str, str, str], float] = {}
        start, after = self.bounds(sentence)
        first = bisect_left(self._firsts, self._starts[max(0, sentence - SENTENCES_BACK)])
        in_unit = range(quantity.anchor, unit.last) if unit else range(0)
        at = bisect_left(self._quantities, quantity.first)
        left = max([start] + [end for _, end in self._spans[max(0, at - 2) : at]])
        right = min(
            [after] + [self._quantities[at + 1]] if at + 1 < len(self._quantities) else [after]
        )
        for term in self._terms[first:]:
            if term.first >= after:
                break
            if term.first in self._inside or (
                term.first in self._used and (term.first not in in_unit or not term.names)
            ):
                continue
            if (
                self._owned.get(term.first, quantity.first) != quantity.first
                and term.first >= start
            ):
                continue
            owner = next((code for first_, _, code in said if first_ > term.first), None)
            if owner is not None and owner != term.measure and self._shared_with(term, owner):
                continue
            if term.first >= start:
                kind = "names" if term.names else "hints"
                value = term.weight * self._closeness(quantity, term)
            else:
                back = sentence - (bisect_right(self._starts, term.first) - 1)
                kind = f"names_{back}" if term.names else "hints_back"
                value = term.weight * (1.0 if term.names else 1 / back)
            if kind == "names" and self._is_beside(quantity, term):
                best[(term.measure, "beside", "")] = max(
                    term.weight, best.get((term.measure, "beside", ""), 0.0)
                )
            if kind == "names" and left <= term.first < right:
                local = (term.measure, "names_local", term.words)
                best[local] = max(best.get(local, 0.0), value)
            key = (term.measure, kind, term.words)
            best[key] = max(best.get(key, 0.0), value)
        evidence: dict[str, dict[str, float]] = defaultdict(lambda: defaultdict(float))
        self._add_latest(evidence, quantity, unit, sentence)
        for (code, kind, _), value in best.items():
            evidence[code][kind] += value
            if kind == "names":
                evidence[code]["names_near"] = max(evidence[code]["names_near"], value)
        for features in evidence.values():
            for kind in list(features):
                features[kind] = min(features[kind], 1.0 if kind.startswith("hints") else 2.0)
        return evidence

    def _is_beside(self, quantity: Quantity, term: Term) -> bool:
        """ "Rate's 124", "a swolf of 42"; "forty degrees of roll", "150 at the elbow"."""
        if term.last <= quantity.first:
            return all(t.lower_ in _LINKS for t in self._doc[term.last : quantity.first])
        between = [t.lower_ for t in self._doc[quantity.last : term.first]]
        if not between or len(between) > 5 or "," in between:
            return not between
        return between[0] in {"of", "at", "on", "for", "in", "degree", "degrees"} and all(
            w in _LINKS_AFTER for w in between
        )

    def _add_latest(self, evidence, quantity, unit, sentence) -> None:
        """The last thing named before a quantity, where its own sentence names nothing before it."""
        start = self._starts[max(0, sentence - 2)]
        for at in range(bisect_left(self._firsts, quantity.first) - 1, -1, -1):
            term = self._terms[at]
            if term.first < start:
                return
            if not term.names or (unit and term.measure not in unit.measures):
                continue
            last = term.last
            same = [t for t in self._terms[max(0, at - 6) : at + 1] if t.last == last and t.names]
            for t in same:
                if not unit or t.measure in unit.measures:
                    evidence[t.measure]["latest"] = 1.0
                    if term.first < self._starts[sentence]:
                        low = bisect_left(self._quantities, self._starts[sentence - 1])
                        high = bisect_left(self._quantities, self._starts[sentence])
                        if (
                            low == high
                            and sentence - 1 >= 0
                            and term.first >= self._starts[sentence - 1]
                        ):
                            evidence[t.measure]["intro"] = 1.0
            return

    def _shared_with(self, term: Term, owner: str) -> bool:
        """Whether a word also names the measure that has already used it."""
        return owner in self._words.named_by(term.words)

    def _closeness(self, quantity: Quantity, term: Term) -> float:
        """1 beside the quantity, less the more words, breaks and other numbers lie between."""
        first, last = (
            (term.last, quantity.first)
            if term.first < quantity.first
            else (quantity.last, term.first)
        )
        between = self._doc[first:last] if last > first else ()
        breaks = sum(token.lower_ in _BREAKS for token in between)
        numbers = bisect_left(self._quantities, last) - bisect_left(self._quantities, first)
        return 1 / (1 + 0.06 * len(between) + 0.25 * breaks + 0.4 * max(0, numbers))


def _alike(values: list[Interval], last: float) -> float:
    """1 where a value has the size of the last one of its measure."""
    best = 0.0
    for value in values:
        end = value[1] if value[1] is not None else value[0]
        if end is None:
            continue
        if not end or not last:
            best = max(best, 0.5)
        elif 1 / 2.5 <= end / last <= 2.5:
            return 1.0
        elif 1 / 8 <= end / last <= 8:
            best = max(best, 0.5)
    return best
