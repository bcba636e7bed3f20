"""The reading, measured: ``python -m tests.benchmarks.reading [--write]``.

Scores the frames alone, the learned reader alone and both joined on the annotated narrations in
``tests/dev`` (looked at for choosing) and ``tests/gold`` (held out: nothing is chosen by them), and
prints the accuracy page; with ``--write`` it becomes ``tests/gold/ACCURACY.md``.
"""

import sys
import time
from pathlib import Path

from voicenotes.evaluation.evaluate import evaluate
from voicenotes.evaluation.scoring import Score
from voicenotes.reading.pipeline import Readers, read_notes
from voicenotes.transcript.formats import read_transcript
from voicenotes.vocabulary.load import load_vocabulary

TESTS = Path(__file__).parent.parent
SETS = {
    "Held out (`tests/gold`)": TESTS / "gold",
    "Used for choosing (`tests/dev`)": TESTS / "dev",
}
READERS: dict[str, Readers] = {"frames": "frames", "learned": "learned", "joined": "both"}


def main() -> None:
    """Measure, print, and write if asked to."""
    page = "\n".join(
        ["# How well narrations are read", "", *_introduction(), *_tables(), *_speed()]
    )
    print(page)
    if "--write" in sys.argv[1:]:
        (TESTS / "gold" / "ACCURACY.md").write_text(page + "\n", encoding="utf-8")


def _introduction() -> list[str]:
    return [
        "Made by `python -m tests.benchmarks.reading --write`. F1 is the harmonic mean of",
        "precision and recall over whole narrations. Only faults and strengths are read by frames",
        "and the learned reader apart; what hangs on them (causes, what a drill is for) follows.",
        "",
    ]


def _tables() -> list[str]:
    vocabulary, lines = load_vocabulary(), []
    for title, folder in SETS.items():
        count = len(list(folder.glob("*.gold.json")))
        scores = {n: evaluate(folder, vocabulary, readers) for n, readers in READERS.items()}
        lines += [f"## {title}: {count} narrations", "", f"| F1 | {' | '.join(scores)} |"]
        lines += ["| --- |" + " ---: |" * len(scores)]
        for kind in scores["joined"].tallies:
            row = " | ".join(f"{score.tallies[kind].f1:.3f}" for score in scores.values())
            lines.append(f"| {kind} | {row} |")
        lines += [*_details(scores), ""]
    return lines


def _details(scores: dict[str, Score]) -> list[str]:
    shares = (
        ("side right", "side_right", "fault_pairs"),
        ("severity right", "severity_right", "fault_pairs"),
        ("dose right", "dose_right", "drill_pairs"),
        ("equipment right", "equipment_right", "drill_pairs"),
    )
    rows = [
        f"| {name} | {' | '.join(f'{s.share(part, whole):.3f}' for s in scores.values())} |"
        for name, part, whole in shares
    ]
    sprung = " | ".join(f"{s.details['sprung']} of {s.details['traps']}" for s in scores.values())
    off_topic = " | ".join(str(s.details["off_topic"]) for s in scores.values())
    return [*rows, f"| traps sprung | {sprung} |", f"| off topic | {off_topic} |"]


def _speed() -> list[str]:
    """Words a second of the whole reading, once loaded."""
    vocabulary = load_vocabulary()
    told = [read_transcript(path) for path in sorted((TESTS / "gold").glob("*.vtt"))]
    read_notes(told[0], vocabulary)
    words = sum(len(cue.text.split()) for transcript in told for cue in transcript.cues)
    started = time.perf_counter()
    for transcript in told:
        read_notes(transcript, vocabulary)
    taken = time.perf_counter() - started
    return [
        f"Read at {words / taken:.0f} words a second once loaded, on the machine it was made on."
    ]


if __name__ == "__main__":
    main()
