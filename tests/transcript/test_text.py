import pytest

from voicenotes.errors import InputError
from voicenotes.transcript import Cue
from voicenotes.transcript.formats.text import read_text


def spans(text: str) -> list[tuple[float, float, str]]:
    cues, _, timed = read_text(text, "clip.txt")
    assert timed
    return [(cue.start, cue.end, cue.text) for cue in cues]


def starts(text: str) -> list[tuple[float, str]]:
    return [(start, words) for start, _, words in spans(text)]


def test_marks_start_passages_that_end_at_the_next_mark() -> None:
    text = "[0:00] Hello there Mia.\n\n[0:02] The left elbow\ndrops a lot.\n\n[1:02:05] Bye.\n"
    assert spans(text) == [
        (0, 2, "Hello there Mia."),
        (2, 6.8, "The left elbow drops a lot."),  # twice six words at 150 a minute, then silence
        (3725, 3725.4, "Bye."),
    ]


@pytest.mark.parametrize(
    "marked",
    [
        "[0:14] Kick from the hip.",
        "**[0:14]** Kick from the *hip*.",
        "**[0:14]:** Kick from the hip.",
        "- [0:14] Kick from the hip.",
        "3. [00:14] Kick from the hip.",
        "> [0:14] Kick from the hip.",
        "> - **[0:14]** Kick from the hip.",
        "### [0:14]\n\nKick from the hip.",
        "### [0:14] Legs\n\nKick from the hip.",
        "## [0:14] Kick from the hip.",
        "[0:14](https://example.org/?t=14) Kick from the hip.",
        "[0:14.000] Kick from<br> the hip.",
        "0:14\nKick from the hip.",
        "[00:14.000 --> 00:16.000] Kick from the hip.",
        "```\n[0:14] Kick from the hip.\n```",
        "    [0:14] Kick from the hip.",
        "[0:14]: Kick from the hip.",
        "[0:14] Kick from the hip.\n---",
    ],
)
def test_markdown_around_a_mark_is_layout(marked: str) -> None:
    text = f"---\ntitle: a clip\n---\n# Review\n\n[0:02] Hello.\n\n{marked}\n\n[0:30] Bye.\n"
    assert starts(text) == [(2, "Hello."), (14, "Kick from the hip."), (30, "Bye.")]


def test_marks_work_with_windows_line_ends() -> None:
    assert starts("[0:01] Kick.\r\n\r\n[0:09] Pull.\r\n") == [(1, "Kick."), (9, "Pull.")]


def test_two_passages_at_one_mark_are_one() -> None:
    assert starts("[0:01] Kick.\n\n[0:01] Pull.") == [(1, "Kick. Pull.")]


def test_words_before_a_later_first_mark_are_kept() -> None:
    assert starts("Hello Mia.\n\n[0:05] Kick.") == [(0, "Hello Mia."), (5, "Kick.")]


def test_words_before_a_mark_at_nought_are_left_out_on_record() -> None:
    cues, doubts, _ = read_text("Filmed on the deck.\n\n[0:00] Kick.", "clip.txt")
    assert [cue.text for cue in cues] == ["Kick."]
    assert [(doubt.reason, doubt.text) for doubt in doubts] == [("filler", "Filmed on the deck.")]


def test_text_without_marks_is_spread_at_150_words_a_minute() -> None:
    text = "# My notes\n\nThe left elbow drops. You kick well.\n\nNow *pull*, please.\n"
    cues, _, timed = read_text(text, "clip.txt")
    assert not timed
    assert cues == (
        Cue(start=0, end=1.6, text="The left elbow drops."),
        Cue(start=1.6, end=2.8, text="You kick well."),
        Cue(start=2.8, end=4.0, text="Now pull, please."),
    )


def test_a_pace_at_the_start_of_a_line_is_no_mark() -> None:
    assert starts("[0:05] Her pace is\n1:40 per hundred.") == [(5, "Her pace is 1:40 per hundred.")]


@pytest.mark.parametrize("mark", ["[1:75]", "[1:02:75]", "[1:60:05]", "[1:5]", "[1:05:]"])
def test_a_broken_mark_names_its_line(mark: str) -> None:
    with pytest.raises(InputError) as error:
        read_text(f"# Review\n\n[0:05] Kick.\n\n- {mark} Pull.\n", "clip.md")
    assert str(error.value) == (
        f"clip.md, line 5: broken time {mark!r}. Write it as [1:05] or [1:02:05]."
    )


def test_marks_that_run_backwards_name_their_line() -> None:
    with pytest.raises(InputError) as error:
        read_text("[1:05] Kick.\n[0:50] Pull.\n", "clip.txt")
    assert str(error.value) == (
        "clip.txt, line 2: this mark starts at 00:00:50.000, before the one above it at "
        "00:01:05.000. Put the times in order."
    )
