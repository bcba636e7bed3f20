"""``python -m voicenotes.training``: from annotated narrations to the packaged reader."""

from argparse import ArgumentParser, Namespace
from pathlib import Path

import numpy as np

from voicenotes.reading.learned.windows import Plan
from voicenotes.training.base import base_model
from voicenotes.training.calibrate import calibrate
from voicenotes.training.card import write_card
from voicenotes.training.corpus import Corpus, codes_of, measures_of, read_corpus, resplit
from voicenotes.training.evaluate import evaluate
from voicenotes.training.examples import Labels
from voicenotes.training.export import export
from voicenotes.training.numbers import mark_numbers
from voicenotes.training.train import Settings, Trained, leave_out, read_talks, train
from voicenotes.vocabulary.load import load_vocabulary

DATA = Path(__file__).parent / "data"
"""The project's own corpus: annotated narrations and banks of single sentences."""
TEACHERS = 2
"""Readers with other seeds, whose mean the student learns from."""
TEACHER = Settings(layers=None, passes=5, packed_from=1.0)
STUDENT = Settings(plan=Plan(100, 2, 1), layers=8, passes=8, noisiness=0.6)
"""The reader that is kept: eight of twelve layers, taught by the annotation and by the teacher."""


def main() -> None:
    """Trains on three series of narrations in four to calibrate and measure, then on all."""
    given = _arguments()
    corpus, vocabulary = read_corpus(given.corpus), load_vocabulary()
    mark_numbers(corpus.talks, vocabulary)
    labels = Labels(tuple(codes_of(corpus)), tuple(measures_of(corpus)))
    base = given.base or base_model(given.out / "base")
    part, left = leave_out(corpus, fold=0)
    print(f"learning from {len(part.narrations)} narrations, {len(left)} left out")
    trial = taught(base, part, labels, given.seed)
    talks = [resplit(talk) for talk in left]
    logits = read_talks(trial, talks)["true"]
    calibration = calibrate(logits, talks, labels.codes)
    report = evaluate(talks, certainties(logits, calibration, labels), labels.codes)
    print(f"learning from all {len(corpus.narrations)} narrations")
    reader = taught(base, corpus, labels, given.seed)
    folder = given.out / "weights"
    export(reader, base, corpus, folder, {"calibration": calibration, "seed": given.seed})
    write_card(folder, corpus, len(left), report)


def taught(base: Path, corpus: Corpus, labels: Labels, seed: int) -> Trained:
    """A reader taught by larger ones that were trained on the same corpus."""
    teachers = [train(base, corpus, labels, TEACHER, seed + i) for i in range(TEACHERS)]
    return train(base, corpus, labels, STUDENT, seed + TEACHERS, teachers)


def certainties(
    logits: np.ndarray, calibration: dict[str, list[float]], labels: Labels
) -> np.ndarray:
    """Logits of ``true`` as calibrated certainties."""
    slope, shift = np.array([calibration[code.split(":")[0]] for code in labels.codes]).T
    return 1 / (1 + np.exp(-(logits * slope + shift)))


def _arguments() -> Namespace:
    parser = ArgumentParser(prog="python -m voicenotes.training", description=__doc__)
    say = parser.add_argument
    say("--corpus", type=Path, nargs="+", default=[DATA], help="folders of narrations and banks")
    say("--out", type=Path, required=True, help="where the folder weights/ is written")
    say("--base", type=Path, help="base model folder; else joined from its packages")
    say("--seed", type=int, default=0)
    return parser.parse_args()


if __name__ == "__main__":
    main()
