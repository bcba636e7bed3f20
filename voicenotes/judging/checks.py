"""Figures against bands, against what is possible, and against each other."""

from collections.abc import Sequence

from voicenotes.judging.cases import cases, verdicts_of
from voicenotes.judging.questions import question_about
from voicenotes.judging.sums import borne_out, questions_between
from voicenotes.notes import Mention, Notes
from voicenotes.review import Brief, Question, Verdict
from voicenotes.transcript import Doubt
from voicenotes.vocabulary.model import Vocabulary
from voicenotes.words import moment

DOUBTED = {"impossible", "convention"}
"""Questions whose figure is no good for sums with others until they are answered."""


UNREAD = {
    "unread_speech": "that could not be read",
    "other_language": "that is not in English",
}
"""Doubts about speech from which nothing was read, in words."""


def check(
    notes: Notes, vocabulary: Vocabulary, brief: Brief, doubts: Sequence[Doubt] = ()
) -> tuple[tuple[Verdict, ...], tuple[Question, ...]]:
    """Verdicts on the figures in the order they were said, and what to listen to again.

    A figure without a band that fits and without a spoken target gets no verdict. Questions
    stand in the order of their moments.
    """
    ready = cases(notes.figures, vocabulary, brief)
    verdicts = tuple(verdict for case in ready for verdict in verdicts_of(case))
    sure = borne_out(notes.figures, brief)
    asked = [q for case in ready if (q := question_about(case, notes, vocabulary, sure))]
    doubted = frozenset(i for q in asked if q.about in DOUBTED for i in q.figures)
    asked += questions_between(notes.figures, brief, doubted)
    asked += [_unread(doubt) for doubt in doubts if doubt.reason in UNREAD]
    return verdicts, tuple(sorted(asked, key=_when))


def _when(question: Question) -> float:
    return question.mention.start if question.mention else 0.0


def _unread(doubt: Doubt) -> Question:
    start, end = moment(doubt.start), moment(doubt.end)
    return Question(
        about="unread_speech",
        text=f"There is speech from {start} to {end} {UNREAD[doubt.reason]}. Listen to it.",
        mention=Mention(start=doubt.start, end=doubt.end, quote=doubt.text),
    )
