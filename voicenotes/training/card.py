"""The card that goes with the weights: what they learned from, how they do, where they fail."""

from pathlib import Path

from voicenotes.training.corpus import Corpus
from voicenotes.training.evaluate import Report


def write_card(folder: Path, corpus: Corpus, left_out: int, report: Report) -> None:
    """Writes card.md beside the weights. ``report`` is of the narrations left out."""
    units = sum(len(talk.units) for talk in corpus.narrations)
    rows = [
        f"| {kind}s | {s.precision:.2f} | {s.recall:.2f} | {s.f1:.2f} |"
        for kind, s in report.scores.items()
    ]
    lines = [
        "# The learned reader",
        "",
        "Says of each sentence of a narration which faults, strengths and drills it names, and",
        "whether they are said of this swimmer as true now. All narrations are invented.",
        "",
        f"- Learned from: {len(corpus.narrations)} annotated narrations ({units} lines) and",
        f"  {len(corpus.bank)} single sentences.",
        "- Start: the first eight layers of all-mpnet-base-v2 (Apache 2.0), a sentence encoder;",
        "  taught by the annotation and by all twelve layers trained on the same narrations.",
        "- Kept in four bits a weight, run in eight by onnxruntime.",
        "",
        f"## On {left_out} narrations left out, by authors it did not learn from",
        "",
        "Trained on the rest, before packing for onnxruntime; sides are not counted here.",
        "",
        "| | precision | recall | F1 |",
        "| --- | --- | --- | --- |",
        *rows,
        "",
        f"Of {report.traps} things that must not be read, {report.sprung} were.",
        "",
        "## Limits",
        "",
        "- English only; front crawl mostly, the other strokes from few examples.",
        "- Left and right: trust the words, not this reader; it mixes them up in a third of cases.",
        "- Long explanations of a drill, corrections that do not name the fault, and neighbouring",
        "  faults (a wide entry, a wide pull) are where it errs most.",
        "- Certainties were calibrated on the narrations left out and hold for speech like theirs.",
        "",
    ]
    (folder / "card.md").write_text("\n".join(lines), encoding="utf-8")
