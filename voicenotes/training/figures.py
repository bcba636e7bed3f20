"""``python -m voicenotes.training.figures``: how much each sign says of a number's measure.

The learned reader is one of the signs, so the weights are fitted on narrations by authors whom it
has not learned from: it is trained once for each fold of series, and read on those left out.
"""

import json
import re
from argparse import ArgumentParser
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from voicenotes.reading.context import Context
from voicenotes.reading.figures.read import FigureReader
from voicenotes.reading.figures.values import plausible
from voicenotes.reading.figures.weights import WEIGHTS, Signs
from voicenotes.reading.learned.reader import FAINT, LearnedReading
from voicenotes.reading.text import Narration
from voicenotes.training.corpus import Talk, resplit
from voicenotes.transcript import Cue, Transcript
from voicenotes.vocabulary.load import load_vocabulary
from voicenotes.vocabulary.model import Vocabulary

LINE_S, PAUSE_S = 5.0, 1.0
"""Seconds that a line and the pause after it are taken to last: only their order matters."""
CLOSE = 0.011
"""Share by which a value may differ from the annotated one."""
SMOOTHING = 0.5
"""Weight of the squared weights in the fit; 0.3 to 3 came to the same on series left out."""
ROUNDS = 3
"""What was read before is a sign for what follows, so numbers are read anew with each fit."""


@dataclass(frozen=True)
class Case:
    """One number: the signs of every measure it can be of, and which is right, None for none."""

    signs: tuple[Signs, ...]
    right: int | None


def readings_of(
    talk: Talk, narration: Narration, figures: NDArray[np.float32], measures: Sequence[str]
) -> list[LearnedReading]:
    """Rows of logits, one a unit of the resplit talk, as readings of a narration's sentences."""
    ends = np.cumsum([_letters(unit.text) for unit in talk.units])
    certain = 1 / (1 + np.exp(-figures.reshape(len(figures), 2, -1)))
    readings, at = [], 0
    for sentence in narration.sentences:
        middle = at + _letters(sentence.text) / 2
        at += _letters(sentence.text)
        row = certain[min(int(np.searchsorted(ends, middle)), len(ends) - 1)]
        seen, asked = (
            {m: float(p) for m, p in zip(measures, half, strict=True) if p >= FAINT} for half in row
        )
        readings.append(LearnedReading(sentence.index, (), {}, seen, asked))
    return readings


def _letters(text: str) -> int:
    return len(re.sub(r"\W", "", text))


def told(talk: Talk) -> Narration:
    """A talk as a narration, each line a cue."""
    step = LINE_S + PAUSE_S
    cues = tuple(
        Cue(start=step * i, end=step * i + LINE_S, text=unit.text)
        for i, unit in enumerate(talk.units)
    )
    return Narration(Transcript(name=talk.name, cues=cues, duration=step * len(cues)))


def cases(
    talk: Talk,
    narration: Narration,
    heard: Sequence[LearnedReading],
    vocabulary: Vocabulary,
    weights: Mapping[str, float],
) -> Iterator[Case]:
    """Every number of an annotated talk that no drill has, with what it measures."""
    gold = talk.gold or {}
    lines = {line: i for i, unit in enumerate(talk.units) for line in unit.lines}
    of_figures = {line for figure in gold["figures"] for line in figure["at"]}
    drilled = {lines[x] for drill in gold["drills"] for x in drill["at"] if x not in of_figures}
    spans = [(s.span.start, s.span.end) for s in narration.sentences if _lines(s) <= drilled]
    reader = FigureReader(narration, vocabulary, Context(narration), spans, heard, weights)
    reader.read()
    for asked, choices in reader.weighed:
        here = _lines(narration.sentences[asked.sentence])
        said = [f for f in gold["figures"] if here & {lines[x] for x in f["at"]}]
        right = None
        for i, choice in enumerate(choices):
            values = plausible(asked.quantity, choice.measure, asked.unit_words)
            if any(f["measure"] == choice.measure.code and _is_value(f, values) for f in said):
                right = i
        yield Case(tuple(choice.signs for choice in choices), right)


def _lines(sentence: Any) -> set[int]:
    step = LINE_S + PAUSE_S
    return set(range(int(sentence.start // step), int((sentence.end - 0.01) // step) + 1))


def _is_value(figure: dict[str, Any], values: Sequence[tuple[float | None, float | None]]) -> bool:
    """Whether one of the values is the figure's observation or target."""
    wanted = [figure[role] for role in ("observed", "target") if figure.get(role)]
    return any(
        all(
            (a is None and b is None)
            or (a is not None and b is not None and abs(a - b) <= CLOSE * max(abs(a), 0.1))
            for a, b in zip(pair, value, strict=True)
        )
        for pair in wanted
        for value in values
    )


def fit(given: Sequence[Case]) -> dict[str, float]:
    """Weights that make the right measures likeliest, "no figure" scoring 0 for every number.

    Multinomial logistic regression with shared weights, by Newton's method.
    """
    known = [case for case in given if case.signs]
    names = sorted({name for case in known for signs in case.signs for name in signs})
    rows = [[signs.get(name, 0.0) for name in names] for case in known for signs in case.signs]
    table = np.array(rows)
    right = np.array([i == case.right for case in known for i in range(len(case.signs))], float)
    sizes = np.array([len(case.signs) for case in known])
    starts, number = np.cumsum(sizes) - sizes, np.repeat(np.arange(len(known)), sizes)
    weights = np.zeros(len(names))
    for _ in range(30):
        score = table @ weights
        top = np.maximum(np.maximum.reduceat(score, starts), 0)
        part = np.exp(score - top[number])
        likely = part / (np.exp(-top) + np.add.reduceat(part, starts))[number]
        weighted = likely[:, None] * table
        means = np.add.reduceat(weighted, starts, axis=0)
        curve = table.T @ weighted - means.T @ means + SMOOTHING * np.eye(len(names))
        step = np.linalg.solve(curve, table.T @ (right - likely) - SMOOTHING * weights)
        weights = weights + step * min(1.0, 4 / np.abs(step).max())
    return {name: round(float(weight), 2) for name, weight in zip(names, weights, strict=True)}


def main() -> None:
    """Trains the reader for each fold, reads what it has not heard, fits, prints the weights."""
    from voicenotes.training.__main__ import taught
    from voicenotes.training.base import base_model
    from voicenotes.training.corpus import codes_of, measures_of, read_corpus
    from voicenotes.training.examples import Labels
    from voicenotes.training.train import FOLDS, leave_out, read_talks

    parser = ArgumentParser(prog="python -m voicenotes.training.figures", description=__doc__)
    parser.add_argument("--corpus", type=Path, nargs="+", required=True)
    parser.add_argument("--out", type=Path, required=True, help="where the base model is laid")
    given = parser.parse_args()
    corpus, vocabulary = read_corpus(given.corpus), load_vocabulary()
    labels = Labels(tuple(codes_of(corpus)), tuple(measures_of(corpus)))
    base = base_model(given.out / "base")
    read = []
    for fold in range(FOLDS):
        part, left = leave_out(corpus, fold)
        reader = taught(base, part, labels, seed=0)
        for talk in left:
            cut, narration = resplit(talk), told(talk)
            logits = read_talks(reader, [cut])["figures"]
            read.append((talk, narration, readings_of(cut, narration, logits, labels.measures)))
    print(json.dumps(fitted(read, vocabulary), indent=4))


def fitted(
    read: Sequence[tuple[Talk, Narration, Sequence[LearnedReading]]], vocabulary: Vocabulary
) -> dict[str, float]:
    """Weights from annotated talks and what the reader hears in each."""
    weights: Mapping[str, float] = WEIGHTS
    for _ in range(ROUNDS):
        weights = fit([case for one in read for case in cases(*one, vocabulary, weights)])
    return dict(weights)


if __name__ == "__main__":
    main()
