import hypothesis.strategies as st
import pytest
from hypothesis import given

from tests.judging.small import MEASURES, at, figure
from voicenotes.notes import Interval
from voicenotes.words import ends, listen, listing, moment, named, number, quantity, swim_time


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [(0, "0:00"), (14.9, "0:14"), (65, "1:05"), (3599.99, "59:59"), (3725, "1:02:05")],
)
def test_moments(seconds: float, shown: str) -> None:
    assert moment(seconds) == shown


@pytest.mark.parametrize(
    ("value", "shown"),
    [(155.0, "155"), (0.6, "0.6"), (35.000000001, "35"), (1.254, "1.25"), (100, "100"),
     (0, "0"), (-0.001, "0")],
)  # fmt: skip
def test_numbers_lose_needless_decimals(value: float, shown: str) -> None:
    assert number(value) == shown


@pytest.mark.parametrize(
    ("seconds", "shown"),
    [(100, "1:40"), (58.5, "0:58.5"), (59.96, "1:00"), (125.25, "2:05.2"), (60, "1:00")],
)
def test_swim_times(seconds: float, shown: str) -> None:
    assert swim_time(seconds) == shown


@given(st.floats(0, 36_000))
def test_a_swim_time_is_within_a_twentieth_of_a_second(seconds: float) -> None:
    minutes, left = swim_time(seconds).split(":")
    assert 0 <= float(left) < 60
    assert int(minutes) * 60 + float(left) == pytest.approx(seconds, abs=0.0501)


def test_a_pace_is_minutes_and_seconds_and_a_pause_is_seconds() -> None:
    assert ends((90, 94), "s/100m") == ("1:30", "1:34", True)
    assert ends((0.3, None), "s") == ("0.3", None, False)
    assert ends((58.2, 61), "s") == ("0:58.2", "1:01", True)
    assert ends((None, 5), "deg") == (None, "5", False)


@pytest.mark.parametrize(
    ("interval", "unit", "said"),
    [
        ((155, 155), "deg", "155°"),
        ((90, 120), "deg", "90 to 120°"),
        ((None, 0.2), "s", "0.2 s at most"),
        ((60, None), "/min", "60 a minute at least"),
        ((90, 94.5), "s/100m", "1:30 to 1:34.5 per 100 m"),
        ((58, 58), "s/100m", "0:58 per 100 m"),
        ((18, 18), "count", "18"),
    ],
)
def test_intervals_are_put_as_a_coach_says_them(interval: Interval, unit: str, said: str) -> None:
    assert quantity(interval, unit) == said


def test_what_to_listen_to_again_names_each_moment_once() -> None:
    assert listen([at(14), at(14), at(50)]) == "Listen again at 0:14 and 0:50."


def test_lists() -> None:
    assert [listing(x) for x in ([], ["a"], ["a", "b"], ["a", "b", "c"])] == [
        "",
        "a",
        "a and b",
        "a, b and c",
    ]


def test_sides_stand_where_they_read_well() -> None:
    elbow, pause = figure("elbow_angle", side="left"), figure("pause", side="both")
    assert named(elbow, MEASURES["elbow_angle"]) == "left elbow angle"
    assert named(pause, MEASURES["pause"]) == "pause of the front hand (left and right)"
