"""What became of earlier corrections, as swimmer and coach read it."""

import re

from tests.feedback.sample import sample_review, sample_transcript, sample_vocabulary
from tests.history.season import season
from tests.judging.small import VOCABULARY
from voicenotes.feedback import feedback_files
from voicenotes.history.verdicts import since_last


def pages() -> dict[str, str]:
    reviews = season()
    since = since_last(reviews[:3], reviews[3], VOCABULARY)
    review = sample_review().model_copy(update={"since": since})
    files = feedback_files(review, sample_transcript(), sample_vocabulary())
    return {name: files[name].decode() for name in ("feedback.md", "feedback.html")}


def test_the_feedback_tells_what_became_of_what_was_to_work_on() -> None:
    told = pages()["feedback.md"].split("## Since last time\n")[1].split("\n## ")[0]
    assert [line for line in told.splitlines() if line] == [
        "- **Elbow drops (left)**: gone; it was there on 1 February 2027. Elbow angle, left:"
        " 135–142° then, 105–115° now; the aim is 90–120°.",
        "- **Head lifts**: better than on 18 January 2027.",
        "- **Finish too short (right)**: not looked at this time.",
        "- **Finish too short (left)**: new this time.",
    ]


def test_it_stands_between_what_is_good_and_what_to_work_on() -> None:
    heads = re.findall("<h2[^>]*>([^<]+)", pages()["feedback.html"])
    assert heads[:3] == ["What is good", "Since last time", "Work on this now"]


def test_a_first_review_does_not_speak_of_earlier_ones() -> None:
    files = feedback_files(sample_review(), sample_transcript(), sample_vocabulary())
    assert b"Since last time" not in files["feedback.md"] + files["feedback.html"]
