"""Judging's sums against worked figures in print, and its limits against published tables.

Each check names where its figures stand. Figures from general web pages are marked as such.
"""

import pytest

from voicenotes.judging.checks import check
from voicenotes.judging.doses import whole_lengths
from voicenotes.judging.sums import (
    distance_from_count,
    pace_from_speed,
    pace_from_split,
    speed_from_pace,
    speed_from_strokes,
    swolf,
)
from voicenotes.notes import Figure, Mention, Notes
from voicenotes.review import Brief, Question
from voicenotes.vocabulary.load import load_vocabulary
from voicenotes.vocabulary.model import Vocabulary


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    return load_vocabulary()


def figure(measure: str, value: float, unit: str) -> Figure:
    return Figure(
        measure=measure,
        observed=(value, value),
        unit=unit,
        mentions=(Mention(start=1, end=3, quote="said"),),
    )


def asked(vocabulary: Vocabulary, *figures: Figure, stroke: str = "freestyle") -> list[Question]:
    brief = Brief.model_validate({"stroke": stroke})
    return list(check(Notes(figures=figures), vocabulary, brief)[1])


@pytest.mark.parametrize(
    ("cycles_a_second", "metres_a_cycle", "printed"),
    [(0.84, 1.90, 1.59), (0.79, 1.61, 1.27)],
)
def test_speed_is_rate_times_distance_per_stroke(
    cycles_a_second: float, metres_a_cycle: float, printed: float
) -> None:
    """Figures of girls aged 13 to 14, crawl and breaststroke, as quoted at
    nancytoby.blogspot.com (2005/08, the study is not named); the relation is that of Craig and
    Pendergast 1979, Med Sci Sports 11:278-83."""
    speed = speed_from_strokes(60 * cycles_a_second, metres_a_cycle)
    assert speed == pytest.approx(printed, abs=0.01)


def test_means_over_different_stretches_of_a_race_raise_no_question(
    vocabulary: Vocabulary,
) -> None:
    """Fast men over 100 m crawl: 0.78 cycles a second, 2.16 m a cycle, 1.89 m/s (Seifert, Chollet,
    Chatard 2007, Med Sci Sports Exerc 39:1784-93). The product is 1.69 m/s; the printed means are
    taken over different zones of the race."""
    figures = (
        figure("stroke_rate", 2 * 60 * 0.78, "/min"),
        figure("distance_per_stroke", 2.16 / 2, "m"),
        figure("speed", 1.89, "m/s"),
    )
    assert [q for q in asked(vocabulary, *figures) if len(q.figures) > 1] == []


def test_a_worked_example_that_is_wrong_in_print_is_put_to_the_coach(
    vocabulary: Vocabulary,
) -> None:
    """ "2 m a cycle, 50 cycles a minute, 2 m/s" (a coach's note at sporttoday.org): 50 x 2 / 60 is
    1.67 m/s."""
    figures = (
        figure("cycle_rate", 50, "/min"),
        figure("distance_per_stroke", 1, "m"),
        figure("speed", 2, "m/s"),
    )
    assert [q.about for q in asked(vocabulary, *figures) if len(q.figures) > 1] == ["disagrees"]


def test_pace_and_speed_of_a_400() -> None:
    """400 m in 8:20 is 2:05 per 100 m and 0.8 m/s (premiumcalculators.online, general page)."""
    pace = pace_from_split(8 * 60 + 20, 400)
    assert pace == 125
    assert speed_from_pace(pace) == pytest.approx(0.8)


@pytest.mark.parametrize(("speed", "pace"), [(1.062, 94.2), (1.262, 79.2)])
def test_critical_speed_as_pace(speed: float, pace: float) -> None:
    """Range of nine trained college men (Wakayoshi et al. 1992, Eur J Appl Physiol 64:153-7) in
    seconds per 100 m."""
    assert pace_from_speed(speed) == pytest.approx(pace, abs=0.05)


def test_target_time_from_critical_speed() -> None:
    """1.3 m/s makes 400 m in 5:07.7 (Ginn 1993, as worked at topendsports.com)."""
    assert 4 * pace_from_speed(1.3) == pytest.approx(5 * 60 + 7.7, abs=0.05)


@pytest.mark.parametrize(
    ("seconds", "strokes", "printed"), [(35, 18, 53), (20, 15, 35), (25, 20, 45)]
)
def test_time_plus_strokes(seconds: float, strokes: float, printed: float) -> None:
    """Worked sums on three general pages: calculator-cloud.com, fitro.info,
    blog.marathonswimmers.org."""
    assert swolf(seconds, strokes) == printed


def test_one_length_worked_through() -> None:
    """No publication: 25 m in 20 s with 16 strokes, worked by hand. 1.5625 m a stroke at 48 strokes
    a minute is 1.25 m/s, and so is 25 m in 20 s."""
    metres = distance_from_count(25, 16)
    assert metres == 1.5625
    assert speed_from_strokes(16 / 20 * 60, metres) == pytest.approx(25 / 20)


def test_yards_and_metres() -> None:
    """A yard is 0.9144 m exactly, by definition."""
    pool = 25 * 0.9144
    assert whole_lengths(100 * 0.9144, pool)
    assert not whole_lengths(100, pool)


FLEXION = [
    # Washington State DSHS form 13-585A, Range of Joint Motion Evaluation Chart (rev. 03/2014)
    ("elbow_angle", 180 - 150),
    ("knee_bend", 150),
    ("ankle_point", 40),
    # US veterans' rating plates, 38 CFR 4.71, as reprinted on one sheet
    ("elbow_angle", 180 - 145),
    ("knee_bend", 140),
    ("ankle_point", 45),
    # Merck Manual, Normal Values for Range of Motion of Joints
    ("elbow_angle", 180 - 160),
    ("knee_bend", 130),
    ("ankle_point", 50),
    # Soucie et al. 2011, Haemophilia 17:500-7, girls aged 2 to 8
    ("knee_bend", 152.6),
    # The same study, from memory: over-straight elbow and plantar flexion
    ("elbow_angle", 180 + 6.8),
    ("ankle_point", 67.1),
    # Young swimmers, University of Thessaly 2014, Inquiries in Sport and Physical Education
    ("ankle_point", 171 - 90),
]


@pytest.mark.parametrize(("measure", "degrees"), FLEXION)
def test_what_joints_do_in_published_tables_is_possible(
    measure: str, degrees: float, vocabulary: Vocabulary
) -> None:
    questions = asked(vocabulary, figure(measure, degrees, "deg"))
    assert "impossible" not in {q.about for q in questions}
    low, high = vocabulary.measures[measure].possible
    assert low <= degrees <= high


@pytest.mark.parametrize(
    ("measure", "degrees"), [("elbow_angle", 5), ("elbow_angle", 205), ("knee_bend", 172)]
)
def test_what_lies_far_beyond_every_table_is_put_to_the_coach(
    measure: str, degrees: float, vocabulary: Vocabulary
) -> None:
    """The tables above end at 160 for elbow and 152.6 for knee flexion and 6.8 beyond a straight
    elbow: these are 15 degrees or more beyond."""
    questions = asked(vocabulary, figure(measure, degrees, "deg"))
    assert {q.about for q in questions} & {"impossible", "convention"}


def test_a_foot_to_shin_angle_is_asked_about_as_such(vocabulary: Vocabulary) -> None:
    """171 degrees between foot and shin (University of Thessaly 2014) is 81 of plantar flexion."""
    questions = asked(vocabulary, figure("ankle_point", 171, "deg"))
    assert [q.about for q in questions] == ["convention"]
    assert "81°" in questions[0].text


def test_the_fastest_swim_there_is_is_possible(vocabulary: Vocabulary) -> None:
    """50 m in 20.91 s, the base time of World Aquatics' points for the men's 50 m freestyle."""
    pace = pace_from_split(20.91, 50)
    figures = figure("pace", pace, "s/100m"), figure("speed", speed_from_pace(pace), "m/s")
    assert "impossible" not in {q.about for q in asked(vocabulary, *figures)}
