import hypothesis.strategies as st
import pytest
from hypothesis import given

from tests.judging.small import MEASURES, at, figure
from voicenotes.judging.words import clock, listen, listing, moment, named, quantity
from voicenotes.notes import Interval


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


def test_moments() -> None:
    assert [moment(s) for s in (14.9, 75, 3725)] == ["0:14", "1:15", "1:02:05"]
    assert listen([at(14), at(14), at(50)]) == "Listen again at 0:14 and 0:50."


@given(st.integers(0, 72_000))
def test_a_swim_time_reads_back_as_its_tenths(tenths: int) -> None:
    minutes, seconds = clock(tenths / 10).split(":")
    assert float(seconds) < 60
    assert int(minutes) * 60 + float(seconds) == pytest.approx(tenths / 10)


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
