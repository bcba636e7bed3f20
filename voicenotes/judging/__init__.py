"""Judging: what the notes mean, set against the vocabulary."""

from collections.abc import Callable, Sequence

from voicenotes.judging.cautions import cautions_for
from voicenotes.judging.checks import check
from voicenotes.judging.corrections import correct, strengths_in_order
from voicenotes.judging.plan import make_plan
from voicenotes.notes import Notes
from voicenotes.review import Brief, Correction, Judgement
from voicenotes.transcript import Doubt
from voicenotes.vocabulary.model import Vocabulary

Reworded = Callable[[Correction], Correction]


def judge(
    notes: Notes,
    vocabulary: Vocabulary,
    brief: Brief,
    doubts: Sequence[Doubt] = (),
    reworded: Reworded = lambda correction: correction,
) -> Judgement:
    """What the notes mean for this swimmer: verdicts, questions, corrections, plan, cautions.

    ``reworded`` puts the coach's own words and drills into a correction before the plan is made.
    """
    verdicts, questions = check(notes, vocabulary, brief, doubts)
    corrections = tuple(map(reworded, correct(notes, verdicts, vocabulary, brief)))
    plan = make_plan(notes, corrections, vocabulary, brief)
    return Judgement(
        verdicts=verdicts,
        questions=questions,
        strengths=strengths_in_order(notes),
        corrections=corrections,
        plan=plan,
        cautions=cautions_for(plan, vocabulary),
    )


__all__ = ["Reworded", "judge"]
