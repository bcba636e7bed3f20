"""Annotated narrations and sentence banks -> talks: units of speech with what is to be read."""

import itertools
import json
import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

STATUSES = ("true", "denied", "general", "other", "past", "supposed", "keep", "explains", "neutral")
"""What a sentence does with what it names; a tenth class, off topic, is added by the heads."""
SIDES = (None, "left", "right", "both")
SEVERITIES = ("slight", "moderate", "marked")
KINDS = ("fault", "strength", "drill")
RARE = 5
"""A code named fewer times than this in the whole corpus has too little to be learned from."""

Grading = tuple[str | None, str | None]


@dataclass(frozen=True)
class Number:
    """A number in a unit's text, from character ``first`` to ``last``, and what it is.

    ``role`` is one of NUMBER_ROLES; role and measure are None where they cannot be told.
    """

    first: int
    last: int
    role: str | None
    measure: str | None


@dataclass
class Unit:
    """A sentence or breath group and its labels.

    ``true`` maps ``kind:code`` to its (side, severity) pairs; ``mention`` holds what is named in
    any status; ``maybe`` what cannot be told for this piece, so that no loss is taken on it.
    """

    text: str
    true: dict[str, set[Grading]] = field(default_factory=dict)
    mention: set[str] = field(default_factory=set)
    maybe: set[str] = field(default_factory=set)
    status: str | None = None
    off_topic: bool = False
    observed: set[str] = field(default_factory=set)
    target: set[str] = field(default_factory=set)
    figures_maybe: set[str] = field(default_factory=set)
    numbers: tuple[Number, ...] = ()
    causes: set[tuple[str, str]] = field(default_factory=set)
    causes_known: bool = True
    lines: tuple[str, ...] = ()
    learned_from: bool = True


@dataclass
class Talk:
    """Units said one after another. ``gold`` is the annotation of a narration, None in a bank.

    ``figures`` are the annotated figures, "at" naming the lines of the units that state them.
    """

    name: str
    units: list[Unit]
    gold: dict[str, Any] | None = None
    figures: tuple[dict[str, Any], ...] = ()


@dataclass
class Corpus:
    """Everything there is to learn from."""

    narrations: list[Talk]
    bank: list[Talk]

    @property
    def talks(self) -> list[Talk]:
        """Narrations and bank together."""
        return self.narrations + self.bank


def read_corpus(folders: Iterable[Path]) -> Corpus:
    """All narrations (``*.json`` with lines and gold) and banks (``*.jsonl``) below the folders.

    Raises FileNotFoundError where a folder holds neither.
    """
    narrations: list[Talk] = []
    bank: list[Talk] = []
    for folder in folders:
        before = len(narrations) + len(bank)
        for path in sorted(folder.rglob("*.json")):
            data = json.loads(path.read_text(encoding="utf-8"))
            if isinstance(data, dict) and "lines" in data and "gold" in data:
                narrations.append(narration(data))
        for path in sorted(folder.rglob("*.jsonl")):
            bank += bank_talks(path)
        if len(narrations) + len(bank) == before:
            raise FileNotFoundError(f"{folder}: no annotated narration and no sentence bank in it")
    return Corpus(narrations, bank)


_WHY = (
    ("other", r"other swimmer|another|other stroke|coach's|about the coach|of sprinters"),
    ("supposed", r"condition|suppos|hypoth|warning|future|\bif\b"),
    ("past", r"earlier|gone|past"),
    ("denied", r"negat|den[iy]|taken back|not a problem|not called|no fault|declines|withdr"),
    ("general", r"general"),
    ("explains", r"explain|doing the drill"),
)


def status_of(why: str) -> str | None:
    """The status behind a trap's free-text reason; None where it is about a drill or unclear."""
    why = why.lower()
    if re.search(r"dismiss|drop|ruled out", why):
        return None
    return next((status for status, words in _WHY if re.search(words, why)), None)


def narration(data: dict[str, Any]) -> Talk:
    """One annotated narration as a talk."""
    gold, ids = data["gold"], [line["id"] for line in data["lines"]]
    units = {line["id"]: Unit(line["text"], lines=(line["id"],)) for line in data["lines"]}
    where = _mark_findings(gold, units)
    _mark_figures(gold, units)
    for trap in gold["traps"]:
        status = status_of(trap["why"])
        for unit in (units[i] for i in trap["at"] if i in units):
            unit.mention.update(trap["must_not"])
            if status and not unit.true:
                unit.status = status
    for cause, effect in gold["causes"]:
        for i in _lines_of_cause(where.get(cause, set()), where.get(effect, set()), ids):
            units[i].causes.add((cause, effect))
    for i, unit in units.items():
        unit.off_topic = i in gold["off_topic"]
        if unit.status is None and (unit.true or unit.off_topic or not unit.mention):
            unit.status = "true" if unit.true else "neutral"
        unit.mention |= set(unit.true)
    whole = {**gold, "ids": ids}
    return Talk(data["id"], list(units.values()), whole, tuple(gold["figures"]))


def _mark_findings(gold: dict[str, Any], units: dict[str, Unit]) -> dict[str, set[str]]:
    """Marks findings and drills on their lines; returns the lines of each code."""
    where: dict[str, set[str]] = {}
    for finding in gold["findings"]:
        for i in (i for i in finding["at"] if i in units):
            grading = (finding.get("side"), finding.get("severity"))
            units[i].true.setdefault(f"{finding['kind']}:{finding['code']}", set()).add(grading)
            where.setdefault(finding["code"], set()).add(i)
    for drill in gold["drills"]:
        for i in (i for i in drill["at"] if i in units):
            units[i].true.setdefault(f"drill:{drill['code']}", set()).add((None, None))
    return where


def _mark_figures(gold: dict[str, Any], units: dict[str, Unit]) -> None:
    """Marks measures by role; a figure of both roles over several lines leaves the role open."""
    for figure in gold["figures"]:
        roles = [role for role in ("observed", "target") if figure.get(role) is not None]
        lines = [i for i in figure["at"] if i in units]
        for i in lines:
            if len(roles) == 1 or len(lines) == 1:
                for role in roles:
                    getattr(units[i], role).add(figure["measure"])
            else:
                units[i].figures_maybe.add(figure["measure"])


def _lines_of_cause(causes: set[str], effects: set[str], ids: list[str]) -> set[str]:
    """Lines that say both, or else neighbours of which one says the cause, the other the effect."""
    if causes & effects:
        return causes & effects
    pairs = itertools.pairwise(ids)
    return {b for a, b in pairs if (a in causes and b in effects) or (a in effects and b in causes)}


def bank_talks(path: Path) -> list[Talk]:
    """The lines of a sentence bank, each a talk of its own."""
    talks = []
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines()):
        if not line.strip():
            continue
        data = json.loads(line)
        unit = Unit(data["text"], status=data["status"], lines=("l1",))
        for finding in data["findings"]:
            key = f"{finding['kind']}:{finding['code']}"
            grading = (finding.get("side"), finding.get("severity"))
            unit.true.setdefault(key, set()).add(grading)
        for drill in data["drills"]:
            unit.true.setdefault(f"drill:{drill['code']}", set()).add((None, None))
        for figure in data["figures"]:
            for role in ("observed", "target"):
                if figure.get(role) is not None:
                    getattr(unit, role).add(figure["measure"])
        unit.causes = {(cause, effect) for cause, effect in data["causes"]}
        unit.mention = set(unit.true) | set(data.get("would_be") or ())
        before = [Unit(data["before"], learned_from=False)] if data.get("before") else []
        figures = tuple({**figure, "at": ["l1"]} for figure in data["figures"])
        talks.append(Talk(f"{path.stem}:{number}", [*before, unit], figures=figures))
    return talks


LONG_SENTENCE = 40
"""Words: as in ``voicenotes.reading.text``, which training can do without."""
_SENTENCE_END = re.compile(r"(?<=[.?!…])(?<![ap]\.m\.)\s+")


def resplit(talk: Talk) -> Talk:
    """The same talk cut as a reader meets it; labels follow the lines.

    It is cut at final marks alone, or at the lines where there is no such mark for long. A piece
    holds what a line says when it covers most of the line; where it covers some of it, whether the
    words in question fall into this piece cannot be told.
    """
    text, spans = "", []
    for unit in talk.units:
        text += " " if text else ""
        spans.append((len(text), len(text) + len(unit.text)))
        text += unit.text
    pieces, first = [], 0
    for end in _SENTENCE_END.finditer(text):
        pieces.append((first, end.start()))
        first = end.end()
    pieces.append((first, len(text)))
    pieces = [part for piece in pieces for part in _cut_at_lines(text, piece, spans)]
    units = [_piece(text, piece, talk.units, spans) for piece in pieces]
    return replace(talk, units=units)


def _cut_at_lines(
    text: str, piece: tuple[int, int], lines: list[tuple[int, int]]
) -> list[tuple[int, int]]:
    """A piece as it is, or its lines where it is long."""
    first, last = piece
    if len(text[first:last].split()) <= LONG_SENTENCE:
        return [piece]
    inside = [(max(first, a), min(last, b)) for a, b in lines]
    return [(a, b) for a, b in inside if a < b]


def _piece(
    text: str, piece: tuple[int, int], units: list[Unit], spans: list[tuple[int, int]]
) -> Unit:
    first, last = piece
    out, parts = Unit(text[first:last]), []
    for unit, (a, b) in zip(units, spans, strict=True):
        shared = min(last, b) - max(first, a)
        out.numbers += tuple(
            replace(number, first=number.first + a - first, last=min(number.last + a, last) - first)
            for number in unit.numbers
            if first <= number.first + a < last
        )
        if shared > 0:
            parts.append((unit, shared / (b - a), shared / (last - first)))
    out.lines = tuple(i for u, f, g in parts if f > 0.3 or g > 0.5 for i in u.lines)
    for unit, share, _ in parts:
        if share >= 0.75:
            for key, gradings in unit.true.items():
                out.true.setdefault(key, set()).update(gradings)
            out.mention |= unit.mention
            out.maybe |= unit.maybe
            out.observed |= unit.observed
            out.target |= unit.target
            out.figures_maybe |= unit.figures_maybe
            out.causes |= unit.causes
        elif share > 0.08:
            out.maybe |= unit.mention
            out.figures_maybe |= unit.observed | unit.target | unit.figures_maybe
            out.causes_known = out.causes_known and not unit.causes
    out.maybe -= out.mention
    out.figures_maybe -= out.observed | out.target
    if len(parts) == 1 and parts[0][1] > 0.9:
        out.status, out.off_topic = parts[0][0].status, parts[0][0].off_topic
    return out


def codes_of(corpus: Corpus) -> list[str]:
    """``kind:code`` of everything named often enough, faults first, then strengths, drills."""
    counts = Counter(key for talk in corpus.talks for unit in talk.units for key in unit.mention)
    known = [key for key, n in counts.items() if n >= RARE and key.split(":")[0] in KINDS]
    return sorted(known, key=lambda key: (KINDS.index(key.split(":")[0]), key))


def measures_of(corpus: Corpus) -> list[str]:
    """All measures that any unit states."""
    units = (unit for talk in corpus.talks for unit in talk.units)
    return sorted({measure for unit in units for measure in unit.observed | unit.target})
