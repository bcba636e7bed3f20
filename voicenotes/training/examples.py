"""Talks -> windows of tokens with targets, in batches."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from random import Random

import numpy as np
import torch
from numpy.typing import NDArray
from torch import Tensor

from voicenotes.reading.learned.numbers import NUMBER_ROLES
from voicenotes.reading.learned.windows import Encoder, Plan, Tokens, Window, tokens_of, windows_of
from voicenotes.training.corpus import (
    SEVERITIES,
    SIDES,
    STATUSES,
    Talk,
    Unit,
)
from voicenotes.training.model import OFF_TOPIC
from voicenotes.training.noise import (
    Mishearing,
    marked,
    numbers_in,
    swap_gender,
    swap_sides,
    swaps_cleanly,
    unmarked,
)

Pieces = Callable[[str], tuple[list[int], list[tuple[int, int]]]]
UNKNOWN = -100
"""A class that no loss is taken on."""
_OTHER_SIDE = {"left": "right", "right": "left"}


@dataclass(frozen=True)
class Passage:
    """One window of a talk, ready to be written as tokens, and the units asked about."""

    texts: tuple[str, ...]
    asked: tuple[Unit, ...]
    window: Window


@dataclass(frozen=True)
class Labels:
    """The names of what the heads say, in their order."""

    codes: tuple[str, ...]
    measures: tuple[str, ...]


@dataclass(frozen=True)
class Batch:
    """Windows of like length. ``floats`` and ``classes`` hold the targets, a row a sentence."""

    ids: Tensor
    mask: Tensor
    asked: Tensor
    index: Tensor
    inside: Tensor
    targets: dict[str, Tensor]


def training_passages(
    talks: Iterable[Talk], plan: Plan, noise: Mishearing, random: Random, noisiness: float
) -> Iterator[Passage]:
    """Every talk cut into windows, with more context or less, its words varied.

    Half of the talks are asked about sentence by sentence, whatever the plan's width.
    """
    for talk in talks:
        lengths = [len(unit.text.split()) * 4 // 3 for unit in talk.units]
        contexts = [(plan.before, plan.after)] * 3 + [(0, 0), (1, 0), (1, 1), (3, 1)]
        before, after = random.choice(contexts)
        width = round(plan.width * random.choice((0.0, random.uniform(0.3, 1.1))))
        for window in windows_of(lengths, Plan(width, before, after)):
            if any(unit.learned_from for unit in talk.units[window.start : window.end]):
                yield _varied(_passage(talk, window), noise, random, noisiness)


def _passage(talk: Talk, window: Window) -> Passage:
    units = talk.units[window.first : window.last]
    start, end = window.start - window.first, window.end - window.first
    texts = tuple(unit.text for unit in units)
    return Passage(texts, tuple(units[start:end]), Window(0, start, end, len(units)))


def reading_passages(talk: Talk, plan: Plan, encode: Encoder) -> list[Passage]:
    """The talk in the windows that a reader uses."""
    lengths = [len(encode(unit.text)) for unit in talk.units]
    return [_passage(talk, window) for window in windows_of(lengths, plan)]


def one_by_one(passage: Passage, plan: Plan) -> list[Passage]:
    """The same passage asked about sentence by sentence, each with the plan's context."""
    apart, window = [], passage.window
    for number, unit in enumerate(passage.asked, window.start):
        first, last = max(0, number - plan.before), min(window.last, number + 1 + plan.after)
        at = Window(0, number - first, number - first + 1, last - first)
        apart.append(Passage(passage.texts[first:last], (unit,), at))
    return apart


def _varied(passage: Passage, noise: Mishearing, random: Random, noisiness: float) -> Passage:
    asked, window = passage.asked, passage.window
    sayings = tuple(marked(unit.text, unit.numbers) for unit in asked)
    texts = (*passage.texts[: window.start], *sayings, *passage.texts[window.end :])
    if random.random() < 0.3 and all(map(swaps_cleanly, sayings)):
        texts, asked = tuple(map(swap_sides, texts)), tuple(map(_other_side, asked))
    if random.random() < 0.2:
        texts = tuple(map(swap_gender, texts))
    if random.random() < noisiness:
        texts = tuple(noise(text, random) for text in texts)
    asked = tuple(
        replace(unit, numbers=numbers_in(text, unit.numbers))
        for unit, text in zip(asked, texts[window.start : window.end], strict=True)
    )
    return replace(passage, texts=tuple(map(unmarked, texts)), asked=asked)


def _other_side(unit: Unit) -> Unit:
    swapped = {
        key: {(_OTHER_SIDE.get(side or "", side), severity) for side, severity in gradings}
        for key, gradings in unit.true.items()
    }
    return replace(unit, true=swapped)


class Writer:
    """Writes passages as batches of tensors.

    ``pieces`` gives the token ids of a text and the characters that each stands for; ``marks``
    are the ids of start, end and padding.
    """

    def __init__(self, pieces: Pieces, marks: tuple[int, int, int], labels: Labels) -> None:
        self.pieces, self.labels = pieces, labels
        self.start, self.end, self.pad = marks
        self.code = {code: i for i, code in enumerate(labels.codes)}
        self.measure = {measure: i for i, measure in enumerate(labels.measures)}

    def encode(self, text: str) -> list[int]:
        """The token ids of a text."""
        return self.pieces(text)[0]

    def tokens(self, passage: Passage) -> Tokens:
        """The passage's tokens."""
        sentences = [self.encode(text) for text in passage.texts]
        return tokens_of(sentences, passage.window, self.start, self.end)

    def batch(self, passages: Sequence[Passage], device: str, *, targets: bool) -> Batch:
        """Passages as one batch on the device."""
        written = [self.tokens(passage) for passage in passages]
        longest = max(len(tokens.ids) for tokens in written)
        longest += -longest % 8
        ids = np.full((len(written), longest), self.pad, np.int64)
        spans = []
        for row, tokens in enumerate(written):
            ids[row, : len(tokens.ids)] = tokens.ids
            spans += [(row * longest + a, row * longest + b) for a, b in tokens.spans]
        widest = max(1, *(b - a for a, b in spans))
        index = np.zeros((len(spans), widest), np.int64)
        inside = np.zeros((len(spans), widest), np.int64)
        for row, (a, b) in enumerate(spans):
            index[row, : b - a], inside[row, : b - a] = np.arange(a, b), 1
        mask = (ids != self.pad).astype(np.int64)
        asked = np.zeros(ids.size, np.int64)
        asked[index[inside > 0]] = 1
        asked = asked.reshape(ids.shape)
        places = (ids, mask, asked, index, inside)
        i, m, a, x, n = (torch.from_numpy(array).to(device) for array in places)
        goals = {}
        if targets:
            goals = self.targets([unit for p in passages for unit in p.asked], device)
            goals |= self._number_goals(passages, widest, device)
        return Batch(i, m, a, x, n, goals)

    def _number_goals(
        self, passages: Sequence[Passage], widest: int, device: str
    ) -> dict[str, Tensor]:
        """Role and measure of the tokens of numbers, a row a sentence; UNKNOWN elsewhere."""
        asked = [
            (unit, text)
            for p in passages
            for unit, text in zip(p.asked, p.texts[p.window.start : p.window.end], strict=True)
        ]
        goals = np.full((2, len(asked), widest), UNKNOWN)
        for row, (unit, text) in enumerate(asked):
            offsets = np.array(self.pieces(text)[1][:widest]).reshape(-1, 2)
            for number in unit.numbers if unit.learned_from else ():
                at = np.flatnonzero((offsets[:, 0] < number.last) & (offsets[:, 1] > number.first))
                if number.role is not None:
                    goals[0, row, at] = NUMBER_ROLES.index(number.role)
                if number.measure in self.measure:
                    goals[1, row, at] = self.measure[number.measure]
        role, measure = torch.from_numpy(goals).to(device)
        return {"number_role": role, "number_measure": measure}

    def targets(self, units: Sequence[Unit], device: str) -> dict[str, Tensor]:
        """What the heads should say, sent in two blocks: weights and values, and classes."""
        rows = [self._row(unit) for unit in units]
        floats = np.stack([np.concatenate(values) for values, _ in rows])
        classes = np.stack([np.concatenate(choices) for _, choices in rows])
        codes, measures = len(self.code), len(self.measure)
        widths = [codes, codes, codes, codes, 2 * measures, 2 * measures, codes, codes, codes]
        names = (
            "true",
            "true?",
            "mention",
            "mention?",
            "figures",
            "figures?",
            "cause",
            "effect",
            "causes?",
        )
        out = dict(zip(names, torch.from_numpy(floats).to(device).split(widths, 1), strict=True))
        whole = torch.from_numpy(classes).to(device).split([codes, codes, 1], 1)
        out |= {"side": whole[0], "severity": whole[1], "status": whole[2][:, 0]}
        return out

    def _row(self, unit: Unit) -> tuple[list[NDArray[np.float32]], list[NDArray[np.int64]]]:
        codes, measures = len(self.code), len(self.measure)
        known = np.full(codes, float(unit.learned_from), np.float32)
        said = known.copy()
        said[[self.code[k] for k in unit.maybe if k in self.code]] = 0
        figures, figures_known = (
            np.zeros((2, measures), np.float32),
            np.full((2, measures), known[0]),
        )
        figures_known[:, [self.measure[m] for m in unit.figures_maybe if m in self.measure]] = 0
        for role, stated in enumerate((unit.observed, unit.target)):
            at = [self.measure[m] for m in stated if m in self.measure]
            figures[role, at], figures_known[role, at] = 1, known[0]
        causes = np.zeros((2, codes), np.float32)
        for pair in unit.causes:
            for role, code in enumerate(pair):
                if f"fault:{code}" in self.code:
                    causes[role, self.code[f"fault:{code}"]] = 1
        side, severity = self._gradings(unit)
        status = STATUSES.index(unit.status) if unit.status else UNKNOWN
        status = OFF_TOPIC if unit.off_topic else status
        status = status if unit.learned_from else UNKNOWN
        caused = known * float(unit.causes_known)
        values = [
            self._marks(unit.true), said, self._marks(unit.mention), said,
            figures.ravel(), figures_known.ravel(), causes[0], causes[1], caused,
        ]  # fmt: skip
        return values, [side, severity, np.array([status])]

    def _marks(self, keys: Iterable[str]) -> NDArray[np.float32]:
        marks = np.zeros(len(self.code), np.float32)
        marks[[self.code[key] for key in keys if key in self.code]] = 1
        return marks

    def _gradings(self, unit: Unit) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        side = np.full(len(self.code), UNKNOWN)
        severity = side.copy()
        for key, gradings in unit.true.items():
            if key not in self.code or key.startswith("drill:") or not unit.learned_from:
                continue
            sides = {s for s, _ in gradings if s}
            one = "both" if len(sides) > 1 else next(iter(sides), None)
            side[self.code[key]] = SIDES.index(one)
            grades = {g for _, g in gradings if g}
            if len(grades) == 1:
                severity[self.code[key]] = SEVERITIES.index(grades.pop())
        return side, severity
