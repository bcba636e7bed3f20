"""Whose the spoken moments are. The sentences are four seconds long each (tests/reading/spoken)."""

import pytest

from tests.reading.spoken import narrated
from voicenotes.clock import SAME, Clock, Mark
from voicenotes.notes import Mention, Notes
from voicenotes.reading.pipeline import read_notes
from voicenotes.vocabulary.load import load_vocabulary

VOCABULARY = load_vocabulary()
ELBOW, HEAD = "Your left elbow drops in the catch.", "Your head lifts when you breathe."


def read(*sentences: str, clock: Clock | None = None) -> Notes:
    return read_notes(narrated(*sentences).transcript, VOCABULARY, clock=clock)


def clip(notes: Notes, code: str) -> list[tuple[float, ...]]:
    """The clip's seconds of each mention of a fault."""
    (finding,) = [finding for finding in notes.findings if finding.code == code]
    return [mention.clip_s for mention in finding.mentions]


def test_a_moment_is_that_of_its_sentence() -> None:
    notes = read("At 0:14 your left elbow drops in the catch.", HEAD)
    assert clip(notes, "elbow_drops") == [(14,)]
    assert clip(notes, "head_lifts") == [()]


def test_several_moments_of_one_fault_are_all_told() -> None:
    notes = read("At 0:14 and again at 0:22 your left elbow drops in the catch.")
    assert clip(notes, "elbow_drops") == [(14, 22)]


@pytest.mark.parametrize(
    "sentence",
    [
        "At 0:14 your left elbow drops, and at 0:22 your head lifts when you breathe.",
        "Your left elbow drops at 0:14, and your head lifts when you breathe at 0:22.",
    ],
)
def test_each_fault_of_a_sentence_gets_the_moment_beside_it(sentence: str) -> None:
    notes = read(sentence)
    assert clip(notes, "elbow_drops") == [(14,)]
    assert clip(notes, "head_lifts") == [(22,)]


def test_a_moment_alone_is_said_of_what_comes_next() -> None:
    notes = read("Let's go back to nine seconds.", "See that?", ELBOW, HEAD)
    assert clip(notes, "elbow_drops") == [(9,)]
    assert clip(notes, "head_lifts") == [()]


def test_a_moment_holds_while_the_coach_goes_on_about_it() -> None:
    notes = read("At 0:14 your left elbow drops in the catch.", "It's about 150 degrees.")
    (angle,) = notes.figures
    assert (angle.measure, angle.mentions[0].clip_s) == ("elbow_angle", (14,))


def test_a_moment_does_not_hold_for_long() -> None:
    notes = read("Let's go back to nine seconds.", *["Right."] * 4, ELBOW)
    assert clip(notes, "elbow_drops") == [()]


def test_a_moment_does_not_hold_once_the_coach_moves_on() -> None:
    notes = read("Let's go back to nine seconds.", f"Overall, {ELBOW.lower()}")
    assert clip(notes, "elbow_drops") == [()]


def test_the_clock_tells_where_the_coach_does_not() -> None:
    started = Clock(marks=(Mark(narration_s=2, clip_s=0),))
    notes = read("At 0:14 your left elbow drops in the catch.", HEAD, clock=started)
    assert clip(notes, "elbow_drops") == [(14,)]
    assert clip(notes, "head_lifts") == [(2,)]


def test_over_the_playing_clip_the_clocks_agree() -> None:
    notes = read("Okay, here we go.", ELBOW, clock=Clock(marks=SAME, length_s=30))
    assert clip(notes, "elbow_drops") == [(4,)]


def test_a_moment_beyond_the_clips_end_is_none() -> None:
    notes = read("At 0:44 your left elbow drops in the catch.", clock=Clock(length_s=30))
    assert clip(notes, "elbow_drops") == [()]


def test_a_moment_is_no_figure() -> None:
    notes = read("At the fourteen second mark your stroke rate is 58 strokes a minute.")
    assert [(figure.measure, figure.observed) for figure in notes.figures] == [
        ("stroke_rate", (58, 58))
    ]


def test_every_note_has_the_clocks_time_where_it_runs_with_the_clip() -> None:
    sentences = (
        ELBOW,
        "It's about 150 degrees, I'd want ninety to one-twenty.",
        "And because your head lifts when you breathe, the hips sink.",
        "No scissor kick here.",
        "Lovely long reach out in front.",
        "Do six fifties of single arm, twenty seconds rest.",
    )
    notes = read(*sentences, clock=Clock(marks=SAME, length_s=30))
    mentions: list[Mention] = [m for finding in notes.findings for m in finding.mentions]
    mentions += [m for figure in notes.figures for m in figure.mentions]
    mentions += [m for drill in notes.drills for m in drill.mentions]
    mentions += [cause.mention for cause in notes.causes]
    mentions += [aside.mention for aside in notes.set_aside]
    assert notes.figures
    assert notes.drills
    assert notes.causes
    assert notes.set_aside
    assert all(mention.clip_s == (mention.start,) for mention in mentions)
