"""Drawings of figures against their range: places by hand from the scale's own arithmetic."""

from dataclasses import replace

import pytest

from voicenotes.feedback.charts import LEFT, RIGHT, WIDTH, draw
from voicenotes.feedback.tell import tell
from voicenotes.feedback.view import Measured
from voicenotes.notes import Figure, Interval, Mention
from voicenotes.review import Review
from voicenotes.vocabulary.model import Vocabulary


@pytest.fixture
def elbow(review: Review, vocabulary: Vocabulary) -> Measured:
    """155 degrees, 90 to 120 wanted."""
    return tell(review, vocabulary).now[0].figures[0]


def test_what_was_seen_lies_as_far_from_the_range_as_the_figures(elbow: Measured) -> None:
    chart = draw([elbow])
    assert chart
    (bar,) = chart.bars
    assert bar.band
    low, high = bar.band
    assert LEFT < low < high < bar.start == bar.end < RIGHT
    assert (bar.start - high) / (high - low) == pytest.approx(35 / 30, abs=0.02)


@pytest.mark.parametrize(
    ("aim", "at"), [((None, 120), (LEFT, None)), ((90, None), (None, RIGHT))]
)  # fmt: skip
def test_an_open_range_reaches_the_edge(
    elbow: Measured, aim: Interval, at: tuple[float | None, float | None]
) -> None:
    chart = draw([replace(elbow, aim=aim)])
    assert chart
    assert chart.bars[0].band
    for place, wanted in zip(chart.bars[0].band, at, strict=True):
        assert wanted is None or place == wanted


def test_left_and_right_share_a_drawing_and_one_label_for_one_range(elbow: Measured) -> None:
    right = replace(elbow, side="right", observed=(110, 110), outcome="inside", spoken=False)
    chart = draw([elbow, right])
    assert chart
    left_bar, right_bar = chart.bars
    assert (left_bar.band_of, right_bar.band_of) == (None, elbow)
    assert left_bar.band == right_bar.band
    assert left_bar.top < right_bar.top < chart.height
    other = draw([elbow, replace(right, aim=(80, 100))])
    assert other
    assert [bar.band_of is not None for bar in other.bars] == [True, True]


def test_nothing_to_hold_it_against_gives_no_drawing(elbow: Measured) -> None:
    assert draw([replace(elbow, aim=None)]) is None
    assert draw([replace(elbow, observed=None)]) is None


@pytest.mark.parametrize("seen", [(0.0, 0.0), (-40.0, 5.0), (155.0, 1e6), (90.0, 120.0)])
def test_all_words_stay_inside(elbow: Measured, seen: Interval) -> None:
    chart = draw([replace(elbow, observed=seen)])
    assert chart
    for bar in chart.bars:
        assert 30 <= bar.label <= WIDTH - 30
        assert 62 <= bar.band_label <= WIDTH - 62
        assert LEFT <= bar.start <= bar.end <= RIGHT


def test_the_other_side_is_told_with_the_correction(review: Review, vocabulary: Vocabulary) -> None:
    said = Mention(start=26, end=28, quote="The right is about a hundred and ten.")
    right = Figure(measure="elbow_angle", side="right", observed=(110, 110), unit="deg",
                   mentions=(said,))  # fmt: skip
    both = review.model_copy(update={"figures": (*review.figures, right)})
    view = tell(both, vocabulary)
    assert [figure.side for figure in view.now[0].figures] == ["left", "right"]
    assert [bar.figure.side for bar in view.now[0].charts[0].bars] == ["left", "right"]
    assert "right" not in {figure.side for figure in view.other_figures}
