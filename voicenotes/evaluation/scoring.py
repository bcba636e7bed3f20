"""Notes against an annotation: what was found, missed and made up."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, TypeVar

from voicenotes.evaluation.annotation import (
    Annotation,
    NotedFinding,
    Span,
    Trap,
)
from voicenotes.notes import DrillSet, Figure, Finding, Interval, Kind, Mention, Notes

SLACK_S = 6.0
"""A mention counts as made where the annotation has it, give or take (one sentence)."""

EDGE_S = 0.1
"""Rounding of times at the edge of a span."""

VALUE_SHARE = 0.011
"""Two values are the same to about a hundredth: rounding in conversions."""

Role = Literal["observed", "target"]
Noted = TypeVar("Noted")
Found = TypeVar("Found")


@dataclass
class Tally:
    """Hits, misses and false entries of one kind."""

    hit: int = 0
    missed: int = 0
    false: int = 0

    @property
    def precision(self) -> float:
        """Share of what was found that is annotated; 1 where nothing was found."""
        return self.hit / (self.hit + self.false) if self.hit + self.false else 1.0

    @property
    def recall(self) -> float:
        """Share of what is annotated that was found; 1 where nothing is annotated."""
        return self.hit / (self.hit + self.missed) if self.hit + self.missed else 1.0

    @property
    def f1(self) -> float:
        """Harmonic mean of precision and recall (F1)."""
        total = self.precision + self.recall
        return 2 * self.precision * self.recall / total if total else 0.0


@dataclass(frozen=True)
class Wrong:
    """One miss, false entry or sprung trap, with the words it rests on."""

    narration: str
    what: Literal["missed", "false", "trap"]
    entry: str
    moment: float
    words: str
    seen_by: tuple[str, ...] = ()


@dataclass
class Score:
    """Counts over any number of narrations."""

    tallies: dict[str, Tally] = field(
        default_factory=lambda: {
            kind: Tally()
            for kind in ("faults", "strengths", "observed", "targets", "drills", "causes")
        }
    )
    details: Counter[str] = field(default_factory=Counter)
    wrong: list[Wrong] = field(default_factory=list)

    def share(self, part: str, whole: str) -> float:
        """One detail as a share of another; 1 where there was nothing to get wrong."""
        return self.details[part] / self.details[whole] if self.details[whole] else 1.0


class Scorer:
    """Adds narrations to a score, one after another."""

    def __init__(self) -> None:
        self.score = Score()

    def add(self, noted: Annotation, notes: Notes) -> None:
        """Scores the notes of one narration."""
        self._findings(noted, notes, "fault", "faults")
        self._findings(noted, notes, "strength", "strengths")
        self._figures(noted, notes, "observed", "observed")
        self._figures(noted, notes, "target", "targets")
        self._drills(noted, notes)
        self._causes(noted, notes)
        for trap in noted.traps:
            self._trap(noted, notes, trap)
        entries: list[Finding | Figure | DrillSet] = [
            *notes.findings,
            *notes.figures,
            *notes.drills,
        ]
        off_topic = [entry for entry in entries if _inside(entry.mentions, noted.off_topic)]
        self.score.details["off_topic"] += len(off_topic)
        for entry in off_topic:
            self._wrong(noted, "false", "off topic", entry.mentions, _readers(entry))

    def _findings(self, noted: Annotation, notes: Notes, kind: Kind, tally: str) -> None:
        # Entries with a side are matched last: one without may stand for either.
        found = sorted((f for f in notes.findings if f.kind == kind), key=lambda f: f.side or "")
        pairs = self._match(
            noted,
            tally,
            [g for g in noted.findings if g.kind == kind],
            found,
            lambda g, f: g.code == f.code and _sides_fit(g, f) and _near(f.mentions, g.at),
            lambda entry: f"{kind}:{entry.code} {entry.side or '-'}",
        )
        for wanted, got in pairs if kind == "fault" else []:
            self.score.details["fault_pairs"] += 1
            self.score.details["side_right"] += wanted.side == got.side
            self.score.details["severity_right"] += wanted.severity == got.severity

    def _figures(self, noted: Annotation, notes: Notes, role: Role, tally: str) -> None:
        self._match(
            noted,
            tally,
            [g for g in noted.figures if getattr(g, role) is not None],
            [f for f in notes.figures if getattr(f, role) is not None],
            lambda g, f: (
                g.measure == f.measure
                and _same(getattr(g, role), getattr(f, role))
                and _near(f.mentions, g.at)
            ),
            lambda entry: f"{entry.measure} {role} {getattr(entry, role)}",
        )

    def _drills(self, noted: Annotation, notes: Notes) -> None:
        pairs = self._match(
            noted,
            "drills",
            noted.drills,
            notes.drills,
            lambda g, d: g.code == d.code and _near(d.mentions, g.at),
            lambda d: f"drill:{d.code} {d.reps} x {d.distance_m} rest {d.rest_s}",
        )
        for wanted, got in pairs:
            self.score.details["drill_pairs"] += 1
            self.score.details["dose_right"] += (wanted.reps, wanted.distance_m, wanted.rest_s) == (
                got.reps,
                got.distance_m,
                got.rest_s,
            )
            self.score.details["equipment_right"] += {*wanted.equipment} == {*got.equipment}

    def _causes(self, noted: Annotation, notes: Notes) -> None:
        tally, wanted = self.score.tallies["causes"], set(noted.causes)
        found = {(link.cause, link.effect): link.mention for link in notes.causes}
        tally.hit += len(wanted & found.keys())
        tally.missed += len(wanted - found.keys())
        tally.false += len(found.keys() - wanted)
        for pair in sorted(wanted - found.keys()):
            self._wrong(noted, "missed", f"cause {' -> '.join(pair)}", (), ())
        for pair in sorted(found.keys() - wanted):
            self._wrong(noted, "false", f"cause {' -> '.join(pair)}", (found[pair],), ())

    def _trap(self, noted: Annotation, notes: Notes, trap: Trap) -> None:
        """Counts a trap, and whether it was sprung; what is truly said elsewhere springs none."""
        said = {f"{g.kind}:{g.code}" for g in noted.findings} | {
            f"drill:{g.code}" for g in noted.drills
        }
        for name in trap.must_not:
            self.score.details["traps"] += 1
            group, _, code = name.partition(":")
            sprung: Sequence[Finding | Figure | DrillSet]
            if group == "figure":
                sprung = [
                    f for f in notes.figures if f.measure == code and _inside(f.mentions, trap.at)
                ]
            elif name in said:
                continue
            elif group == "drill":
                sprung = [d for d in notes.drills if d.code == code and _near(d.mentions, trap.at)]
            else:
                sprung = [
                    f
                    for f in notes.findings
                    if (f.kind, f.code) == (group, code) and _near(f.mentions, trap.at)
                ]
            if sprung:
                self.score.details["sprung"] += 1
                where = sprung[0]
                self._wrong(noted, "trap", f"{name} ({trap.why})", where.mentions, _readers(where))

    def _match(
        self,
        noted: Annotation,
        tally: str,
        wanted: Sequence[Noted],
        found: Iterable[Found],
        fits: Callable[[Noted, Found], bool],
        show: Callable[[Any], str],
    ) -> list[tuple[Noted, Found]]:
        """Pairs each annotated entry with the first that fits; counts the rest on both sides."""
        left, pairs = list(found), []
        counts = self.score.tallies[tally]
        for entry in wanted:
            match = next((f for f in left if fits(entry, f)), None)
            if match is None:
                counts.missed += 1
                spans: tuple[Span, ...] = getattr(entry, "at", ())
                self._missed(noted, show(entry), spans)
            else:
                left.remove(match)
                counts.hit += 1
                pairs.append((entry, match))
        counts.false += len(left)
        for extra in left:
            mentions: tuple[Mention, ...] = getattr(extra, "mentions", ())
            self._wrong(noted, "false", show(extra), mentions, _readers(extra))
        return pairs

    def _missed(self, noted: Annotation, entry: str, spans: Sequence[Span]) -> None:
        moment = spans[0][0] if spans else 0.0
        self.score.wrong.append(Wrong(noted.id, "missed", entry, moment, ""))

    def _wrong(
        self,
        noted: Annotation,
        what: Literal["missed", "false", "trap"],
        entry: str,
        mentions: Sequence[Mention],
        seen_by: tuple[str, ...],
    ) -> None:
        moment = mentions[0].start if mentions else 0.0
        words = mentions[0].quote if mentions else ""
        self.score.wrong.append(Wrong(noted.id, what, entry, moment, words, seen_by))


def _readers(entry: object) -> tuple[str, ...]:
    readers: tuple[str, ...] = getattr(entry, "seen_by", ())
    return readers


def _near(mentions: Sequence[Mention], spans: Sequence[Span]) -> bool:
    return any(
        m.start <= end + SLACK_S and m.end >= start - SLACK_S
        for m in mentions
        for start, end in spans
    )


def _inside(mentions: Sequence[Mention], spans: Sequence[Span]) -> bool:
    return bool(mentions) and all(
        any(m.start >= start - EDGE_S and m.end <= end + EDGE_S for start, end in spans)
        for m in mentions
    )


def _sides_fit(wanted: NotedFinding, got: Finding) -> bool:
    sides = {wanted.side, got.side}
    return len(sides) == 1 or None in sides or "both" in sides


def _same(a: Interval, b: Interval) -> bool:
    return all(
        (x is None and y is None)
        or (
            x is not None and y is not None and abs(x - y) <= VALUE_SHARE * max(abs(x), abs(y), 0.1)
        )
        for x, y in zip(a, b, strict=True)
    )
