"""How bad a fault is said to be."""

import pytest

from tests.reading.spoken import narrated
from voicenotes.notes import Severity
from voicenotes.reading.faults.grading import settle_severity, severity_of


@pytest.mark.parametrize(
    ("sentence", "severity"),
    [
        ("The left hand lands a touch wide.", "slight"),
        ("The elbow drops a little.", "slight"),
        ("It's a small thing, but the head is a bit high.", "slight"),
        ("The elbow really drops.", "marked"),
        ("The hand is way outside the shoulder.", "marked"),
        ("The knees bend far too much.", "marked"),
        ("The roll is a lot too big.", "marked"),
        ("The elbow drops as the hand goes by.", "moderate"),
        ("The hand goes wide on the way back.", "moderate"),
        ("So the hips sink, and so do the legs.", "moderate"),
        ("The sway is not massive.", "slight"),
        ("It isn't a little late, either.", "marked"),
    ],
)
def test_the_grading_word_decides(sentence: str, severity: Severity) -> None:
    doc = narrated(sentence).doc
    assert severity_of(doc, 0, len(doc)) == severity


def test_only_the_words_asked_for_are_graded() -> None:
    doc = narrated("The head lifts a touch, and the hips sink really low.").doc
    comma = next(token.i for token in doc if token.text == ",")
    assert severity_of(doc, 0, comma) == "slight"
    assert severity_of(doc, comma, len(doc)) == "marked"


def test_a_grading_said_once_holds_for_the_finding() -> None:
    assert settle_severity(["moderate", "slight", "moderate"]) == "slight"


def test_of_equals_the_worse_counts() -> None:
    assert settle_severity(["slight", "marked"]) == "marked"
