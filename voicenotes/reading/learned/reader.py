"""The learned reader: a small encoder that says what a sentence says of the swimmer.

It was trained on annotated narrations (``weights/card.md`` says on which, how well it does, and
where it fails). It reaches what coaches say in images; the frames beside it explain themselves.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal, cast, get_args

import numpy as np
from spacy.tokens import Span

from voicenotes.notes import Kind, Severity, Side, Status
from voicenotes.reading.context import Context
from voicenotes.reading.faults.sightings import Sighting
from voicenotes.reading.learned.network import WEIGHTS, Array, load_network
from voicenotes.reading.learned.numbers import Pieces, shares
from voicenotes.reading.text import Narration

Kinds = Literal["fault", "strength", "drill"]
NAMED = 0.5
"""A finding named but not true is handed over, to be set aside, from this certainty on."""
WORTH_JOINING = 0.3
"""A finding is handed over from this certainty on: a frame may bear it out."""
FAINT = 0.02
"""What is less certain than this is left out of a reading."""
_STATUSES: tuple[Status | Literal["neutral", "off_topic"], ...] = (
    "true", "denied", "general", "other", "past", "supposed", "keep", "explains", "neutral",
    "off_topic",
)  # fmt: skip
_SIDES: tuple[Side | None, ...] = (None, "left", "right", "both")
_SEVERITIES: tuple[Severity, ...] = ("slight", "moderate", "marked")


@dataclass(frozen=True)
class Seen:
    """One code in one sentence. Certainties run from 0 to 1.

    ``true`` is how surely it is said of this swimmer, in this clip, as true now; ``named`` how
    surely it is spoken of at all; ``cause`` and ``effect`` how surely the sentence gives it as
    the reason for something, or as what follows. ``token`` is the word looked at most (an index
    into the narration's text).
    """

    kind: Kinds
    code: str
    true: float
    named: float
    cause: float
    effect: float
    side: Side | None
    severity: Severity
    token: int


@dataclass(frozen=True)
class LearnedReading:
    """All that the network says of one sentence.

    ``status`` holds a share for each status, "neutral" and "off_topic" among them; ``pieces`` what
    it says of the words.
    """

    sentence: int
    seen: tuple[Seen, ...]
    status: Mapping[str, float]
    pieces: Pieces | None = field(default=None, compare=False)

    @property
    def drills(self) -> dict[str, float]:
        """How surely each drill is prescribed here."""
        return {seen.code: seen.true for seen in self.seen if seen.kind == "drill"}


class LearnedReader:
    """Reads faults and strengths by the trained network."""

    def __init__(self, folder: Path = WEIGHTS) -> None:
        self._network = load_network(folder)
        labels = self._network.labels
        self._codes: list[tuple[Kinds, str]] = [tuple(c.split(":")) for c in labels["codes"]]
        self._measures: list[str] = labels["measures"]
        self._calibration: dict[str, list[float]] = labels["calibration"]

    @property
    def known(self) -> frozenset[tuple[Kind, str]]:
        """The faults and strengths it was taught."""
        return frozenset((kind, code) for kind, code in self._codes if kind != "drill")

    def readings(self, narration: Narration) -> tuple[LearnedReading, ...]:
        """What the network says of every sentence, in order."""
        encoded = [self._network.tokens(s.text) for s in narration.sentences]
        if not encoded:
            return ()
        out = self._network.run([ids for ids, _ in encoded])
        true, named = self._certain(out["true"]), _logistic(out["mention"])
        readings = []
        for sentence, (_, offsets) in zip(narration.sentences, encoded, strict=True):
            row = {name: values[sentence.index] for name, values in out.items()}
            row |= {"true": true[sentence.index], "mention": named[sentence.index]}
            readings.append(self._reading(sentence.index, sentence.span, offsets, row))
        return tuple(readings)

    def read(self, narration: Narration, context: Context) -> list[Sighting]:
        """Sightings of what may be said of the swimmer, and of what is named but not true."""
        return self.sightings(self.readings(narration), context)

    def sightings(
        self,
        readings: Iterable[LearnedReading],
        context: Context,
        least: float = WORTH_JOINING,
    ) -> list[Sighting]:
        """The sightings that readings of a narration's sentences make, from a certainty on."""
        sightings = []
        for reading in readings:
            doubted = reason_of(reading)
            for seen in reading.seen:
                if seen.kind == "drill":
                    continue
                status: Status = "true" if seen.true >= least else doubted
                certainty = seen.true if status == "true" else seen.named
                if status != "true" and certainty < NAMED:
                    continue
                clause = context.clause(seen.token)
                sightings.append(
                    Sighting(
                        kind=seen.kind,
                        code=seen.code,
                        sentence=reading.sentence,
                        first=clause.first,
                        last=clause.last,
                        status=status,
                        certainty=round(certainty, 4),
                        seen_by="learned",
                        cause=round(seen.cause, 4),
                        effect=round(seen.effect, 4),
                    )
                )
        return sightings

    def _certain(self, logits: Array) -> Array:
        """Certainties as they came true on narrations that were not learned from."""
        lines = [self._calibration.get(kind, [1.0, 0.0]) for kind, _ in self._codes]
        slope, shift = np.array(lines).T
        return _logistic(logits * slope + shift)

    def _reading(
        self, sentence: int, span: Span, offsets: Sequence[tuple[int, int]], row: dict[str, Array]
    ) -> LearnedReading:
        cause, effect = _logistic(row["cause"]), _logistic(row["effect"])
        seen = []
        for i in np.flatnonzero(np.maximum(row["true"], row["mention"]) >= FAINT):
            kind, code = self._codes[i]
            seen.append(
                Seen(
                    kind=kind,
                    code=code,
                    true=float(row["true"][i]),
                    named=float(row["mention"][i]),
                    cause=float(cause[i]),
                    effect=float(effect[i]),
                    side=_SIDES[int(row["side"][i].argmax())],
                    severity=_SEVERITIES[int(row["severity"][i].argmax())],
                    token=_word_at(span, offsets, int(row["peak"][i])),
                )
            )
        named = zip(_STATUSES, shares(row["status"][None]), strict=True)
        status: dict[str, float] = {name: float(share) for name, share in named}
        pieces = Pieces(offsets, row["number"], self._measures)
        return LearnedReading(sentence, tuple(seen), status, pieces)


def _logistic(logits: Array) -> Array:
    return np.asarray(1 / (1 + np.exp(-np.clip(logits, -30.0, 30.0))))


def _word_at(span: Span, offsets: Sequence[tuple[int, int]], piece: int) -> int:
    """The word of the narration that a word piece of a sentence belongs to."""
    if not offsets:
        return span.start
    first, last = offsets[min(piece, len(offsets) - 1)]
    word = span.char_span(first, max(last, first + 1), alignment_mode="expand")
    return span.start if word is None else word.start


def reason_of(reading: LearnedReading) -> Status:
    """Why what is named in a sentence does not count: the likeliest of the reasons."""
    reasons = [name for name in _STATUSES if name in get_args(Status) and name != "true"]
    return cast(Status, max(reasons, key=lambda name: reading.status[name]))
