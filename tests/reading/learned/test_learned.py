"""Main claims of the learned reader, on sentences it was not trained on."""

import pytest

from voicenotes.reading.context import Context
from voicenotes.reading.learned.reader import LearnedReader
from voicenotes.reading.text import Narration
from voicenotes.transcript.model import Cue, Transcript


def narration(*sentences: str) -> Narration:
    cues = tuple(Cue(start=5.0 * i, end=5.0 * i + 4, text=text) for i, text in enumerate(sentences))
    return Narration(Transcript(name="clip", cues=cues, duration=5.0 * len(cues)))


def true_codes(told: Narration) -> set[tuple[str, str]]:
    sightings = LearnedReader().read(told, Context(told))
    return {(s.kind, s.code) for s in sightings if s.status == "true"}


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("Her right hand lands over on the far side of her nose every single stroke.",
         "entry_crosses_midline"),
        ("Your knees are folding up like you're pedalling a bicycle down there.", "knee_bends"),
        ("He isn't letting any air out at all while his face is in the water.", "breath_held"),
    ],
)  # fmt: skip
def test_reads_a_fault_said_of_this_swimmer(text: str, code: str) -> None:
    assert ("fault", code) in true_codes(narration("Let's have a look at the side view.", text))


@pytest.mark.parametrize(
    "text",
    [
        "You are not crossing over in front, not on either arm.",
        "A lot of people bend their knees too much when they kick.",
        "Can you send the invoice to the club by Friday, please?",
    ],
)
def test_keeps_out_what_is_not_said_of_this_swimmer(text: str) -> None:
    assert not {code for kind, code in true_codes(narration(text)) if kind == "fault"}


def test_same_words_give_the_same_reading() -> None:
    told = narration("The elbow drops on the left.", "The kick is lovely, though.")
    assert LearnedReader().readings(told) == LearnedReader().readings(told)


def test_a_sighting_points_at_words_of_its_sentence() -> None:
    told = narration("Right, side view.", "His elbow is dropping badly under the water.")
    for sighting in LearnedReader().read(told, Context(told)):
        span = told.sentences[sighting.sentence].span
        assert span.start <= sighting.first < sighting.last <= span.end


def test_nothing_said_nothing_read() -> None:
    assert LearnedReader().readings(narration()) == ()
