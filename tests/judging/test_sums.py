import hypothesis.strategies as st
from hypothesis import given

from tests.judging.small import VOCABULARY, figure, notes
from voicenotes.judging.checks import check
from voicenotes.notes import Figure
from voicenotes.review import Brief, Question

CLUB = Brief()


def questions(*figures: Figure, brief: Brief = CLUB) -> tuple[Question, ...]:
    asked = check(notes(figures=figures), VOCABULARY, brief)[1]
    return tuple(q for q in asked if len(q.figures) > 1)


def test_rate_and_distance_that_do_not_make_the_speed_are_put_to_the_coach() -> None:
    asked = questions(
        figure("stroke_rate", (60, 60), start=10),
        figure("distance_per_stroke", (1.5, 1.5), start=70),
        figure("speed", (1.0, 1.0), start=130),
    )
    assert [(q.about, q.figures) for q in asked] == [("disagrees", (0, 1, 2))]
    assert asked[0].text == (
        "A stroke rate of 60 a minute and a distance per stroke of 1.5 m make 1.5 m/s, but you"
        " gave a speed of 1 m/s. Listen again at 0:10, 1:10 and 2:10."
    )


def test_figures_that_fit_when_one_counts_cycles_say_so() -> None:
    asked = questions(
        figure("stroke_rate", (60, 60)),
        figure("distance_per_stroke", (2.2, 2.2)),
        figure("pace", (91, 91)),
    )
    assert [q.about for q in asked] == ["convention"]
    assert "cycles" in asked[0].text


def test_a_cycle_of_crawl_has_two_strokes_and_one_of_breaststroke_one() -> None:
    figures = (
        figure("cycle_rate", (45, 45)),
        figure("distance_per_stroke", (1.6, 1.6)),
        figure("speed", (1.2, 1.2)),
    )
    assert questions(*figures, brief=Brief(stroke="breaststroke")) == ()
    assert questions(*figures) != ()


def test_speed_and_pace_of_different_swims_ask_only_where_none_agrees() -> None:
    speed, pace = figure("speed", (1.5, 1.5)), figure("pace", (100, 100))
    assert [q.about for q in questions(speed, pace)] == ["disagrees"]
    assert questions(speed, pace, figure("pace", (68, 68))) == ()


def test_a_count_that_cannot_fill_its_length_is_put_to_the_coach() -> None:
    per_stroke = figure("distance_per_stroke", (1.0, 1.0))
    assert questions(figure("stroke_count", (20, 20)), per_stroke) == ()
    asked = questions(figure("stroke_count", (34, 34), distance_m=25), per_stroke)
    assert [q.about for q in asked] == ["disagrees"]
    assert "34 m" in asked[0].text


def test_a_count_without_a_distance_may_be_of_two_lengths() -> None:
    assert questions(figure("stroke_count", (44, 44)), figure("distance_per_stroke", (1, 1))) == ()


def test_a_split_over_its_distance_is_held_against_the_pace_of_the_same_passage() -> None:
    split = figure("split", (500, 500), distance_m=400, start=20)
    assert questions(split, figure("pace", (125, 125), start=26)) == ()
    assert questions(split, figure("pace", (95, 95), start=200)) == ()
    asked = questions(split, figure("pace", (95, 95), start=26))
    assert [q.about for q in asked] == ["disagrees"]
    assert "2:05 per 100 m" in asked[0].text


def test_time_and_strokes_that_do_not_add_up_are_put_to_the_coach() -> None:
    parts = figure("split", (20, 20), distance_m=25), figure("stroke_count", (16, 16))
    assert questions(*parts, figure("swolf", (36, 36))) == ()
    assert [q.about for q in questions(*parts, figure("swolf", (46, 46)))] == ["disagrees"]


def test_an_impossible_figure_is_not_put_into_sums() -> None:
    assert (
        questions(
            figure("stroke_rate", (600, 600)),
            figure("distance_per_stroke", (1, 1)),
            figure("speed", (1, 1)),
        )
        == ()
    )


@given(
    rate=st.floats(30, 140),
    distance=st.floats(0.5, 1.6),
    strokes_off=st.floats(0.95, 1.05),
    pace_off=st.floats(0.97, 1.03),
)
def test_figures_made_by_the_formula_never_ask(
    rate: float, distance: float, strokes_off: float, pace_off: float
) -> None:
    speed = rate * distance / 60 * strokes_off
    pace = 100 / speed * pace_off
    if not (0.2 <= speed <= 2.6 and 36 <= pace <= 480):
        return
    assert (
        questions(
            figure("stroke_rate", (rate, rate)),
            figure("distance_per_stroke", (distance, distance)),
            figure("speed", (speed, speed)),
            figure("pace", (pace, pace)),
        )
        == ()
    )
