"""Joins what the readers saw into findings, and sets aside what does not count."""

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from voicenotes.notes import Finding, Mention, SetAside, Severity, Side
from voicenotes.reading.context import Context
from voicenotes.reading.grading import severity_of
from voicenotes.reading.sides import Sides
from voicenotes.reading.sightings import Sighting
from voicenotes.reading.text import Narration
from voicenotes.vocabulary.model import Vocabulary

GRADES: tuple[Severity, ...] = ("slight", "moderate", "marked")


@dataclass(frozen=True)
class Told:
    """A sighting with its side and severity."""

    sighting: Sighting
    side: Side | None
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

        Mentions of one code and side are one finding; a mention without a side joins the side
        last named for that code. Severity is the grading said most often, of equals the worse.
        """
        told = [self._tell(sighting) for sighting in sightings]
        groups: dict[tuple[str, str], list[Told]] = defaultdict(list)
        for one in told:
            if one.sighting.status == "true":
                groups[one.sighting.kind, one.sighting.code].append(one)
        findings = [
            self._finding(group, side)
            for members in groups.values()
            for side, group in _by_side(members).items()
        ]
        findings.sort(key=lambda f: (f.mentions[0].start, f.kind, f.code, f.side or ""))
        aside = tuple(self._aside(one) for one in told if one.sighting.status != "true")
        return tuple(findings), aside

    def _tell(self, sighting: Sighting) -> Told:
        """Adds the side, where the code can have one, and the severity of a fault."""
        fault = self._vocabulary.faults.get(sighting.code) if sighting.kind == "fault" else None
        sided = fault.sided if fault else True
        side = self._sides.of(sighting.sentence, sighting.first, sighting.last) if sided else None
        if fault is None:
            return Told(sighting, side, None)
        clause = self._context.clause(sighting.first)
        first, last = min(clause.first, sighting.first), max(clause.last, sighting.last)
        return Told(sighting, side, severity_of(self._narration.doc, first, last))

    def _finding(self, group: Sequence[Told], side: Side | None) -> Finding:
        sentences = sorted({one.sighting.sentence for one in group})
        first = group[0].sighting
        return Finding(
            kind=first.kind,
            code=first.code,
            side=side,
            severity=_severity([one.severity for one in group if one.severity]),
            mentions=tuple(self._mention(sentence) for sentence in sentences),
            seen_by=tuple(sorted({one.sighting.seen_by for one in group})),
        )

    def _mention(self, sentence: int) -> Mention:
        return self._narration.mention(self._narration.sentences[sentence].span)

    def _aside(self, one: Told) -> SetAside:
        return SetAside(
            kind=one.sighting.kind,
            code=one.sighting.code,
            side=one.side,
            reason=one.sighting.status,
            mention=self._mention(one.sighting.sentence),
        )


def _by_side(members: Sequence[Told]) -> dict[Side | None, list[Told]]:
    """Sightings of one code, sorted into left and right where both are spoken of apart."""
    sides = {one.side for one in members if one.side}
    if "both" in sides:
        return {"both": list(members)}
    if len(sides) <= 1:
        return {next(iter(sides), None): list(members)}
    grouped: dict[Side | None, list[Told]] = defaultdict(list)
    last_named = next(one.side for one in members if one.side)
    for one in members:
        last_named = one.side or last_named
        grouped[last_named].append(one)
    return dict(grouped)


def _severity(said: Sequence[Severity]) -> Severity | None:
    counts: Counter[Severity] = Counter(grade for grade in said if grade != "moderate")
    ranked = sorted(counts, key=lambda grade: (counts[grade], GRADES.index(grade)))
    return ranked[-1] if ranked else next(iter(said), None)
