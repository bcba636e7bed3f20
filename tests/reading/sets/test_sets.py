"""Sets and drills read back from the ways coaches say them. All sentences are invented.

Number words come from num2words, which knows nothing of this project.
"""

from functools import lru_cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words

from voicenotes.notes import DrillSet
from voicenotes.reading.context import Context
from voicenotes.reading.sets.read import DrillReading, FaultsIn, read_drills
from voicenotes.reading.text import Narration
from voicenotes.transcript import Cue, Transcript
from voicenotes.vocabulary.load import load_vocabulary
from voicenotes.vocabulary.model import Vocabulary

vocabulary = lru_cache(maxsize=1)(load_vocabulary)


def narration(*cues: str) -> Narration:
    said = tuple(Cue(start=5 * i, end=5 * i + 4, text=text) for i, text in enumerate(cues))
    return Narration(Transcript(name="t", cues=said, duration=5.0 * len(cues)))


def reading(*cues: str, faults_in: FaultsIn = lambda first, last: ()) -> DrillReading:
    told = narration(*cues)
    return read_drills(told, vocabulary(), Context(told), faults_in)


def drills(*cues: str) -> tuple[DrillSet, ...]:
    return reading(*cues).drills


def only(*cues: str) -> DrillSet:
    found = drills(*cues)
    assert len(found) == 1, [drill.code for drill in found]
    return found[0]


def plural(number: int) -> str:
    """ "twenty-fives", "fifties", "two-hundreds"."""
    words = str(num2words(number)).replace(" ", "-")
    return words[:-1] + "ies" if words.endswith("y") else words + "s"


WAYS = {
    "words": lambda reps, metres: f"{num2words(reps)} {plural(metres)}",
    "digits": lambda reps, metres: f"{reps} {metres}s",
    "cross": lambda reps, metres: f"{reps} x {metres}",
    "tight cross": lambda reps, metres: f"{reps}x{metres}",
    "one number": lambda reps, metres: f"{reps}{metres}s",
    "hyphen": lambda reps, metres: f"{reps}-{metres}s",
    "by": lambda reps, metres: f"{num2words(reps)} by {num2words(metres)}",
    "times": lambda reps, metres: f"{num2words(reps)} times {metres}",
    "lots": lambda reps, metres: f"{num2words(reps)} lots of {metres} metres",
    "of": lambda reps, metres: f"{reps} of {metres}",
    "lengths of": lambda reps, metres: f"{num2words(reps)} lengths of {metres}",
}
RESTS = {
    "{} seconds rest": str,
    "{} seconds between": num2words,
    "{} seconds' rest": num2words,
    "{} rest": num2words,
    "rest {} seconds": str,
    "take {} seconds": str,
    "{} seconds": num2words,
}
DRILLS = {
    "fingertip drag": "fingertip_drag",
    "catch-up": "catch_up",
    "side kick": "side_kick",
    "fist swimming": "fist",
    "front scull": "scull_front",
    "single arm on the left": "single_arm",
}
AIDS = {
    "fins on": "fins",
    "with a snorkel": "snorkel",
    "with the pull buoy": "pull_buoy",
    "stick the flippers on": "fins",
}


@settings(max_examples=120, deadline=None)
@given(
    way=st.sampled_from(sorted(WAYS)),
    reps=st.integers(2, 12),
    metres=st.sampled_from([25, 50, 100, 200]),
    drill=st.sampled_from(sorted(DRILLS)),
    rest=st.sampled_from(sorted(RESTS)),
    seconds=st.sampled_from([10, 15, 20, 30, 45]),
    aid=st.sampled_from(sorted(AIDS)),
    drill_first=st.booleans(),
)
def test_a_set_is_read_back_however_it_is_said(
    way: str,
    reps: int,
    metres: int,
    drill: str,
    rest: str,
    seconds: int,
    aid: str,
    drill_first: bool,
) -> None:
    amount = WAYS[way](reps, metres)
    start = f"{drill}, {amount}" if drill_first else f"{amount} of {drill}"
    pause = rest.format(RESTS[rest](seconds))
    found = only(f"Then {start}, {aid}, {pause}.")
    assert (found.code, found.reps, found.distance_m) == (DRILLS[drill], reps, metres)
    assert found.rest_s == seconds
    assert found.equipment == (AIDS[aid],)
    assert found.interval_s is None


@settings(max_examples=60, deadline=None)
@given(
    way=st.sampled_from(sorted(WAYS)),
    reps=st.integers(2, 12),
    metres=st.sampled_from([25, 50, 100, 200]),
    minutes=st.integers(1, 4),
    seconds=st.sampled_from([0, 15, 30, 45]),
    spoken=st.booleans(),
)
def test_a_send_off_is_never_a_rest(
    way: str, reps: int, metres: int, minutes: int, seconds: int, spoken: bool
) -> None:
    if not spoken:
        clock = f"{minutes}:{seconds:02}"
    elif seconds:
        clock = f"{num2words(minutes)} {num2words(seconds)}"
    else:
        clock = "the minute" if minutes == 1 else f"{num2words(minutes)} minutes"
    found = only(f"Then {WAYS[way](reps, metres)} catch-up on {clock}.")
    assert (found.reps, found.distance_m) == (reps, metres)
    assert found.interval_s == 60 * minutes + seconds
    assert found.rest_s is None


@settings(max_examples=40, deadline=None)
@given(reps=st.integers(2, 20), noun=st.sampled_from(["times", "goes", "rounds", "lots"]))
def test_repetitions_alone_leave_the_distance_open(reps: int, noun: str) -> None:
    found = only(f"Push and glide, {num2words(reps)} {noun}, hands stacked.")
    assert (found.code, found.reps, found.distance_m) == ("push_off_glide", reps, None)


@pytest.mark.parametrize(
    ("said", "reps", "metres"),
    [
        ("Then four hundred easy.", None, 400),
        ("Then four hundreds easy.", 4, 100),
        ("Finish with one 200 easy.", 1, 200),
        ("Then a couple of hundreds easy.", 2, 100),
        ("Swim down, 150, any stroke.", None, 150),
        ("Then three one-fifties easy.", 3, 150),
        ("Then six easy 100s.", 6, 100),
        ("Finish with six lengths easy.", 6, None),
    ],
)
def test_plain_swims_keep_singular_and_plural_apart(
    said: str, reps: int | None, metres: int | None
) -> None:
    found = only(said)
    assert (found.code, found.reps, found.distance_m) == ("easy_swim", reps, metres)


@pytest.mark.parametrize(
    ("said", "reps", "metres", "heard"),
    [
        ("Do 825s of front scull.", 8, 25, "825s"),
        ("Then 450s of catch-up.", 4, 50, "450s"),
        ("Then 824s of fist swimming.", 8, 25, "824s"),
        ("Do front scull, 18. 25s, and keep it steady.", 8, 25, "18 . 25s"),
    ],
)
def test_sets_that_were_written_as_one_number_are_mended_on_record(
    said: str, reps: int, metres: int, heard: str
) -> None:
    found = reading(said)
    assert [(d.reps, d.distance_m) for d in found.drills] == [(reps, metres)]
    assert [(r.heard, r.read_as) for r in found.repairs] == [(heard, f"{reps} x {metres}")]


def test_24_m_stands_where_the_pool_is_24_m_long() -> None:
    found = drills("That pool is 24 metres long.", "Then catch-up, 824s, ten seconds.")
    assert [(d.reps, d.distance_m) for d in found] == [(8, 24)]


@pytest.mark.parametrize(
    ("said", "reps", "duration", "rest"),
    [
        ("Thirty seconds of vertical kick, four times.", 4, 30, None),
        ("Vertical kick, six times thirty seconds, twenty rest.", 6, 30, 20),
        ("Upright kicking, 20 seconds on, 20 off, eight rounds.", 8, None, 20),
        ("Float on your front, five times, ten seconds each.", 5, 10, None),
        ("Two minutes of vertical kick, arms folded.", None, 120, None),
    ],
)
def test_drills_done_for_a_time(
    said: str, reps: int | None, duration: int | None, rest: int | None
) -> None:
    found = only(said)
    assert (found.reps, found.distance_m, found.rest_s) == (reps, None, rest)
    assert found.duration_s == duration


@pytest.mark.parametrize(
    "said",
    [
        "Then reach and hold, two seconds each side, six 25s.",
        "Then reach and hold for a count of three, six 25s.",
        "Then fist swimming, six 25s, open the hand for the last five metres.",
        "Beeper at fifty-five, six 25s, one hand a beep.",
    ],
)
def test_counts_holds_and_rates_are_no_rests(said: str) -> None:
    found = only(said)
    assert (found.reps, found.distance_m, found.rest_s, found.interval_s) == (6, 25, None, None)


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("Then six 25s running your thumb up the ribs to the armpit.", "zipper"),
        ("Four fifties where one hand waits in front until the other one joins it.", "catch_up"),
        ("Six kicks on one side, then swap over, eight 25s.", "kick_switch"),
        ("Arms by your sides, kick and roll from hip to hip, six 25s.", "rotation_kick"),
        ("Third, four 50s that start easy and get faster to the wall.", "build_swim"),
        ("Six 25s with your hands under your chest, sweeping in and out.", "scull_mid"),
        ("Swim with the head up like a water polo player, six 25s.", "head_up_free"),
        ("Band round the ankles and a buoy, four 50s.", "ankle_band"),
        ("The stretchy band on the door at home, fifteen slow pulls.", "dryland_band"),
        ("Hold the rail, face in, hum it all out, ten times.", "exhale_bobs"),
    ],
)
def test_drills_are_known_by_what_is_done(said: str, code: str) -> None:
    assert only(said).code == code


def test_the_fuller_name_says_what_is_swum() -> None:
    assert only("Three-quarter catch-up, six 50s.").code == "three_quarter_catch_up"
    assert only("Then long doggy paddle, six 25s.").code == "long_doggy_paddle"
    assert only("Side kick with a change of side every six kicks, six 25s.").code == "kick_switch"


def test_an_aid_alone_is_the_drill_and_beside_a_drill_it_is_equipment() -> None:
    alone = only("Four hundreds with the pull buoy, thirty seconds.")
    beside = only("Front scull with the pull buoy, four 25s, thirty seconds.")
    assert (alone.code, alone.equipment) == ("pull_buoy", ("pull_buoy",))
    assert (beside.code, beside.equipment) == ("scull_front", ("pull_buoy",))


@pytest.mark.parametrize(
    ("cues", "equipment"),
    [
        (("Then side kick, six 25s, fins on, no, no fins.",), ()),
        (("Then side kick with fins, six 25s.", "On reflection, no fins."), ()),
        (("Then side kick, six 25s.", "You can wear fins for those."), ("fins",)),
        (("Then side kick, six 25s.", "With fins if you have them."), ("fins",)),
        (("Then side kick, six 25s.", "No paddles till that shoulder is right."), ()),
        (("Then side kick, six 25s.", "I've got your old snorkel in the office."), ()),
    ],
)
def test_equipment_said_later_or_taken_back(
    cues: tuple[str, ...], equipment: tuple[str, ...]
) -> None:
    assert only(*cues).equipment == equipment


def test_the_dose_may_follow_sentences_later() -> None:
    found = only(
        "Number two is single arm, left arm only, the right one resting in front.",
        "Breathe to the left and take your time over it.",
        "You want to feel the water on the forearm.",
        "Six times 25 of those, twenty seconds between each.",
    )
    assert (found.code, found.reps, found.distance_m, found.rest_s) == ("single_arm", 6, 25, 20)
    assert [mention.start for mention in found.mentions] == [0, 15]


def test_rest_and_equipment_may_follow_in_the_next_sentence() -> None:
    found = only("Fingertip drag next, four 50s.", "Take 20 seconds between those.")
    assert found.rest_s == 20


def test_several_sets_in_one_sentence_keep_their_own_doses() -> None:
    found = drills("Six 25s of front scull, ten seconds, and then four fifties of fist, fins on.")
    assert [(d.code, d.reps, d.distance_m, d.rest_s, d.equipment) for d in found] == [
        ("scull_front", 6, 25, 10, ()),
        ("fist", 4, 50, None, ("fins",)),
    ]


def test_a_slip_of_the_tongue_is_mended() -> None:
    found = only("Then catch-up, ten 25s, no, sorry, eight 25s.")
    assert (found.reps, found.distance_m) == (8, 25)


def test_the_same_rest_and_the_same_set_are_those_of_the_set_before() -> None:
    found = drills(
        "Catch-up, six 50s, twenty seconds.",
        "Then fingertip drag, four 50s, same rest.",
        "Same again with the fists closed.",
    )
    assert [(d.code, d.reps, d.distance_m, d.rest_s) for d in found] == [
        ("catch_up", 6, 50, 20),
        ("fingertip_drag", 4, 50, 20),
        ("fist", 4, 50, 20),
    ]


def test_a_summary_adds_a_moment_and_no_second_entry() -> None:
    found = only(
        "Catch-up, six 50s, twenty seconds.",
        "That will do your timing good.",
        "So remember, six 50s of catch-up.",
    )
    assert (found.reps, found.distance_m, found.rest_s) == (6, 50, 20)
    assert [mention.start for mention in found.mentions] == [0, 10]


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("I want you doing the windmill drill, four fifties, twenty seconds.", "windmill drill"),
        ("Second, the lawnmower drill, six lengths.", "lawnmower drill"),
    ],
)
def test_a_drill_that_is_not_in_the_vocabulary_is_kept_as_said(said: str, name: str) -> None:
    found = only(said)
    assert (found.code, found.name) == ("unknown", name)


def test_a_set_of_something_unheard_of_is_kept_among_sets_of_drills() -> None:
    found = drills("Catch-up, six 50s.", "Then four 25s hopping along the bottom like a kangaroo.")
    assert [(d.code, d.reps, d.distance_m) for d in found][1:] == [("unknown", 4, 25)]
    assert found[1].name == "hopping along the bottom like a kangaroo"


def test_a_drill_asked_for_without_a_dose_counts_among_sets() -> None:
    found = drills("Catch-up, six 50s.", "And I want you to do a bit of side kick each time.")
    assert [(d.code, d.reps, d.distance_m) for d in found] == [
        ("catch_up", 6, 50),
        ("side_kick", None, None),
    ]


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("I wouldn't do catch-up with you, you wait long enough.", "catch_up"),
        ("Leave the paddles in the bag for now.", "paddles"),
        ("Fists, no, your hands feel the water already.", "fist"),
        ("No pull buoy either, it would only hide the legs.", "pull_buoy"),
        ("I was going to give you vertical kick, but not with that hip.", "vertical_kick"),
        ("Zipper can wait until the spring.", "zipper"),
    ],
)
def test_a_drill_that_is_turned_down_is_set_aside(said: str, code: str) -> None:
    found = reading(said)
    assert found.drills == ()
    assert [(aside.code, aside.reason) for aside in found.set_aside] == [(code, "denied")]
    assert found.set_aside[0].mention.quote == said


@pytest.mark.parametrize(
    "said",
    [
        "Catch-up is where one hand waits for the other in front.",
        "Your fins arrived, they are behind the desk.",
        "You did eight 50s with the paddles before this was filmed.",
        "Last month we did catch-up, four hundreds at a time.",
        "In another life you'd be doing four by one hundred with a board.",
        "Six by fifty on the paddles?",
        "I counted 22 strokes on that second 50.",
        "You took three breaths on the left in the last 25.",
        "The four hundred came out at one thirty-five pace, nice and steady.",
        "The thumb comes past the ribs twice in that length.",
    ],
)
def test_what_is_explained_told_or_measured_is_not_prescribed(said: str) -> None:
    assert drills(said) == ()


def test_turning_one_drill_down_leaves_the_next_one_standing() -> None:
    found = reading("Skip catch-up this month, and do four fifties with small paddles instead.")
    assert [(d.code, d.reps, d.distance_m) for d in found.drills] == [("paddles", 4, 50)]
    assert "catch_up" in {aside.code for aside in found.set_aside}


def test_what_a_set_is_for_comes_from_its_own_sentences() -> None:
    told = narration(
        "The head lifts before each breath.",
        "Catch-up, six 50s, for the hand that crosses over.",
        "That one's for the left elbow as well.",
    )
    faults = {"head": "head_lifts", "hand": "entry_crosses_midline", "elbow": "elbow_drops"}

    def faults_in(first: int, last: int) -> tuple[str, ...]:
        return tuple(faults[t.lower_] for t in told.doc[first:last] if t.lower_ in faults)

    found = read_drills(told, vocabulary(), Context(told), faults_in).drills
    assert [drill.trains for drill in found] == [("entry_crosses_midline", "elbow_drops")]


def test_those_two_speaks_of_both_sets() -> None:
    told = narration(
        "Front scull, four 25s, ten seconds.",
        "Then fist, six 50s, ten seconds.",
        "Those two are for the elbow.",
    )

    def faults_in(first: int, last: int) -> tuple[str, ...]:
        return ("elbow_drops",) * any(t.lower_ == "elbow" for t in told.doc[first:last])

    found = read_drills(told, vocabulary(), Context(told), faults_in).drills
    assert [drill.trains for drill in found] == [("elbow_drops",), ("elbow_drops",)]


def test_numbers_of_a_set_are_taken_and_those_of_the_swimmer_are_not() -> None:
    said = "Then the beeper, six 50s, twenty seconds, and you hold 62 strokes a minute."
    told = narration(said)
    taken = read_drills(told, vocabulary(), Context(told)).taken
    words = {token.text for first, last in taken for token in told.doc[first:last]}
    assert {"six", "50s", "twenty"} <= words
    assert "62" not in words


def test_text_without_marks_is_read_by_its_cues() -> None:
    found = drills(
        "okay so for this week there are a few things and I want you to write them down please",
        "then 8 25s mid scull snorkel on 15 seconds rest",
        "that is for the left elbow so it stays up there while you do it and nothing else matters",
        "and 10 bobs at the wall before you start",
        "no paddles this week your shoulder is still sore and I mean it",
    )
    assert [(d.code, d.reps, d.distance_m, d.rest_s, d.equipment) for d in found] == [
        ("scull_mid", 8, 25, 15, ("snorkel",)),
        ("exhale_bobs", 10, None, None, ()),
    ]


def _examples(field: str) -> list[tuple[str, str]]:
    return [
        (drill.code, sentence)
        for drill in vocabulary().drills.values()
        for sentence in getattr(drill, field)
    ]


@pytest.mark.parametrize(("code", "sentence"), _examples("says"))
def test_the_vocabulary_reads_its_own_examples(code: str, sentence: str) -> None:
    assert code in {drill.code for drill in drills(sentence)}


@pytest.mark.parametrize(("code", "sentence"), _examples("never"))
def test_the_vocabulary_does_not_read_its_counter_examples(code: str, sentence: str) -> None:
    assert code not in {drill.code for drill in drills(sentence)}


def test_a_drill_of_the_coach_is_read_by_its_names_and_description() -> None:
    base = vocabulary()
    own = base.drills["fist"].model_copy(
        update={
            "code": "rope_pull",
            "name": "rope pull",
            "names": ("rope pull",),
            "described": ("pull + lane rope|rope",),
        }
    )
    house: Vocabulary = base.model_copy(update={"drills": {**base.drills, "rope_pull": own}})
    for said in ("Rope pull, six 25s.", "Six 25s where you pull along the lane rope."):
        told = narration(said)
        found = read_drills(told, house, Context(told)).drills
        assert [(d.code, d.reps, d.distance_m) for d in found] == [("rope_pull", 6, 25)]
