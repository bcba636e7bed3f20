"""Figures read from invented sentences: measure, value, role, side, and what does not count."""

from functools import lru_cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words

from voicenotes.notes import Figure, Interval, SetAside
from voicenotes.reading.figures.read import read_figures
from voicenotes.reading.learned.reader import LearnedReader
from voicenotes.reading.text import Narration
from voicenotes.transcript import Cue, Transcript
from voicenotes.vocabulary.load import load_vocabulary

vocabulary = lru_cache(maxsize=1)(load_vocabulary)
few = settings(max_examples=25, deadline=None)


def reading(*lines: str) -> tuple[tuple[Figure, ...], tuple[SetAside, ...]]:
    cues = tuple(Cue(start=6 * i, end=6 * i + 5, text=line) for i, line in enumerate(lines))
    told = Narration(Transcript(name="t", cues=cues, duration=6.0 * len(lines)))
    return read_figures(told, vocabulary(), (), LearnedReader().readings(told))


def figures(*lines: str) -> tuple[Figure, ...]:
    return reading(*lines)[0]


def only(*lines: str) -> Figure:
    found = figures(*lines)
    assert len(found) == 1, [(f.measure, f.observed, f.target) for f in found]
    return found[0]


def values(*lines: str) -> list[tuple[str, Interval | None, Interval | None]]:
    return [(f.measure, f.observed, f.target) for f in figures(*lines)]


@pytest.mark.parametrize(
    ("text", "measure", "value"),
    [
        ("Your left elbow is at 142 degrees halfway through.", "elbow_angle", 142),
        ("The shoulders roll about thirty-eight degrees there.", "shoulder_roll", 38),
        ("Hip rotation is twenty-two degrees.", "hip_roll", 22),
        ("The knees bend to eighty degrees on the kick.", "knee_bend", 80),
        ("You get twenty-five degrees of point from the ankle.", "ankle_point", 25),
        ("The head turns a hundred and ten degrees to breathe.", "head_turn", 110),
        ("Your trunk is tilted fourteen degrees to the surface.", "trunk_tilt", 14),
        ("The forearm is sixty degrees from the horizontal.", "arm_tilt", 60),
        ("The hand is fifty centimetres deep by then.", "hand_depth", 50),
        ("That hand lands 12 centimetres outside the shoulder.", "hand_offset", 12),
        ("The front hand pauses for 0.6 of a second.", "pause", 0.6),
        ("You hold the glide for one and a half seconds.", "glide", 1.5),
        ("Stroke rate is fifty-six.", "stroke_rate", 56),
        ("You turn over at sixty-one strokes a minute.", "stroke_rate", 61),
        ("I count twenty-nine cycles a minute.", "cycle_rate", 29),
        ("You took twenty-two strokes for that length.", "stroke_count", 22),
        ("That works out at 1.05 metres per stroke.", "distance_per_stroke", 1.05),
        ("You are holding one forty pace.", "pace", 100),
        ("The fifty took you 41.5 seconds.", "split", 41.5),
        ("Speed is 1.2 metres a second.", "speed", 1.2),
        ("It's a clean six-beat kick.", "kick_beats", 6),
        ("You breathe every three strokes.", "breath_interval", 3),
        ("You breathe every third stroke.", "breath_interval", 3),
        ("Off the wall you come up at five metres.", "underwater", 5),
        ("The swolf was forty-four.", "swolf", 44),
        ("Heart rate was 152 at the end.", "heart_rate", 152),
        ("You called that effort seven out of ten.", "effort", 7),
    ],
)
def test_every_measure_in_its_own_unit(text: str, measure: str, value: float) -> None:
    figure = only(text)
    assert (figure.measure, figure.observed) == (measure, (value, value))
    assert figure.unit == vocabulary().measures[measure].unit
    assert figure.target is None


@few
@given(
    seen=st.integers(min_value=125, max_value=170),
    wanted=st.integers(min_value=90, max_value=115),
    wish=st.sampled_from(["I'd like", "we want", "I'd rather see", "aim for", "it should be"]),
)
def test_observation_and_target_of_one_elbow(seen: int, wanted: int, wish: str) -> None:
    first, second = num2words(seen), num2words(wanted)
    figure = only(f"The left elbow is at {first} degrees, and {wish} {second}.")
    assert figure.observed == (seen, seen)
    assert figure.target == (wanted, wanted)
    assert figure.side == "left"


@pytest.mark.parametrize(
    "target",
    [
        "Sixty would be plenty.",
        "I'd like to see sixty.",
        "Let's get that to sixty.",
        "What I want is sixty.",
        "Sixty is where I'd have it.",
    ],
)
def test_a_target_said_a_sentence_later(target: str) -> None:
    figure = only("Your stroke rate is fifty-two a minute.", target)
    assert (figure.observed, figure.target) == ((52, 52), (60, 60))


def test_a_target_shares_its_entry_over_several_sentences() -> None:
    figure = only(
        "Your stroke rate is fifty-two a minute.",
        "That's the reason you feel stuck.",
        "It looks relaxed from here.",
        "I'd like a stroke rate of sixty.",
    )
    assert (figure.observed, figure.target) == ((52, 52), (60, 60))
    assert len(figure.mentions) == 2


def test_left_and_right_apart_with_one_target_for_both() -> None:
    found = figures(
        "The right elbow is at 148 degrees and the left elbow is at 131 degrees.",
        "I'd like the elbow at 110 on both sides.",
    )
    assert [(f.side, f.observed, f.target) for f in found] == [
        ("right", (148, 148), None),
        ("left", (131, 131), None),
        ("both", None, (110, 110)),
    ]


def test_sides_before_or_behind_their_numbers() -> None:
    before = figures("Shoulder roll is on the left 55 degrees and on the right 31 degrees.")
    behind = figures("Shoulder roll, 55 degrees to the left and 31 degrees to the right.")
    for found in (before, behind):
        assert [(f.side, f.observed) for f in found] == [("left", (55, 55)), ("right", (31, 31))]


def test_several_measures_in_one_sentence() -> None:
    assert values("Rate was 62 strokes a minute, twenty strokes a length, heart rate 150.") == [
        ("stroke_rate", (62, 62), None),
        ("stroke_count", (20, 20), None),
        ("heart_rate", (150, 150), None),
    ]


def test_two_lengths_are_two_entries() -> None:
    assert values("You took 21 strokes on the first length and 24 on the second.") == [
        ("stroke_count", (21, 21), None),
        ("stroke_count", (24, 24), None),
    ]


@pytest.mark.parametrize(
    ("text", "measure", "value", "said"),
    [
        ("The elbow is bent sixty degrees from straight.", "elbow_angle", 120, "from straight"),
        ("It reads 160 at the knee, so nearly straight.", "knee_bend", 20, "inside"),
        ("The hand is half a metre deep.", "hand_depth", 50, "50 cm"),
    ],
)
def test_conventions_are_converted_on_record(
    text: str, measure: str, value: float, said: str
) -> None:
    figure = only(text)
    assert (figure.measure, figure.observed) == (measure, (value, value))
    assert figure.converted is not None
    assert said in figure.converted


@pytest.mark.parametrize(
    ("text", "interval"),
    [
        ("Keep the knee bend under forty degrees.", (None, 40)),
        ("I want at least sixty degrees of ankle point.", (60, None)),
        ("I want the pace at 1:57 or better.", (None, 117)),
        ("Don't let the trunk tilt go past six degrees.", (None, 6)),
    ],
)
def test_targets_that_are_limits(text: str, interval: Interval) -> None:
    figure = only(text)
    assert figure.target == interval
    assert figure.at_most_or_least


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("In the last clip your stroke rate was fifty strokes a minute.", "past"),
        ("If your knees were bent ninety degrees we'd have to talk.", "supposed"),
        ("Most people have a stroke rate of sixty strokes a minute.", "general"),
        ("It's not 170 degrees at the elbow.", "denied"),
    ],
)
def test_what_does_not_count_is_set_aside(text: str, reason: str) -> None:
    found, aside = reading(text)
    assert found == ()
    assert [one.reason for one in aside] == [reason]


def test_a_corrected_value_is_set_aside() -> None:
    found, aside = reading("The elbow angle is 124 degrees, no, sorry, 114 degrees.")
    assert [f.observed for f in found] == [(114, 114)]
    assert [one.reason for one in aside] == ["taken_back"]


@pytest.mark.parametrize(
    "text",
    [
        "You're in lane four with the white cap.",
        "Have a look at 0:14 and tell me what you see.",
        "At six seconds you can see the wall.",
        "The pool's twenty-five metres and the water was twenty-eight degrees.",
        "In 1998 we had no cameras at all.",
        "The race is in three weeks and you've paid for six sessions.",
        "You told me you're forty-seven.",
        "Give me a second, it's loading.",
        "That was nine times out of ten.",
        "I only make three points in a review.",
    ],
)
def test_numbers_that_are_no_figures(text: str) -> None:
    assert figures(text) == ()


def test_numbers_of_a_set_are_left_alone() -> None:
    text = "Stroke rate sixty strokes a minute."
    cues = (Cue(start=0, end=4, text=text),)
    told = Narration(Transcript(name="t", cues=cues, duration=5))
    whole = [(0, len(told.doc))]
    heard = LearnedReader().readings(told)
    assert read_figures(told, vocabulary(), whole, heard) == ((), ())


@pytest.mark.parametrize(
    ("text", "remark"),
    [
        ("The elbow is at 105 degrees, and that's lovely.", "good"),
        ("Your knees bend to 90 degrees, which is too much.", "too_much"),
        ("Your stroke rate is 44 strokes a minute, that's too low.", "too_little"),
        ("Your stroke rate is 58 strokes a minute.", None),
    ],
)
def test_what_the_coach_says_of_a_value(text: str, remark: str | None) -> None:
    assert only(text).remark == remark


def test_a_time_keeps_its_distance() -> None:
    figure = only("The two hundred took you 3:05.")
    assert (figure.measure, figure.observed, figure.distance_m) == ("split", (185, 185), 200)


def test_figures_point_to_their_moment() -> None:
    figure = only("Nice to see you.", "Your stroke rate is fifty-two a minute.")
    mention = figure.mentions[0]
    assert (mention.start, mention.end) == (6, 11)
    assert mention.quote == "Your stroke rate is fifty-two a minute."


def test_a_value_said_twice_is_one_figure() -> None:
    figure = only("Stroke rate is 64 a minute.", "As I said, your stroke rate is 64.")
    assert figure.observed == (64, 64)
    assert len(figure.mentions) == 2


@few
@given(
    minutes=st.integers(min_value=1, max_value=2), seconds=st.integers(min_value=10, max_value=59)
)
def test_paces_by_the_clock(minutes: int, seconds: int) -> None:
    spoken = f"{num2words(minutes)} {num2words(seconds)}"
    for said in (spoken, f"{minutes}:{seconds}", f"{minutes}{seconds}"):
        figure = only(f"You were holding {said} pace.")
        assert (figure.measure, figure.observed) == ("pace", (60 * minutes + seconds,) * 2)


def test_what_the_swimmer_may_have_is_a_target() -> None:
    found = values("The body line is 8 degrees off level.", "You can have five.")
    assert found == [("trunk_tilt", (8, 8), (5, 5))]


def test_distances_before_the_word_pace_are_no_times() -> None:
    assert values("That is four hundred pace, and your stroke rate is 64 a minute.") == [
        ("stroke_rate", (64, 64), None)
    ]


@pytest.mark.parametrize(
    "text", ["I've watched eleven of them.", "It crosses over, and it's eleven for eleven."]
)
def test_counts_of_anything_else_are_no_figures(text: str) -> None:
    assert figures(text) == ()


def test_a_measure_of_the_coachs_own_is_read_from_its_name_and_unit() -> None:
    """The learned reader was never taught it: its words alone must do."""
    known = vocabulary()
    own = known.measures["hand_depth"].model_copy(
        update={"code": "toe_gap", "name": "toe gap", "terms": ("toe gap",), "hints": ()}
    )
    wider = known.model_copy(update={"measures": {**known.measures, "toe_gap": own}})
    cue = Cue(start=0, end=4, text="The toe gap is 12 centimetres.")
    told = Narration(Transcript(name="t", cues=(cue,), duration=5))
    found, _ = read_figures(told, wider, (), LearnedReader().readings(told))
    assert [(f.measure, f.observed) for f in found] == [("toe_gap", (12, 12))]
