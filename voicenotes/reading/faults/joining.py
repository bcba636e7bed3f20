"""Joins what the readers saw into findings, and sets aside what does not count."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from voicenotes.notes import Finding, Mention, SetAside, Severity
from voicenotes.reading.context import Context
from voicenotes.reading.faults.grading import settle_severity, severity_of
from voicenotes.reading.faults.sightings import Sighting
from voicenotes.reading.sides import WEIGHTS, Limb, SaidSide, Sides, settle_sides
from voicenotes.reading.text import Narration
from voicenotes.vocabulary.model import Fault, Vocabulary

LIMBS: dict[str, Limb] = {
    "arms": "arm", "legs": "leg", "entry": "arm", "extension": "arm", "catch": "arm",
    "pull": "arm", "finish": "arm", "recovery": "arm", "timing": "arm",
}  # fmt: skip
"""The limb whose side is meant, by a fault's area or the code of a strength."""

ONE_SIDED = frozenset({"breath_one_side", "roll_uneven", "timing_uneven"})
"""Faults that are a difference between left and right, and so never of both."""


@dataclass(frozen=True)
class Told:
    """A sighting with its side and severity."""

    sighting: Sighting
    side: SaidSide | None
    severity: Severity | None


class Joiner:
    """Makes findings of sightings: adds sides and severities, merges repeats."""

    def __init__(self, narration: Narration, context: Context, vocabulary: Vocabulary) -> None:
        self._narration = narration
        self._context = context
        self._vocabulary = vocabulary
        self._sides = Sides(narration)

    def join(
        self, sightings: Sequence[Sighting]
    ) -> tuple[tuple[Finding, ...], tuple[SetAside, ...]]:
        """Findings with all their mentions in the order first said, and what was set aside.

        All mentions of one code are one finding: coaches who speak of left and right mean both.
        """
        codes: dict[int, set[str]] = defaultdict(set)
        for sighting in sightings:
            if sighting.kind == "fault" and sighting.status == "true":
                codes[sighting.sentence].add(sighting.code)
        told = [self._tell(s, alone=len(codes[s.sentence]) == 1) for s in sightings]
        groups: dict[tuple[str, str], list[Told]] = defaultdict(list)
        for one in told:
            if one.sighting.status == "true":
                groups[one.sighting.kind, one.sighting.code].append(one)
        findings = [self._finding(group) for group in groups.values()]
        findings.sort(key=lambda f: (f.mentions[0].start, f.kind, f.code, f.side or ""))
        aside: dict[tuple[int, str, str], SetAside] = {}
        for one in told:
            if one.sighting.status != "true":
                key = (one.sighting.sentence, one.sighting.kind, one.sighting.code)
                aside.setdefault(key, self._aside(one))
        return tuple(findings), tuple(aside.values())

    def _tell(self, sighting: Sighting, *, alone: bool) -> Told:
        """Adds the side, where the code can have one, and the severity of a fault.

        A fault ``alone`` in its sentence is graded by all of it, others by their clause.
        """
        known = self._vocabulary
        fault = known.faults.get(sighting.code) if sighting.kind == "fault" else None
        entry = fault or known.strengths.get(sighting.code)
        side = None
        if entry is None or entry.sided:
            limb = _limb_of(sighting.code, fault)
            side = self._sides.of(sighting.sentence, sighting.first, sighting.last, limb)
        if fault is None:
            return Told(sighting, side, None)
        around = self._context.clause(sighting.first)
        first, last = min(around.first, sighting.first), max(around.last, sighting.last)
        if alone:
            span = self._narration.sentences[sighting.sentence].span
            first, last = span.start, span.end
        return Told(sighting, side, severity_of(self._narration.doc, first, last))

    def _finding(self, group: Sequence[Told]) -> Finding:
        sentences = sorted({one.sighting.sentence for one in group})
        first = group[0].sighting
        return Finding(
            kind=first.kind,
            code=first.code,
            side=settle_sides(_plainest(group), one_sided=first.code in ONE_SIDED),
            severity=settle_severity([one.severity for one in group if one.severity]),
            mentions=tuple(self._mention(sentence) for sentence in sentences),
            seen_by=tuple(sorted({one.sighting.seen_by for one in group})),
        )

    def _mention(self, sentence: int) -> Mention:
        return self._narration.mention(self._narration.sentences[sentence].span)

    def _aside(self, one: Told) -> SetAside:
        return SetAside(
            kind=one.sighting.kind,
            code=one.sighting.code,
            side=one.side.side if one.side else None,
            reason=one.sighting.status,
            mention=self._mention(one.sighting.sentence),
        )


def _plainest(group: Sequence[Told]) -> list[SaidSide]:
    """The side of each sentence, as its reader with the plainest words has it."""
    best: dict[int, SaidSide] = {}
    for one in group:
        place, side = one.sighting.sentence, one.side
        if side and (place not in best or WEIGHTS[side.source] > WEIGHTS[best[place].source]):
            best[place] = side
    return list(best.values())


def _limb_of(code: str, fault: Fault | None) -> Limb:
    """The limb whose side a finding has; a pair where both always go together."""
    if fault is not None and not set(fault.strokes) & {"freestyle", "backstroke"}:
        return "pair"
    return LIMBS.get(fault.area if fault else code)
