"""Makes figures of what was said: observation and target together, repeats once."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from voicenotes.notes import Figure, Interval, Mention, SetAside, Side, Status
from voicenotes.reading.figures.remarks import Remark
from voicenotes.reading.figures.values import Value
from voicenotes.reading.numbers.quantities import Quantity
from voicenotes.reading.text import Narration
from voicenotes.vocabulary.model import Measure

REACH = 8
"""Sentences within which a target belongs to an observation."""


@dataclass(frozen=True)
class Said:
    """One quantity taken as a figure; ``sentence`` counts the narration's sentences.

    ``distance_m`` is the distance that a time or count was taken over, where it was said.
    """

    quantity: Quantity
    sentence: int
    measure: Measure
    value: Value
    role: Literal["observed", "target"]
    side: Side | None
    status: Status
    remark: Remark | None = None
    distance_m: float | None = None


@dataclass
class _Entry:
    """A figure in the making; ``last`` is the sentence that spoke of it last."""

    measure: str
    unit: str
    side: Side | None
    last: int
    mentions: list[Mention]
    observed: Interval | None = None
    target: Interval | None = None
    at_limit: bool = False
    converted: str | None = None
    remark: Remark | None = None
    distance_m: float | None = None

    def agrees(self, side: Side | None) -> bool:
        """Whether a side can be this entry's."""
        return self.side == side or None in (self.side, side)

    def value(self, role: str) -> Interval | None:
        """The value of a role."""
        return self.observed if role == "observed" else self.target

    def take(self, said: Said, mention: Mention) -> None:
        """Takes a value, or a value said again, into the entry."""
        if said.role == "observed":
            self.observed = said.value.interval
            self.remark = self.remark or said.remark
        else:
            self.target = said.value.interval
            self.at_limit = self.at_limit or said.quantity.limit is not None
        self.side = self.side or said.side
        self.converted = self.converted or said.value.converted
        self.distance_m = self.distance_m or said.distance_m
        self.last = said.sentence
        if all(other.start != mention.start for other in self.mentions):
            self.mentions.append(mention)

    def figure(self) -> Figure:
        """The finished figure."""
        return Figure(
            measure=self.measure,
            side=self.side,
            observed=self.observed,
            target=self.target,
            unit=self.unit,
            at_most_or_least=self.at_limit,
            converted=self.converted,
            remark=self.remark,
            distance_m=self.distance_m,
            mentions=tuple(self.mentions),
        )


def join_figures(
    narration: Narration, said: Sequence[Said]
) -> tuple[tuple[Figure, ...], tuple[SetAside, ...]]:
    """Figures, in the order they were first said, and what does not count, with the reason."""
    entries: list[_Entry] = []
    aside: list[SetAside] = []
    for one in said:
        mention = narration.mention(narration.sentences[one.sentence].span)
        number = narration.doc[one.quantity.first : one.quantity.last]
        mention = mention.model_copy(update={"certainty": narration.certainty(number)})
        if one.status == "true":
            _add(entries, one, mention)
        else:
            aside.append(
                SetAside(
                    kind="figure",
                    code=one.measure.code,
                    side=one.side,
                    reason=one.status,
                    mention=mention,
                )
            )
    return tuple(entry.figure() for entry in entries), tuple(aside)


def _add(entries: list[_Entry], said: Said, mention: Mention) -> None:
    """Puts one value where it belongs: to its repeat, to its counterpart, or on its own."""
    same = [entry for entry in entries if entry.measure == said.measure.code]
    repeated = [e for e in same if e.value(said.role) == said.value.interval]
    entry = next((e for e in reversed(repeated) if e.agrees(said.side)), None)
    entry = entry or _counterpart(same, said)
    if entry is not None:
        entry.take(said, mention)
    else:
        entry = _Entry(said.measure.code, said.measure.unit, said.side, said.sentence, [])
        entry.take(said, mention)
        entries.append(entry)


def _counterpart(same: Sequence[_Entry], said: Said) -> _Entry | None:
    """The entry that a target's observation, or an observation's target, stands in.

    Where left and right were measured apart, a target for both is an entry of its own.
    """
    other = "target" if said.role == "observed" else "observed"
    waiting = [
        entry
        for entry in same
        if entry.value(said.role) is None
        and entry.value(other) is not None
        and entry.agrees(said.side)
        and said.sentence - entry.last <= REACH
    ]
    if not waiting:
        return None
    apart = len({entry.side for entry in waiting}) > 1 and said.role == "target"
    return None if apart and said.side in (None, "both") else waiting[-1]
