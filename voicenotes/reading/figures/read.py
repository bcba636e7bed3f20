"""Spoken figures: numbers with a measure, a side, and a role as observation or target."""

from bisect import bisect_right
from collections.abc import Collection, Mapping, Sequence

from spacy.tokens import Span

from voicenotes.notes import Figure, SetAside
from voicenotes.reading.context import Context
from voicenotes.reading.figures.evidence import Surroundings
from voicenotes.reading.figures.joining import Said, join_figures
from voicenotes.reading.figures.measures import Asked, Choice, MeasureChooser, certainty_of
from voicenotes.reading.figures.noise import is_noise
from voicenotes.reading.figures.remarks import remark_on
from voicenotes.reading.figures.roles import Role, Roles
from voicenotes.reading.figures.sides import FigureSides
from voicenotes.reading.figures.status import FigureStatus
from voicenotes.reading.figures.times import find_distances, governing
from voicenotes.reading.figures.values import value_of
from voicenotes.reading.figures.weights import WEIGHTS
from voicenotes.reading.figures.words import MeasureWords, Unit
from voicenotes.reading.learned.reader import LearnedReading
from voicenotes.reading.numbers.find import find_ordinals, find_quantities
from voicenotes.reading.numbers.quantities import Quantity
from voicenotes.reading.text import Narration
from voicenotes.vocabulary.model import Vocabulary

OVER_DISTANCES = frozenset({"pace", "split", "stroke_count", "swolf"})
"""Measures that are taken over a distance."""
ECHO = 3
"""Sentences within which a value said again is no target ("two beats, no quarrel with two")."""
SAME_TALK, ANSWERS = 4, 2
"""Sentences within which values of a measure are spoken of together, and within which one
answers to the other as its target (judged on annotated narrations)."""
MEMORY = 6
"""Figures back that still say whose words have been used."""


def read_figures(
    narration: Narration,
    vocabulary: Vocabulary,
    context: Context,
    taken: Collection[tuple[int, int]],
    heard: Sequence[LearnedReading],
) -> tuple[tuple[Figure, ...], tuple[SetAside, ...]]:
    """Figures of the swimmer in their measures' own units, and those that do not count.

    ``taken`` holds token ranges (last exclusive) whose numbers belong to drills and sets;
    ``heard`` what the learned reader says of each sentence.
    """
    if not vocabulary.measures:
        return (), ()
    return join_figures(
        narration, FigureReader(narration, vocabulary, context, taken, heard).read()
    )


class FigureReader:
    """Reads the numbers of one narration in the order they were said."""

    def __init__(
        self,
        narration: Narration,
        vocabulary: Vocabulary,
        context: Context,
        taken: Collection[tuple[int, int]],
        heard: Sequence[LearnedReading],
        weights: Mapping[str, float] = WEIGHTS,
    ) -> None:
        self._narration, self._doc = narration, narration.doc
        self._heard = heard
        self._starts = [sentence.span.start for sentence in narration.sentences]
        self._found = _free_quantities(narration, taken)
        words = MeasureWords(vocabulary)
        self._units = [words.unit(self._doc, quantity) for quantity in self._found]
        plain = [unit.words if unit else None for unit in self._units]
        self._distances = find_distances(self._doc, self._found, plain)
        self._swum = {distance.first for distance in self._distances}
        self._around = Surroundings(narration, words, self._found, self._units)
        self._chooser = MeasureChooser(
            narration, words, self._around, self._distances, heard, weights
        )
        self._roles = Roles(self._doc)
        self._sides = FigureSides(narration, self._found)
        self._status = FigureStatus(narration, context)
        self._topics: dict[str, tuple[int, float]] = {}
        self._said: list[Said] = []
        self.weighed: list[tuple[Asked, list[Choice]]] = []
        """Every number looked at, with the measures it can be of, best first."""

    def read(self) -> list[Said]:
        """All figures, those included that do not count."""
        unit_end = 0
        for at, (quantity, unit) in enumerate(zip(self._found, self._units, strict=True)):
            inside = quantity.first < unit_end or quantity.first in self._swum
            if inside or is_noise(self._doc, quantity, unit):
                continue
            if self._read_one(at, quantity, unit) and unit:
                unit_end = max(unit_end, unit.last)
        return self._said

    def _asked(self, at: int) -> tuple[Asked, Role | None, tuple[int, int]]:
        """What is known of a number before its measure is chosen, its role, its stretch."""
        quantity, unit = self._found[at], self._units[at]
        sentence = max(0, bisect_right(self._starts, quantity.first) - 1)
        before, after = self._stretch(at, self._narration.sentences[sentence].span)
        role = self._roles.role(quantity, before, after)
        leads = self._roles.leads_its_clause(quantity, before)
        asked = Asked(
            quantity,
            unit,
            sentence,
            sided=self._sides.marked(before, after),
            role=role or ("target" if leads else None),
            topics=self._topics,
            claims=[
                (one.quantity.first, one.sentence, one.measure.code) for one in self._said[-MEMORY:]
            ],
        )
        return asked, role, (before, after)

    def _read_one(self, at: int, quantity: Quantity, unit: Unit | None) -> bool:
        """Takes a number as a figure if enough speaks for it; says whether it did."""
        asked, role, stretch = self._asked(at)
        choices = self._chooser.choices(asked)
        self.weighed.append((asked, choices))
        choice = next(iter(choices), None)
        if choice is None or choice.score <= 0:
            return False
        sentence = self._narration.sentences[asked.sentence]
        code = choice.measure.code
        role = self._settle_role(asked, role, code, stretch)
        value = value_of(self._doc, quantity, choice.measure, asked.unit_words, sentence.span)
        self._around.own(quantity, code)
        low, high = value.interval
        self._topics[code] = (asked.sentence, (low if low is not None else high) or 0.0)
        self._said.append(
            Said(
                quantity,
                asked.sentence,
                choice.measure,
                value,
                role,
                self._sides.of(quantity, code, asked.sentence),
                self._status.of(
                    quantity, role, sentence, certainty_of(self._heard[asked.sentence], code)
                ),
                remark_on(self._doc, stretch[0], quantity.last, stretch[1])
                if role == "observed"
                else None,
                self._distance(quantity, sentence.span) if code in OVER_DISTANCES else None,
            )
        )
        return True

    def _stretch(self, at: int, span: Span) -> tuple[int, int]:
        """The tokens around a number that belong to no other, within its sentence."""
        quantity, unit = self._found[at], self._units[at]
        others = [q for q in self._found if q.first not in self._swum]
        ahead = [other.last for other in others if other.first < quantity.first]
        end = unit.last if unit else quantity.last
        following = (other.first for other in others if other.first >= end)
        return max([span.start, *ahead[-1:]]), min(span.end, next(following, span.end))

    def _settle_role(
        self, asked: Asked, role: Role | None, code: str, stretch: tuple[int, int]
    ) -> Role:
        """The role of a figure, from its own words and what was said of its measure before."""
        quantity, (before, after) = asked.quantity, stretch
        if role == "target":
            echoed = any(
                one.measure.code == code
                and one.role == "observed"
                and one.value.interval == quantity.interval
                and asked.sentence - one.sentence <= ECHO
                for one in self._said
            )
            plainly = self._roles.asks_plainly(quantity, before, after)
            return "observed" if echoed and not plainly else role
        same = [
            one
            for one in self._said
            if one.measure.code == code and asked.sentence - one.sentence <= SAME_TALK
        ]
        last = next((x for x in reversed(same) if x.status == "true"), None)
        last = last if last and asked.sentence - last.sentence <= ANSWERS else None
        if last is not None and last.role == "observed":
            another = last.value.interval != quantity.interval
            if another and self._roles.leads_its_clause(quantity, before):
                return "target"
            here = last.sentence == asked.sentence
            if here and self._roles.settles_for(quantity, before):
                return "target"
        seen = {one.side for one in same if one.role == "observed"}
        ranged = len(quantity.atoms) > 1 and {"left", "right"} <= seen
        if role is None and last and ranged and self._roles.for_both(before, after):
            return "target"
        return role or self._carried_role(asked, last, before)

    def _carried_role(self, asked: Asked, last: Said | None, before: int) -> Role:
        """The role of the figure before, where the two hang together."""
        previous = self._said[-1] if self._said else None
        if previous is None or previous.sentence != asked.sentence:
            return "observed"
        joined = self._doc[before].lower_ == "and" and asked.quantity.first - before <= 5
        return previous.role if joined or previous is last else "observed"

    def _distance(self, quantity: Quantity, span: Span) -> float | None:
        return governing(self._distances, quantity, span.start, span.end)


def _free_quantities(narration: Narration, taken: Collection[tuple[int, int]]) -> list[Quantity]:
    """The quantities that belong to no drill, in order."""
    found = (*find_quantities(narration.doc), *find_ordinals(narration.doc))
    return sorted(
        (
            quantity
            for quantity in found
            if not any(first < quantity.last and quantity.first < last for first, last in taken)
        ),
        key=lambda quantity: quantity.first,
    )
