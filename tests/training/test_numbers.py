"""What the learned reader is taught of numbers: each held against the annotation of its line."""

from random import Random
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from voicenotes.training.corpus import Number, narration, resplit
from voicenotes.training.noise import Mishearing, marked, numbers_in, unmarked
from voicenotes.training.numbers import mark_numbers
from voicenotes.vocabulary.load import load_vocabulary


def talk(lines: list[str], **gold: Any) -> Any:
    nothing: dict[str, Any] = dict.fromkeys(
        ("findings", "figures", "drills", "causes", "traps", "off_topic"), ()
    )
    said = [{"id": f"l{i}", "text": text} for i, text in enumerate(lines, 1)]
    told = narration({"id": "t01", "lines": said, "gold": {**nothing, **gold}})
    mark_numbers([told], load_vocabulary())
    return told


def shown(told: Any) -> list[tuple[str, str | None, str | None]]:
    return [
        (unit.text[n.first : n.last], n.role, n.measure)
        for unit in told.units
        for n in unit.numbers
    ]


RATE = {
    "measure": "stroke_rate", "side": None, "observed": [58, 58], "target": [66, 68],
    "unit": "/min", "at": ["l1", "l3"],
}  # fmt: skip


def test_observation_and_target_lines_apart_and_other_numbers_are_none() -> None:
    told = talk(
        ["You're at 58 strokes a minute.", "That's clip two of three.", "Let's have 66 to 68."],
        figures=[RATE],
    )
    assert shown(told) == [
        ("58", "observed", "stroke_rate"),
        ("two", "none", None),
        ("three", "none", None),
        ("66 to 68", "target", "stroke_rate"),
    ]


def test_what_other_numbers_are_is_left_open_where_the_figure_was_not_found() -> None:
    told = talk(["Somewhere near sixty-ish, in lane 4."], figures=[{**RATE, "at": ["l1"]}])
    assert all(role is None for _, role, _ in shown(told))


def test_numbers_move_with_their_words_when_lines_are_cut_anew() -> None:
    told = talk(["So you're at", "58 strokes. In lane 4."], figures=[{**RATE, "at": ["l2"]}])
    first, second = resplit(told).units
    assert [first.text[n.first : n.last] for n in first.numbers] == ["58"]
    assert [second.text[n.first : n.last] for n in second.numbers] == ["4"]


def test_talk_without_final_marks_is_cut_at_its_lines() -> None:
    lines = ["and the hand goes in and then it comes back again on that side"] * 6
    assert [unit.text for unit in resplit(talk(lines)).units] == lines


WORDS = st.lists(st.sampled_from("the left elbow is at about a hand and".split()), max_size=6)


@given(WORDS, WORDS, st.integers(0, 200), st.integers(0, 10_000))
def test_a_number_is_found_again_whatever_is_misheard_around_it(
    before: list[str], after: list[str], value: int, seed: int
) -> None:
    text = " ".join([*before, str(value), *after])
    first = len(" ".join([*before, ""])) if before else 0
    number = Number(first, first + len(str(value)), "observed", "elbow_angle")
    varied = Mishearing([])(marked(text, [number]), Random(seed))
    found = numbers_in(varied, [number])
    plain = unmarked(varied)
    assert not found or str(value) in plain[found[0].first : found[0].last].replace(",", "")
