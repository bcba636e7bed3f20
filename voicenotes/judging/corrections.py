"""The list of corrections: merged, ranked, each with the reasons for its rank."""

from collections.abc import Sequence
from dataclasses import dataclass

from voicenotes.judging.evidence import Said, farthest_off, figures_of_faults
from voicenotes.judging.ranking import GRADES, brought_about, coach_order, order
from voicenotes.notes import Figure, Finding, Mention, Notes, Severity, Side
from voicenotes.review import Brief, Correction, Verdict
from voicenotes.vocabulary.model import Vocabulary
from voicenotes.words import amount, listing, named, quantity

FOCUS_NOW = 3
"""How many corrections a swimmer works on at a time; more are not kept in mind (common
practice)."""

MOST_DRILLS = 2
"""Drills named with one correction, unless the coach prescribed more: a swimmer tries one or two
(common practice)."""

OVERALL = "overall"
"""The strength that praises the whole rather than a part."""

ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth")


@dataclass(frozen=True)
class Merged:
    """Everything said of one fault. ``excess`` is the farthest that a figure of it lies outside
    its range, as a share of all that is possible for the measure."""

    code: str
    side: Side | None
    severity: Severity
    mentions: tuple[Mention, ...]
    figures: tuple[int, ...]
    worst: Verdict | None
    excess: float


def correct(
    notes: Notes, verdicts: Sequence[Verdict], vocabulary: Vocabulary, brief: Brief
) -> tuple[Correction, ...]:
    """The corrections in the order to work on them.

    The coach's own order comes first. After it causes stand before their effects, and of what
    is left the graver, then the farther out of range, then the oftener said.
    """
    merged = merge(notes, verdicts, vocabulary)
    ranked = order(merged, notes)
    return tuple(
        _correction(rank, fault, notes, vocabulary, brief, frozenset(merged))
        for rank, fault in enumerate((merged[code] for code in ranked), start=1)
    )


def merge(notes: Notes, verdicts: Sequence[Verdict], vocabulary: Vocabulary) -> dict[str, Merged]:
    """Faults by code: left and right of one fault are one thing to work on."""
    by_code: dict[str, list[Finding]] = {}
    for finding in notes.findings:
        if finding.kind == "fault":
            by_code.setdefault(finding.code, []).append(finding)
    said = {code: Said(_side_of(found), _mentions(found)) for code, found in by_code.items()}
    figures = figures_of_faults(said, notes.figures, verdicts, vocabulary)
    merged = {}
    for code, found in by_code.items():
        worst, excess = farthest_off(code, figures[code], notes.figures, verdicts, vocabulary)
        merged[code] = Merged(
            code=code,
            side=said[code].side,
            severity=_gravest(found),
            mentions=said[code].mentions,
            figures=figures[code],
            worst=worst,
            excess=excess,
        )
    return merged


def _gravest(found: list[Finding]) -> Severity:
    """The strongest word used of a fault; without any it is moderate."""
    return max((finding.severity or "moderate" for finding in found), key=lambda s: GRADES[s])


def _mentions(found: list[Finding]) -> tuple[Mention, ...]:
    said = {mention for finding in found for mention in finding.mentions}
    return tuple(sorted(said, key=lambda mention: (mention.start, mention.end)))


def _side_of(found: list[Finding]) -> Side | None:
    sides = {finding.side for finding in found} - {None}
    return "both" if len(sides) > 1 else next(iter(sides), None)


def _correction(
    rank: int,
    fault: Merged,
    notes: Notes,
    vocabulary: Vocabulary,
    brief: Brief,
    present: frozenset[str],
) -> Correction:
    entry = vocabulary.faults.get(fault.code)
    effects = brought_about(fault.code, notes)
    return Correction(
        rank=rank,
        code=fault.code,
        name=name_of(fault.code, vocabulary),
        side=fault.side,
        severity=fault.severity,
        focus="now" if rank <= FOCUS_NOW else "later",
        reasons=_reasons(fault, notes, vocabulary, present),
        mentions=fault.mentions,
        figures=fault.figures,
        leads_to=effects,
        why=entry.why if entry else "",
        cue=entry.cue if entry else "",
        drills=drills_for(fault.code, notes, vocabulary, brief),
    )


def _reasons(
    fault: Merged, notes: Notes, vocabulary: Vocabulary, present: frozenset[str]
) -> tuple[str, ...]:
    """Why it stands where it stands, strongest first; always at least one."""
    found = []
    rank = next((i for i, code in enumerate(coach_order(notes)) if code == fault.code), None)
    if rank is not None:
        place = ORDINALS[rank] if rank < len(ORDINALS) else f"number {rank + 1}"
        found.append(f"You put it {place}.")
    effects = [c for c in brought_about(fault.code, notes) if c in present]
    if effects:
        found.append(f"You said it brings about: {_names(effects, vocabulary)}.")
    if fault.severity != "moderate":
        found.append(f"By your words it is {fault.severity}.")
    if fault.worst:
        found.append(_excess(fault.worst, notes.figures, vocabulary))
    causes = dict.fromkeys(c.cause for c in notes.causes if c.effect == fault.code)
    causes_here = [c for c in causes if c in present and c != fault.code]
    if causes_here:
        found.append(f"You said it comes from: {_names(causes_here, vocabulary)}.")
    times = len(fault.mentions)
    if times > 1 or not found:
        found.append(f"You said it {'once' if times == 1 else f'{times} times'}.")
    return tuple(found)


def _excess(verdict: Verdict, figures: tuple[Figure, ...], vocabulary: Vocabulary) -> str:
    figure = figures[verdict.figure]
    measure = vocabulary.measures[figure.measure]
    allowed = quantity((verdict.low, verdict.high), measure.unit)
    whose = "you asked for" if verdict.band is None else "that are usual"
    return (
        f"The {named(figure, measure)} is {amount(verdict.margin, measure.unit)}"
        f" {verdict.outcome} the {allowed} {whose}."
    )


def drills_for(code: str, notes: Notes, vocabulary: Vocabulary, brief: Brief) -> tuple[str, ...]:
    """Drill codes for a fault: the coach's own, then the vocabulary's that can be done here."""
    own = [d.code for d in notes.drills if code in d.trains and d.code in vocabulary.drills]
    room = max(0, MOST_DRILLS - len(set(own)))
    added = [c for c in fitting_drills(code, vocabulary, brief) if c not in own][:room]
    return tuple(dict.fromkeys([*own, *added]))


def fitting_drills(code: str, vocabulary: Vocabulary, brief: Brief) -> list[str]:
    """The vocabulary's drills for a fault that can be done here, the most usual first."""
    entry = vocabulary.faults.get(code)
    known = [*(entry.drills if entry else ())]
    known += [drill.code for drill in vocabulary.drills.values() if code in drill.trains]
    return [c for c in dict.fromkeys(known) if can_do(c, vocabulary, brief)]


def can_do(code: str, vocabulary: Vocabulary, brief: Brief) -> bool:
    """Whether a drill is for the swimmer's stroke and needs only equipment at hand."""
    drill = vocabulary.drills[code]
    return brief.stroke in drill.strokes and set(drill.equipment) <= set(brief.equipment)


def name_of(code: str, vocabulary: Vocabulary) -> str:
    """A fault's name; for a code that the vocabulary lacks, the code in words."""
    fault = vocabulary.faults.get(code)
    return fault.name if fault else code.replace("_", " ")


def _names(codes: Sequence[str], vocabulary: Vocabulary) -> str:
    return listing(name_of(code, vocabulary) for code in codes)


def strengths_in_order(notes: Notes) -> tuple[str, ...]:
    """Strength codes as best told: the oftenest praised first, praise of the whole last."""
    said: dict[str, list[Mention]] = {}
    for finding in notes.findings:
        if finding.kind == "strength":
            said.setdefault(finding.code, []).extend(finding.mentions)
    return tuple(
        sorted(
            said,
            key=lambda code: (
                code == OVERALL,
                -len(said[code]),
                min(m.start for m in said[code]),
            ),
        )
    )
