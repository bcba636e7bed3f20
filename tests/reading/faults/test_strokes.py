import pytest

from voicenotes.reading.faults.strokes import stroke_spoken_of


@pytest.mark.parametrize(
    ("text", "stroke"),
    [
        ("So this is your second clip, filmed from the deck.", "freestyle"),
        ("Right, here's your backstroke from Tuesday.", "backstroke"),
        ("Let's look at the butterfly, and then a word on your crawl.", "butterfly"),
        ("The breast stroke first.", "breaststroke"),
        ("You move like somebody swatting a fly.", "freestyle"),
    ],
)
def test_the_stroke_named_first_is_the_stroke_of_the_clip(text: str, stroke: str) -> None:
    assert stroke_spoken_of(text) == stroke


def test_a_stroke_named_late_is_an_aside() -> None:
    talk = "The left elbow drops in the catch. " * 20
    assert stroke_spoken_of(talk + "I saw your butterfly as well.") == "freestyle"
