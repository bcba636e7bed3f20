"""Which side a coach speaks of, in sentences of our own invention."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reading.spoken import narrated
from voicenotes.notes import Side
from voicenotes.reading.sides import SaidSide, Sides, settle_sides

OPPOSITE: dict[Side, Side] = {"left": "right", "right": "left"}
SIDES = st.sampled_from(sorted(OPPOSITE))
PARTS = st.sampled_from(["hand", "elbow", "arm", "wrist"])
FAULTS = st.sampled_from(["drops too early", "drifts out wide", "stalls at the front"])


def _arm_side(*sentences: str, of: int = -1) -> Side | None:
    """The side of an arm that one sentence speaks of: the last, unless another is asked for."""
    narration = narrated(*sentences)
    sentence = narration.sentences[of]
    said = Sides(narration).of(sentence.index, sentence.span.start, sentence.span.end, "arm")
    return said.side if said else None


@given(side=SIDES, part=PARTS, fault=FAULTS, owner=st.sampled_from(["your", "the", "her", "that"]))
@settings(max_examples=30, deadline=None)
def test_a_side_before_a_part_is_read(side: Side, part: str, fault: str, owner: str) -> None:
    assert _arm_side(f"I can see {owner} {side} {part} {fault}.") == side


@given(
    side=SIDES,
    part=PARTS,
    fault=FAULTS,
    words=st.sampled_from(["no, sorry,", "no, wait,", "sorry, I mean", "no sorry", "hang on, no,"]),
)
@settings(max_examples=30, deadline=None)
def test_the_side_said_last_counts_where_the_coach_corrects_it(
    side: Side, part: str, fault: str, words: str
) -> None:
    assert (
        _arm_side(f"The {side} {part}, {words} the {OPPOSITE[side]} {part} {fault}.")
        == (OPPOSITE[side])
    )


@given(side=SIDES, part=PARTS, fault=FAULTS)
@settings(max_examples=20, deadline=None)
def test_a_denied_side_gives_way_to_its_contrast(side: Side, part: str, fault: str) -> None:
    assert _arm_side(
        f"It's not the {OPPOSITE[side]} {part}, it's the {side} {part} that {fault}."
    ) == (side)


@given(side=SIDES, part=PARTS, fault=FAULTS)
@settings(max_examples=20, deadline=None)
def test_a_side_only_compared_with_does_not_count(side: Side, part: str, fault: str) -> None:
    assert _arm_side(f"Your {side} {part} {fault}, more than the {OPPOSITE[side]} one.") == side


@given(part=PARTS, fault=FAULTS, joined=st.sampled_from(["both {}s", "the left and the right {}"]))
@settings(max_examples=20, deadline=None)
def test_both_are_both(part: str, fault: str, joined: str) -> None:
    verb = fault.split(" ", 1)
    assert _arm_side(f"I see {joined.format(part)} {verb[0][:-1]} {verb[1]}.") == "both"


@pytest.mark.parametrize(
    "sentence",
    [
        "Right, so the elbow drops as you start the pull.",
        "All right, the hand comes in short there.",
        "That's right, the wrist gives way.",
        "The hand reaches right over the top.",
        "The elbow collapses right away.",
        "You left the wrist hanging there.",
    ],
)
def test_right_and_left_as_other_words_are_no_sides(sentence: str) -> None:
    assert _arm_side(sentence) is None


def test_the_other_turns_to_the_other_side() -> None:
    assert _arm_side("Your left elbow drops.", "The other one drops as well.") == "right"


def test_a_hand_that_goes_over_to_the_other_side_stays_the_same_hand() -> None:
    assert _arm_side("Your left hand goes in and slides over to the other shoulder.") == "left"


def test_the_way_breathed_to_is_no_side_of_an_arm() -> None:
    assert _arm_side("When you breathe to the left the elbow caves in.") is None


def test_a_leg_named_beside_an_arm_does_not_give_it_a_side() -> None:
    assert _arm_side("The right leg swings out as the left hand goes wide.") == "left"


def test_a_coach_goes_on_about_an_arm_without_naming_it_again() -> None:
    assert _arm_side("Now the right arm.", "It goes in.", "Then the elbow sinks.") == "right"


def test_an_old_side_is_let_go() -> None:
    filler = ("The legs are busy.", "Nice tempo too.", "The turn is quick.", "Good speed there.")
    assert _arm_side("Your right hand is fine.", *filler, "The elbow sinks.") is None


def test_a_side_put_behind_its_part_is_read() -> None:
    assert _arm_side("The hand left, she goes in too short.") == "left"


def test_what_is_said_of_left_and_right_alike_is_of_both() -> None:
    said = [SaidSide("left", "clause"), SaidSide("right", "clause")]
    assert settle_sides(said) == "both"


def test_a_carried_over_side_gives_way_to_a_plain_one() -> None:
    said = [SaidSide("left", "clause"), SaidSide("right", "passage")]
    assert settle_sides(said) == "left"


def test_both_arms_in_a_set_do_not_make_a_one_armed_fault_one_of_both() -> None:
    assert settle_sides([SaidSide("right", "clause"), SaidSide("both", "set")]) == "right"


def test_the_only_side_counts_alone() -> None:
    said = [SaidSide("left", "only"), SaidSide("right", "clause"), SaidSide("right", "clause")]
    assert settle_sides(said) == "left"


def test_a_lopsided_fault_is_never_of_both() -> None:
    said = [SaidSide("both", "clause"), SaidSide("right", "sentence")]
    assert settle_sides(said, one_sided=True) == "right"


def test_without_any_side_there_is_none() -> None:
    assert settle_sides([]) is None
