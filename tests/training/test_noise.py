import pytest
from hypothesis import given
from hypothesis import strategies as st

from voicenotes.training.noise import sound_key, swap_gender, swap_sides, swaps_cleanly


@pytest.mark.parametrize(
    ("text", "swapped"),
    [
        ("The right hand is low.", "The left hand is low."),
        ("Right, now the left elbow drops.", "Right, now the right elbow drops."),
        ("All right then.", "All right then."),
    ],
)
def test_sides_of_the_body_are_swapped_and_nothing_else(text: str, swapped: str) -> None:
    assert swap_sides(text) == swapped


@given(st.sampled_from(["left", "right"]), st.sampled_from(["hand", "elbow", "foot"]))
def test_swapping_sides_twice_gives_the_text_back(side: str, part: str) -> None:
    text = f"Look at your {side} {part} there."
    assert swaps_cleanly(text)
    assert swap_sides(swap_sides(text)) == text


def test_gender_is_swapped_with_its_grammar() -> None:
    assert swap_gender("He lifts her head, look at him.") == "She lifts his head, look at her."


def test_words_that_sound_alike_share_a_key() -> None:
    assert sound_key("scull") == sound_key("skull")
    assert sound_key("elbow") != sound_key("ankle")
