"""Reads every annotated narration of a folder and scores what was read."""

from pathlib import Path
from typing import cast, get_args

from voicenotes.errors import InputError
from voicenotes.evaluation.annotation import read_annotation
from voicenotes.evaluation.scoring import Score, Scorer, Wrong
from voicenotes.reading.pipeline import Readers, read_notes
from voicenotes.transcript.formats import read_transcript
from voicenotes.vocabulary.model import Vocabulary

TRANSCRIPTS = (".vtt", ".srt", ".txt", ".md")


def evaluate(folder: Path, vocabulary: Vocabulary, readers: Readers = "both") -> Score:
    """The score of all narrations in a folder that holds NAME.gold.json beside NAME.vtt.

    Raises InputError where there is none, or a transcript is missing.
    """
    annotated = sorted(folder.glob("*.gold.json"))
    if not annotated:
        raise InputError(
            "holds no NAME.gold.json", str(folder), "name a folder of annotated narrations"
        )
    scorer = Scorer()
    for path in annotated:
        stem = path.name.removesuffix(".gold.json")
        transcript = next(
            (p for suffix in TRANSCRIPTS if (p := folder / f"{stem}{suffix}").is_file()), None
        )
        if transcript is None:
            raise InputError("has no transcript beside it", str(path), f"add {stem}.vtt")
        notes = read_notes(read_transcript(transcript), vocabulary, readers)
        scorer.add(read_annotation(path), notes)
    return scorer.score


def readers_named(name: str) -> Readers:
    """The readers meant by a word of the command line. Raises InputError."""
    if name not in get_args(Readers):
        raise InputError(f"{name!r} is no reader", "--by", f"use {', '.join(get_args(Readers))}")
    return cast(Readers, name)


def lines(score: Score) -> list[str]:
    """The score as lines of a table."""
    rows = [f"{'':12}{'precision':>10}{'recall':>8}{'F1':>7}{'noted':>7}{'found':>7}"]
    for kind, tally in score.tallies.items():
        rows.append(
            f"{kind:12}{tally.precision:10.3f}{tally.recall:8.3f}{tally.f1:7.3f}"
            f"{tally.hit + tally.missed:7}{tally.hit + tally.false:7}"
        )
    for name, part, whole in (
        ("side right", "side_right", "fault_pairs"),
        ("severity right", "severity_right", "fault_pairs"),
        ("dose right", "dose_right", "drill_pairs"),
        ("equipment right", "equipment_right", "drill_pairs"),
    ):
        rows.append(f"{name:20}{score.share(part, whole):.3f}")
    rows.append(f"{'traps sprung':20}{score.details['sprung']} of {score.details['traps']}")
    rows.append(f"{'off topic':20}{score.details['off_topic']}")
    return rows


def wrong_line(wrong: Wrong) -> str:
    """One miss or false entry as a line: where, what, its words and who saw it."""
    minutes, seconds = divmod(int(wrong.moment), 60)
    seen = f" [{', '.join(wrong.seen_by)}]" if wrong.seen_by else ""
    words = f"  “{wrong.words}”" if wrong.words else ""
    return f"{wrong.narration} {minutes}:{seconds:02d} {wrong.what:6} {wrong.entry}{seen}{words}"
