"""Spoken figures: numbers with a measure, a side, and a role as observation or target."""

from bisect import bisect_right
from collections.abc import Collection

from voicenotes.notes import Figure, SetAside
from voicenotes.reading.context import Context
from voicenotes.reading.figures_joining import join_figures
from voicenotes.reading.figures_measures import MeasureChooser, MeasureWords
from voicenotes.reading.figures_noise import counts_other, is_noise
from voicenotes.reading.figures_status import FigureStatus
from voicenotes.reading.figures_times import find_distances
from voicenotes.reading.figures_said import Said
from voicenotes.reading.figures_values import value_of
from voicenotes.reading.numbers import find_ordinals, find_quantities
from voicenotes.reading.roles import Roles
from voicenotes.reading.sides import side_marks
from voicenotes.reading.text import Narration
from voicenotes.vocabulary.model import Vocabulary

ENOUGH, ENOUGH_ASKED = 0.3, -0.3
SIDED = frozenset(
    "elbow_angle shoulder_roll hip_roll knee_bend hip_bend ankle_point head_turn arm_tilt "
    "hand_depth hand_offset pause distance_per_stroke breath_interval".split()
)


def read_figures(
    narration: Narration,
    vocabulary: Vocabulary,
    context: Context,
    taken: Collection[tuple[int, int]],
) -> tuple[tuple[Figure, ...], tuple[SetAside, ...]]:
    """Figures of the swimmer, and those that were said but do not count.

    ``taken`` holds token ranges (last exclusive) whose numbers belong to drills and sets.
    """
    if not vocabulary.measures:
        return (), ()
    said = _Reader(narration, vocabulary, context, taken).read()
    return join_figures(narration, said)


class _Reader:
    def __init__(self, narration, vocabulary, context, taken) -> None:
        self._narration = narration
        self._doc = narration.doc
        self._context = context
        found = sorted(
            (*find_quantities(narration.doc), *find_ordinals(narration.doc)), key=lambda q: q.first
        )
        self._found = [q for q in found if not any(f < q.last and q.first < l for f, l in taken)]
        self._words = MeasureWords(vocabulary)
        self._units = [self._words.unit(self._doc, q) for q in self._found]
        self._distances = find_distances(
            self._doc, self._found, [u and u.words for u in self._units]
        )
        self._chooser = MeasureChooser(
            narration, self._words, self._found, self._distances, self._units
        )
        self._roles = Roles(narration.doc)
        self._status = FigureStatus(narration, context)
        self._marks = side_marks(narration.doc)
        self._topics = {}
        self.log = []

    def read(self) -> list[Said]:
        said = []
        starts = [s.span.start for s in self._narration.sentences]
        over = {d.first for d in self._distances}
        unit_end = 0
        for at, (q, unit) in enumerate(zip(self._found, self._units)):
            sentence = max(0, bisect_right(starts, q.first) - 1)
            span = self._narration.sentences[sentence].span
            if q.first < unit_end or q.first in over or is_noise(self._doc, q, unit):
                continue
            counted = unit is None and counts_other(self._doc, q, self._chooser.term_tokens)
            before = span.start
            if at and self._found[at - 1].last > before:
                before = self._found[at - 1].last
            after = span.end
            own_end = unit.last if unit else q.last
            nxt = next((x.first for x in self._found[at + 1 :] if x.first >= own_end), after)
            after = min(after, nxt)
            role = self._roles.role(q, before, after)
            hint = role or ("target" if self._roles.leads_its_clause(q, before) else None)
            choices = self._chooser.choices(
                q,
                unit,
                sentence,
                self._topics,
                counted=counted,
                role=hint,
                sided=any(before <= m.token < after for m in self._marks),
                said=[(x.quantity.first, x.sentence, x.measure.code) for x in said[-6:]],
            )
            self.log.append((q, unit, sentence, choices))
            choice = (
                choices[0]
                if choices and choices[0].score > self._enough(choices[0], hint)
                else None
            )
            if choice is None:
                continue
            if unit:
                unit_end = max(unit_end, unit.last)
            role = self._settle_role(q, role, choice.measure.code, said, sentence, before, after)
            value = value_of(self._doc, q, choice.measure, unit and unit.words, span)
            status = self._status.of(q, role, self._narration.sentences[sentence])
            code = choice.measure.code
            self._chooser.own(q, code)
            last_value = value.interval[0] if value.interval[0] is not None else value.interval[1]
            self._topics[code] = (sentence, last_value or 0.0)
            said.append(
                Said(
                    q,
                    sentence,
                    choice.measure,
                    value,
                    role,
                    self._side(q, code, span, before, after),
                    status,
                )
            )
        return said

    def _enough(self, choice, hint):
        if hint == "target":
            return ENOUGH_ASKED
        return 0.0 if choice.unit or choice.features.get("beside") else ENOUGH

    def _settle_role(self, q, role, code, said, sentence, before, after):
        """An undecided role, from what was said before of the same measure."""
        last = next(
            (
                x
                for x in reversed(said)
                if x.measure.code == code and sentence - x.sentence <= 2 and x.status == "true"
            ),
            None,
        )
        if role == "target":
            return role
        if (
            last is not None
            and last.role == "observed"
            and self._roles.leads_its_clause(q, before)
            and last.value.interval != q.interval
            and last.status == "true"
        ):
            return "target"
        if (
            last is not None
            and last.role == "observed"
            and last.sentence == sentence
            and self._roles.content_with(q, before)
        ):
            return "target"
        seen = {
            x.side
            for x in said
            if x.measure.code == code and sentence - x.sentence <= 4 and x.role == "observed"
        }
        if (
            role is None
            and last is not None
            and {"left", "right"} <= seen
            and self._roles.for_both(before, after)
            and len(q.atoms) > 1
        ):
            return "target"
        if role is None and last is not None and last.sentence == sentence and last is said[-1]:
            return last.role
        joined = self._doc[before].lower_ == "and" and q.first - before <= 5
        if role is None and joined and said and said[-1].sentence == sentence:
            return said[-1].role
        return role or "observed"

    def _side(self, q, code, span, before, after):
        if code not in SIDED:
            return None
        marks = [m for m in self._marks if span.start <= m.token < span.end]
        if not marks:
            return None
        sides = {m.side for m in marks}
        if len(sides) == 1:
            return marks[0].side
        first = min(x.first for x in self._found if x.first >= span.start)
        if marks[0].token < first:
            prior = [m for m in marks if m.token < q.first]
            return prior[-1].side if prior else None
        later = [m for m in marks if m.token >= q.last]
        return later[0].side if later else None
