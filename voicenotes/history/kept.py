"""What is kept of an approved review: its entries without the words that they came from."""

import re
from collections.abc import Iterable, Sequence
from datetime import date

from voicenotes.judging.ranking import GRADES
from voicenotes.notes import Finding, Interval, Mention, Notes, Severity, Side, Status
from voicenotes.record import Record
from voicenotes.review import Correction, Review
from voicenotes.speech.cache import key_of
from voicenotes.transcript import Transcript
from voicenotes.vocabulary.model import Stage, Stroke

OPENING = 6
"""Words at the start of a sentence that tell it from others; shorter sentences leave no trace."""

TRACE = 12
"""Hex digits of a trace: enough to tell a few hundred thousand openings apart."""


class KeptFinding(Record):
    """A fault or strength; ``reason`` says why one that was set aside does not count."""

    kind: str
    code: str
    side: Side | None
    severity: Severity | None = None
    reason: Status | None = None


class KeptFigure(Record):
    """A figure in its measure's unit, and the range that it was held against."""

    measure: str
    side: Side | None
    unit: str
    observed: Interval | None
    aim: Interval | None
    distance_m: float | None = None


class KeptCorrection(Record):
    """A correction; ``severity`` is None where no word told it."""

    rank: int
    code: str
    name: str
    side: Side | None
    severity: Severity | None
    focus: str
    figures: tuple[int, ...] = ()


class KeptSwim(Record):
    """One line of the plan."""

    session: int
    stage: Stage
    part: str
    name: str
    drill: str | None
    focus: str | None
    added: bool
    metres: float


class Kept(Record):
    """One approved review of a named swimmer."""

    key: str
    swimmer: str
    name: str
    folder: str
    stroke: Stroke
    level: str
    made_on: date
    approved_on: date
    """The latest approval."""
    findings: tuple[KeptFinding, ...] = ()
    figures: tuple[KeptFigure, ...] = ()
    corrections: tuple[KeptCorrection, ...] = ()
    plan: tuple[KeptSwim, ...] = ()
    traces: tuple[str, ...] = ()
    """Digests of how its sentences begin: tell which files of the cache belong to it."""


def key_of_words(transcript: Transcript) -> str:
    """What tells a review from others: the same narration, heard alike, is the same review."""
    return key_of(*(f"{cue.start:.2f} {cue.text}" for cue in transcript.cues))


def words_of(text: str) -> list[str]:
    """The words of a text, alike however they are written and spaced."""
    return re.findall(r"\w+", text.casefold())


def traces_of(sentences: Iterable[str]) -> tuple[str, ...]:
    """Digests of how sentences begin, each once."""
    openings = (words_of(sentence)[:OPENING] for sentence in sentences)
    return tuple(dict.fromkeys(trace(words) for words in openings if len(words) == OPENING))


def trace(words: Sequence[str]) -> str:
    """A digest of a few words, from which they cannot be told."""
    return key_of(*words)[:TRACE]


def kept_of(review: Review, transcript: Transcript, folder: str, approved_on: date) -> Kept:
    """What is kept of a review that was approved on a day; its swimmer must be named."""
    heard = review.heard or Notes(findings=review.findings, figures=review.figures)
    sentences = [cue.text for cue in transcript.cues] + [m.quote for m in _mentions(heard)]
    return Kept(
        key=key_of_words(transcript),
        swimmer=" ".join((review.brief.swimmer or "").split()),
        name=review.name,
        folder=folder,
        stroke=review.brief.stroke,
        level=review.brief.level,
        made_on=review.made.on or approved_on,
        approved_on=approved_on,
        findings=tuple(_findings(review)),
        figures=tuple(_figures(review)),
        corrections=tuple(_correction(c, review.findings) for c in review.corrections),
        plan=tuple(_swims(review)),
        traces=traces_of(sentences),
    )


def _mentions(notes: Notes) -> Iterable[Mention]:
    for found in notes.findings:
        yield from found.mentions
    for figure in notes.figures:
        yield from figure.mentions


def _findings(review: Review) -> Iterable[KeptFinding]:
    for found in review.findings:
        yield KeptFinding(
            kind=found.kind, code=found.code, side=found.side, severity=found.severity
        )
    for aside in review.set_aside:
        if aside.kind in ("fault", "strength"):
            yield KeptFinding(
                kind=aside.kind, code=aside.code, side=aside.side, reason=aside.reason
            )


def _figures(review: Review) -> Iterable[KeptFigure]:
    """The figures in their order, each against the coach's own target, else the usual range."""
    for index, figure in enumerate(review.figures):
        held = [v for v in review.verdicts if v.figure == index]
        held.sort(key=lambda verdict: verdict.against != "spoken target")
        usual = (held[0].low, held[0].high) if held else None
        yield KeptFigure(
            measure=figure.measure,
            side=figure.side,
            unit=figure.unit,
            observed=figure.observed,
            aim=figure.target or usual,
            distance_m=figure.distance_m,
        )


def _correction(correction: Correction, findings: tuple[Finding, ...]) -> KeptCorrection:
    said = [
        f.severity
        for f in findings
        if f.kind == "fault" and f.code == correction.code and f.severity is not None
    ]
    return KeptCorrection(
        rank=correction.rank,
        code=correction.code,
        name=correction.name,
        side=correction.side,
        severity=max(said, key=lambda severity: GRADES[severity], default=None),
        focus=correction.focus,
        figures=correction.figures,
    )


def _swims(review: Review) -> Iterable[KeptSwim]:
    for session in review.plan.sessions:
        for swim in session.swims:
            yield KeptSwim(
                session=session.number,
                stage=session.stage,
                part=swim.part,
                name=swim.name,
                drill=swim.drill,
                focus=swim.focus,
                added=swim.added,
                metres=swim.metres,
            )
