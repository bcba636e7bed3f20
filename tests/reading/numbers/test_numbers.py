"""Spoken numbers, against num2words and text_to_num, and in the phrasings of speech."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words
from text_to_num import text2num

from voicenotes.notes import Interval
from voicenotes.reading.numbers.find import find_ordinals, find_quantities
from voicenotes.reading.numbers.quantities import Quantity
from voicenotes.reading.text import language_model

Said = tuple[float | None, float | None]

whole = st.integers(min_value=2, max_value=199)
minutes = st.integers(min_value=1, max_value=9)
seconds = st.integers(min_value=10, max_value=59)
tenths = st.integers(min_value=1, max_value=9)
few = settings(max_examples=60, deadline=None)


def quantities(text: str) -> list[Quantity]:
    """The quantities of a text that the speaker let stand."""
    return [q for q in find_quantities(language_model()(text)) if not q.taken_back]


def intervals(text: str) -> list[Interval]:
    return [q.interval for q in quantities(text)]


def clocks(text: str) -> list[Interval | None]:
    return [q.clock for q in quantities(text)]


def words(number: float) -> str:
    return str(num2words(number)).replace(",", "")


@few
@given(number=whole, hyphens=st.booleans())
def test_cardinals_in_words(number: int, hyphens: bool) -> None:
    said = words(number)
    said = said if hyphens else said.replace("-", " ")
    assert intervals(f"I make it about {said} on this one.") == [(number, number)]
    assert text2num(said, "en") == number


@few
@given(number=whole)
def test_digits_read_as_the_words_do(number: int) -> None:
    assert intervals(f"It was {number} there.") == intervals(f"It was {words(number)} there.")


@few
@given(number=whole, tenth=tenths)
def test_decimals_in_words(number: int, tenth: int) -> None:
    value = float(f"{number}.{tenth}")
    assert intervals(f"That is {words(value)} by the watch.") == [(value, value)]


@few
@given(hundreds=st.just(1), rest=st.integers(min_value=10, max_value=99))
def test_hundreds_left_out_in_speech(hundreds: int, rest: int) -> None:
    said = f"{words(hundreds)} {words(rest)}"
    value = 100 * hundreds + rest
    assert intervals(f"I have it at {said} here.") == [(value, value)]


@few
@given(minute=minutes, second=seconds)
def test_minutes_and_seconds(minute: int, second: int) -> None:
    time = 60 * minute + second
    for said in (
        f"{words(minute)} {words(second)}",
        f"{minute}:{second:02}",
        f"{words(minute)} minute{'s' if minute > 1 else ''} {words(second)}",
        f"{words(minute)} minute{'s' if minute > 1 else ''} and {words(second)} seconds",
        f"{minute}{second:02}",
    ):
        assert clocks(f"He swam it in {said}.") == [(time, time)], said


@few
@given(low=whole, width=st.integers(min_value=1, max_value=30))
def test_intervals_in_many_phrasings(low: int, width: int) -> None:
    high = low + width
    for said in (
        f"{words(low)} to {words(high)}",
        f"{low} to {high}",
        f"{low}-{high}",
        f"between {words(low)} and {words(high)}",
        f"from {words(low)} to {words(high)}",
        f"{words(low)}, maybe {words(high)}",
        f"{words(low)} or {words(high)}",
        f"{low} until {high}",
    ):
        assert intervals(f"It is somewhere {said} here.") == [(low, high)], said


@few
@given(number=whole)
def test_limits(number: int) -> None:
    said = words(number)
    for phrase in (
        f"{said} at most",
        f"no more than {said}",
        f"not past {said}",
        f"{said} or less",
        f"under {said}",
        f"{said} tops",
        f"don't go above {said}",
    ):
        assert intervals(f"Please, {phrase}.") == [(None, number)], phrase
    for phrase in (f"at least {said}", f"{said} or more", f"over {said}", f"don't go below {said}"):
        assert intervals(f"Please, {phrase}.") == [(number, None)], phrase


@few
@given(number=whole, hedge=st.sampled_from(["about", "close to", "pretty much", "a hair under"]))
def test_hedges_do_not_widen(number: int, hedge: str) -> None:
    assert intervals(f"I make that {hedge} {words(number)}.") == [(number, number)]


@few
@given(
    wrong=whole,
    right=whole,
    marker=st.sampled_from(["no", "sorry", "scratch that", "no, wait", "I mean", "no, hang on"]),
)
def test_what_the_speaker_corrects_does_not_stand(wrong: int, right: int, marker: str) -> None:
    text = f"That was {words(wrong)}, {marker}, {words(right)}."
    assert intervals(text) == [(right, right)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("half a second", [(0.5, 0.5)]),
        ("a quarter second", [(0.25, 0.25)]),
        ("three quarters of a second", [(0.75, 0.75)]),
        ("six tenths of a second", [(0.6, 0.6)]),
        ("two or three tenths of a second", [(0.2, 0.3)]),
        ("two and a half metres", [(2.5, 2.5)]),
        ("a second and a half", [(1.5, 1.5)]),
        ("a metre twenty", [(1.2, 1.2)]),
        ("it gets down to point two", [(0.2, 0.2)]),
        ("nought point nine", [(0.9, 0.9)]),
        ("a hundred and fifty-five", [(155, 155)]),
        ("one-ten to one-fifteen, no, one-twenty", [(110, 120)]),
        ("ninety to one-twenty", [(90, 120)]),
        ("fifty to fifty-five, sixty at most", [(50, 60)]),
        ("at least ninety and no more than 110", [(90, 110)]),
        ("thirty-seven two at the turn", [(37.2, 37.2)]),
        ("17 18 19 20 so you're at 20", [(20, 20)]),
        ("138, 141, 149", [(138, 138), (141, 141), (149, 149)]),
    ],
)
def test_phrasings_of_speech(text: str, expected: list[Said]) -> None:
    assert intervals(text) == expected


@pytest.mark.parametrize(
    "text",
    ["the other one", "this one drifts", "at this point you stop", "on the twenty-third", "first"],
)
def test_words_that_are_no_numbers(text: str) -> None:
    assert intervals(text) == []


def test_or_better_is_less_for_times_and_more_for_others() -> None:
    (quantity,) = quantities("Come in at 1:57 or better.")
    assert quantity.clock == (None, 117)
    assert quantity.limit == "no_slower"


def test_a_flat_minute_count_keeps_both_readings() -> None:
    (quantity,) = quantities("I want thirteen flat.")
    assert (quantity.interval, quantity.clock) == ((13, 13), (780, 780))


def test_a_change_keeps_its_ends_apart() -> None:
    first, last = quantities("It came down from 26 to 21.")
    assert (first.low, first.change, last.low, last.change) == (26, "from", 21, "to")


def test_ordinals_count_only_after_every() -> None:
    doc = language_model()("You breathe every third stroke, and that was the second length.")
    assert [q.low for q in find_ordinals(doc)] == [3]


@few
@given(number=whole, owner=st.sampled_from(["my", "the", "your", "a"]))
def test_limits_named_after_a_number(number: int, owner: str) -> None:
    assert intervals(f"{number} is {owner} minimum there.") == [(number, None)]
    assert intervals(f"{number} is {owner} ceiling there.") == [(None, number)]


def test_a_second_thought_about_the_next_value_leaves_the_one_before() -> None:
    said = "The first you split 37.3 and the second one, hang on, 41.6, no, 41.1."
    assert intervals(said) == [(37.3, 37.3), (41.1, 41.1)]
