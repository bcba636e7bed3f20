import pytest

from tests.judging.small import MEASURES, VOCABULARY, band, fault, figure, notes
from voicenotes.judging.checks import check
from voicenotes.notes import Figure
from voicenotes.review import Brief, Question, Verdict
from voicenotes.transcript import Doubt
from voicenotes.vocabulary.model import Band, Vocabulary

CLUB = Brief()


def verdicts(*figures: Figure, brief: Brief = CLUB) -> tuple[Verdict, ...]:
    return check(notes(figures=figures), VOCABULARY, brief)[0]


def questions(*figures: Figure, brief: Brief = CLUB, **entries: object) -> tuple[Question, ...]:
    return check(notes(figures=figures, **entries), VOCABULARY, brief)[1]


def with_bands(*bands: Band) -> Vocabulary:
    roll = MEASURES["shoulder_roll"].model_copy(update={"bands": bands})
    return VOCABULARY.model_copy(update={"measures": {**MEASURES, "shoulder_roll": roll}})


def test_a_figure_is_held_to_the_spoken_target_first_and_to_the_band_after_it() -> None:
    seen = verdicts(figure("shoulder_roll", (70, 75), (60, 60)))
    assert [(v.against, v.outcome, v.margin) for v in seen] == [
        ("spoken target", "over", 10),
        ("band", "over", 20),
    ]


def test_a_target_spoken_once_for_both_sides_holds_for_left_and_right() -> None:
    seen = verdicts(
        figure("elbow_angle", (150, 150), side="left"),
        figure("elbow_angle", (110, 110), side="right"),
        figure("elbow_angle", None, (90, 120), side="both"),
    )
    assert [(v.figure, v.outcome) for v in seen] == [(0, "over"), (1, "inside")]


def test_a_target_for_the_left_does_not_hold_for_the_right() -> None:
    seen = verdicts(
        figure("elbow_angle", (150, 150), side="right", quote="in the pull"),
        figure("elbow_angle", None, (140, 170), side="left"),
    )
    assert [v.against for v in seen] == ["band"]


def test_bands_are_chosen_by_stroke_and_level() -> None:
    rate = figure("stroke_rate", (80, 80))
    assert [v.outcome for v in verdicts(rate)] == ["over"]
    assert [v.outcome for v in verdicts(rate, brief=Brief(level="competitive"))] == ["under"]
    backstroke = Brief(level="competitive", stroke="backstroke")
    assert verdicts(rate, brief=backstroke) == ()


def test_the_phase_that_the_coach_names_chooses_the_band() -> None:
    in_pull = verdicts(figure("elbow_angle", (140, 140), quote="one forty in the mid pull"))
    at_catch = verdicts(figure("elbow_angle", (140, 140), quote="one forty at the catch"))
    assert [v.outcome for v in (*in_pull, *at_catch)] == ["over", "inside"]


def test_without_a_phase_there_is_no_verdict_where_the_bands_disagree() -> None:
    assert verdicts(figure("elbow_angle", (140, 140))) == ()
    assert [v.outcome for v in verdicts(figure("elbow_angle", (175, 175)))] == ["over"]


def test_a_published_band_goes_before_common_practice_and_that_before_memory() -> None:
    bands = [
        band(10, 20, "from memory"),
        band(30, 40, "common practice"),
        band(50, 60, "published", source="a study"),
    ]
    roll = notes(figures=[figure("shoulder_roll", (55, 55))])
    chosen = check(roll, with_bands(*bands), CLUB)[0][0].band
    assert chosen is not None
    assert chosen.low == 50
    chosen = check(roll, with_bands(*bands[:2]), CLUB)[0][0].band
    assert chosen is not None
    assert chosen.low == 30


def test_a_figure_is_off_only_where_it_is_off_for_every_condition() -> None:
    bands = with_bands(band(30, 40, condition="sprint"), band(50, 60, condition="easy"))
    seen = check(notes(figures=[figure("shoulder_roll", (55, 55))]), bands, CLUB)[0]
    assert [(v.outcome, v.band and v.band.condition) for v in seen] == [("inside", "easy")]


def test_good_said_of_a_figure_far_off_the_target_asks_for_another_listen() -> None:
    asked = questions(figure("elbow_angle", (155, 155), (90, 120), side="left", remark="good"))
    assert [q.about for q in asked] == ["remark"]
    assert asked[0].text == (
        "You said the left elbow angle of 155° is good, but it is 35° over the 90 to 120° you"
        " asked for. Listen again at 0:14."
    )


def test_good_said_of_a_figure_a_hair_off_asks_nothing() -> None:
    assert questions(figure("elbow_angle", (124, 124), (90, 120), remark="good")) == ()


def test_too_much_said_of_a_figure_inside_its_band_asks() -> None:
    asked = questions(figure("shoulder_roll", (40, 40), remark="too_much", start=75))
    assert asked[0].text == (
        "You said the shoulder roll of 40° is too much, but it is within the usual 35 to 50°"
        " (any pace; common practice). Listen again at 1:15."
    )


@pytest.mark.parametrize(
    ("remark", "value"), [("too_much", 70), ("too_little", 20), ("good", 45), (None, 80)]
)
def test_remarks_that_fit_the_figure_ask_nothing(remark: str | None, value: float) -> None:
    said = figure("shoulder_roll", (value, value)).model_copy(update={"remark": remark})
    assert questions(said) == ()


def test_a_figure_usual_at_another_level_is_not_called_odd() -> None:
    """A level is easily left as it stands; the coach knows the swimmer."""
    assert questions(figure("stroke_rate", (110, 110), remark="good")) == ()
    assert questions(figure("stroke_rate", None, (110, 115))) == ()


def test_bands_from_memory_do_not_argue_with_the_coach_s_too_much() -> None:
    roll = figure("shoulder_roll", (40, 40), remark="too_much")
    vocabulary = with_bands(band(35, 50, "from memory"))
    assert check(notes(figures=[roll]), vocabulary, CLUB)[1] == ()


def test_a_band_for_another_distance_does_not_hold() -> None:
    short = band(15, 25, over_m=25)
    count = MEASURES["stroke_count"].model_copy(update={"bands": (short,)})
    vocabulary = VOCABULARY.model_copy(update={"measures": {**MEASURES, "stroke_count": count}})
    over_50 = notes(figures=[figure("stroke_count", (40, 40), distance_m=50)])
    over_25 = notes(figures=[figure("stroke_count", (40, 40), distance_m=22.86)])
    assert check(over_50, vocabulary, CLUB)[0] == ()
    assert [v.outcome for v in check(over_25, vocabulary, CLUB)[0]] == ["over"]


def test_a_figure_that_others_bear_out_is_not_asked_about() -> None:
    """30 strokes a minute of 2 m each make the 1 m/s that was given."""
    rest = figure("distance_per_stroke", (2, 2)), figure("speed", (1, 1))
    assert [q.about for q in questions(figure("stroke_rate", (30, 30)))] == ["convention"]
    assert questions(figure("stroke_rate", (30, 30)), *rest) == ()


def test_too_much_of_a_pace_may_mean_slow_or_fast_and_asks_nothing() -> None:
    assert questions(figure("pace", (125, 125), (130, 140), remark="too_much")) == ()


def test_what_no_body_can_do_is_put_to_the_coach() -> None:
    asked = questions(figure("elbow_angle", (205, 205), remark="good"))
    assert [q.about for q in asked] == ["impossible"]
    assert "205°" in asked[0].text
    assert "15 to 195°" in asked[0].text


def test_an_impossible_target_is_put_to_the_coach() -> None:
    assert [q.about for q in questions(figure("stroke_rate", None, (600, 600)))] == ["impossible"]


def test_a_figure_that_is_ordinary_taken_the_other_way_asks_which_was_meant() -> None:
    asked = questions(figure("knee_bend", (150, 150)))
    assert [q.about for q in asked] == ["convention"]
    assert "150°" in asked[0].text
    assert "30°" in asked[0].text


def test_a_whole_roll_from_left_to_right_is_asked_about_rather_than_called_impossible() -> None:
    asked = questions(figure("shoulder_roll", (100, 100)))
    assert [q.about for q in asked] == ["convention"]
    assert "50°" in asked[0].text


def test_a_fault_that_explains_the_figure_leaves_no_doubt_of_its_convention() -> None:
    asked = questions(
        figure("knee_bend", (150, 150), remark=None), findings=[fault("knee_bends", 14)]
    )
    assert asked == ()


def test_half_a_stroke_rate_may_count_cycles() -> None:
    asked = questions(figure("stroke_rate", (30, 30)))
    assert [q.about for q in asked] == ["convention"]
    assert "60 a minute" in asked[0].text


def test_a_target_far_off_the_band_is_put_to_the_coach() -> None:
    asked = questions(figure("shoulder_roll", None, (70, 80)))
    assert [q.about for q in asked] == ["target_off_band"]
    assert "20° over the usual 35 to 50°" in asked[0].text


def test_a_target_that_meets_the_band_asks_nothing() -> None:
    assert questions(figure("shoulder_roll", None, (45, 55))) == ()


def test_a_figure_heard_unsurely_is_put_to_the_coach_with_its_words() -> None:
    asked = questions(
        figure("shoulder_roll", (45, 45), quote="about forty five", certainty=0.31),
        figure("shoulder_roll", (44, 44), certainty=0.93, start=50),
    )
    assert [(q.about, q.figures) for q in asked] == [("unsurely_heard", (0,))]
    assert "about forty five" in asked[0].text


def test_speech_that_could_not_be_read_is_named_with_its_moment() -> None:
    doubts = [
        Doubt(start=70, end=82, reason="unread_speech"),
        Doubt(start=90, end=95, reason="filler"),
    ]
    asked = check(notes(), VOCABULARY, CLUB, doubts)[1]
    assert [q.text for q in asked] == [
        "There is speech from 1:10 to 1:22 that could not be read. Listen to it."
    ]


def test_questions_stand_in_the_order_of_their_moments() -> None:
    asked = questions(
        figure("shoulder_roll", (40, 40), remark="too_much", start=75),
        figure("elbow_angle", (205, 205), start=12),
    )
    assert [q.mention.start for q in asked if q.mention] == [12, 75]


def test_a_measure_that_the_vocabulary_lacks_is_left_alone() -> None:
    strange = figure("pace", (100, 100)).model_copy(update={"measure": "house_measure"})
    assert check(notes(figures=[strange]), VOCABULARY, CLUB) == ((), ())
