import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words

from tests.reading.spoken import narrated
from voicenotes.reading.moments import find_moments


def spoken(*sentences: str) -> list[float]:
    return [moment.clip_s for moment in find_moments(narrated(*sentences))]


SPOKEN = {
    "At 0:14 the elbow drops.": [14],
    "Around twelve seconds in, your head lifts.": [12],
    "And back at nine seconds you cross over.": [9],
    "At the fourteen second mark the hips sink.": [14],
    "At about the 14-second mark the hips sink.": [14],
    "At 1:05 your kick stops.": [65],
    "Go back to 0:08.": [8],
    "One minute ten in, look at the hand.": [70],
    "About a minute five into the clip the breath is late.": [65],
    "At a minute and five seconds the breath is late.": [65],
    "Pause it at twelve.": [12],
    "Watch the breath around eighteen seconds.": [18],
    "The elbow drops at fourteen seconds.": [14],
    "At second fourteen the hand slips.": [14],
    "At zero fourteen the hand slips.": [14],
    "Right at the start, three seconds in, the head is up.": [3],
    "The left elbow is dropped at 0:14, 0:22 and 0:31.": [14, 22, 31],
    "At 14 seconds, and again at 22 seconds, the elbow drops.": [14, 22],
    "Around the ten second mark and at fifteen the hips sink.": [10, 15],
    "From 0:08 to 0:12 the legs splay.": [8],
    "Between nine and twelve seconds the legs splay.": [9],
}

NOT_SPOKEN = [
    "Hang on a second.",
    "You turned at thirty-one seconds.",
    "She swam the fifty in 0:31.",
    "Hold the hundreds at 1:30.",
    "Leave every 0:50.",
    "Take twenty seconds rest at the wall.",
    "Do four fifties at fifty seconds.",
    "Now go back to twenty seconds rest.",
    "Your pause is at 0.6 seconds.",
    "The glide sits at four seconds.",
    "Hold your streamline for about five seconds.",
    "You're twelve seconds in front.",
    "At 58 strokes a minute you look busy.",
    "About twelve seconds later the head is up.",
    "Twelve seconds into the swim you tire.",
    "Aim to go to 62 strokes.",
    "At the catch your elbow is at 140 degrees.",
]


@pytest.mark.parametrize(("sentence", "seconds"), SPOKEN.items(), ids=list(SPOKEN))
def test_a_moment_of_the_clip_is_found(sentence: str, seconds: list[float]) -> None:
    assert spoken(sentence) == seconds


@pytest.mark.parametrize("sentence", NOT_SPOKEN)
def test_times_and_counts_of_swimming_are_no_moments(sentence: str) -> None:
    assert spoken(sentence) == []


WAYS = st.sampled_from(
    [
        "At {clock} the elbow drops.",
        "Look at the hand at {clock}.",
        "At {words} seconds the elbow drops.",
        "Now {words} seconds in, the hips sink.",
        "Go back to the {words} second mark.",
        "And back at {digits} seconds, a lovely catch.",
        "At the {digits} second mark, look at the kick.",
    ]
)


@settings(max_examples=60, deadline=None)
@given(WAYS, st.integers(3, 59))
def test_any_second_is_found_however_it_is_said(way: str, second: int) -> None:
    """Number words by num2words."""
    said = way.format(clock=f"0:{second:02d}", words=num2words(second), digits=second)
    assert spoken(said) == [second], said


def test_what_belongs_to_a_set_is_no_moment() -> None:
    narration = narrated("Go again at 0:50.")
    (moment,) = find_moments(narration)
    assert find_moments(narration, [(moment.first, moment.last)]) == ()


def test_a_moment_that_is_taken_back_does_not_count() -> None:
    assert spoken("At fourteen seconds, sorry, sixteen seconds, the elbow drops.")[-1:] == [16]
