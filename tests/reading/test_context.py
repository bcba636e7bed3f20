"""Of whom, of when and how seriously a clause speaks; sentences of the project's own."""

import pytest

from voicenotes.reading.context import Context
from voicenotes.reading.text import Narration
from voicenotes.transcript import Cue, Transcript


def settings(*sentences: str) -> list[str]:
    """The status of each sentence's last clause, said to a swimmer addressed as "you"."""
    said = ("Right, this is your clip and you asked me to look at your stroke.", *sentences)
    cues = tuple(Cue(start=5 * i, end=5 * i + 4, text=text) for i, text in enumerate(said))
    narration = Narration(Transcript(name="x", cues=cues, duration=5 * len(cues)))
    context = Context(narration)
    return [
        context.status(context.clauses(s.index)[-1].first, context.clauses(s.index)[-1].last)
        for s in narration.sentences[1:]
    ]


@pytest.mark.parametrize(
    ("sentence", "status"),
    [
        ("Your left elbow drops at the catch.", "true"),
        ("That isn't a scissor kick.", "denied"),
        ("A lot of people cross over in front.", "general"),
        ("I had a bloke last week whose hands crossed over.", "other"),
        ("Your brother kicks far too big.", "other"),
        ("If you roll any further you'll end up on your back.", "supposed"),
        ("Is the head coming up at all?", "supposed"),
        ("Back in March your hips were sinking.", "past"),
        ("Keep that head just where it is.", "keep"),
    ],
)
def test_a_sentence_counts_for_what_it_is(sentence: str, status: str) -> None:
    assert settings(sentence) == [status]


def test_what_is_taken_back_does_not_count() -> None:
    assert settings("Your right hand is wide.", "No, scratch that, it's fine.")[0] == "taken_back"


def test_a_passage_about_somebody_else_goes_on_by_pronouns() -> None:
    said = settings("There's a lad I coach on Fridays.", "His hands cross over.", "You don't.")
    assert said[:2] == ["other", "other"]
