"""Misheard terms: put right where they must be, left alone where the words make sense."""

import pytest

from voicenotes.reading.misheard import repair_misheard
from voicenotes.transcript import Cue, Transcript, Word
from voicenotes.vocabulary.load import load_vocabulary

VOCABULARY = load_vocabulary()


def narration(text: str, *, words: bool = False) -> Transcript:
    pieces = text.split()
    timed = tuple(
        Word(text=piece, start=i, end=i + 1, probability=0.9 - i / 100)
        for i, piece in enumerate(pieces)
    )
    cue = Cue(start=0, end=len(pieces), text=text, words=timed if words else ())
    return Transcript(name="x", cues=(cue,), duration=len(pieces))


@pytest.mark.parametrize(
    ("heard", "read"),
    [
        ("Your write hand drifts out.", "Your right hand drifts out."),
        ("Four 50s of finger to drag, please.", "Four 50s of fingertip drag, please."),
        ("Then eight 25s of front skull.", "Then eight 25s of front scull."),
    ],
)
def test_a_known_mishearing_is_put_right_and_recorded(heard: str, read: str) -> None:
    mended, repairs = repair_misheard(narration(heard), VOCABULARY)
    assert mended.cues[0].text == read
    assert len(repairs) == 1
    assert repairs[0].heard.lower().strip(".,") in heard.lower()


@pytest.mark.parametrize(
    "text", ["The boy in lane two waved.", "It was a brief look.", "Do not waste it."]
)
def test_words_that_make_sense_on_their_own_stay(text: str) -> None:
    mended, repairs = repair_misheard(narration(text), VOCABULARY)
    assert mended.cues[0].text == text
    assert repairs == ()


def test_a_repaired_word_keeps_its_time_and_the_doubt_about_it() -> None:
    mended, repairs = repair_misheard(narration("Try finger to drag now.", words=True), VOCABULARY)
    word = next(w for w in mended.cues[0].words if w.text == "fingertip drag")
    assert (word.start, word.end) == (1, 4)
    assert word.probability == pytest.approx(0.9 - 3 / 100)
    assert (repairs[0].start, repairs[0].end) == (1, 4)
