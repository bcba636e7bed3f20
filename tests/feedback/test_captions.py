"""Captions and chapters of the clip, read by webvtt-py, an independent reader of WebVTT."""

import html
from itertools import pairwise

import pytest
import webvtt

from voicenotes.feedback import feedback_files
from voicenotes.review import Review
from voicenotes.transcript import Transcript
from voicenotes.vocabulary.model import Vocabulary

Row = tuple[str, str, str]


@pytest.fixture
def files(review: Review, transcript: Transcript, vocabulary: Vocabulary) -> dict[str, bytes]:
    return feedback_files(review, transcript, vocabulary)


def read(data: bytes) -> list[Row]:
    captions = webvtt.from_string(data.decode("utf-8"), strict=True).captions
    return [(c.start, c.end, html.unescape(c.text)) for c in captions]


def test_while_a_moment_plays_its_cue_is_told(files: dict[str, bytes]) -> None:
    elbow = "Fingertips down first, elbow high, as if reaching over a barrel."
    head = "Roll to air: one goggle stays in the water."
    assert read(files["captions.vtt"]) == [
        ("00:00:04.200", "00:00:08.900", "Good: reach"),
        ("00:00:14.250", "00:00:19.100", elbow),
        ("00:00:19.300", "00:00:24.000", elbow),
        ("00:00:31.000", "00:00:36.200", head),
        ("00:00:36.400", "00:00:39.000", "Press the chest a little into the water."),
        ("00:01:00.000", "00:01:03.000", "Relaxed hand, fingers nearly closed."),
        ("00:01:22.000", "00:01:26.500", elbow),
    ]


def test_of_two_that_overlap_the_one_to_work_on_sooner_is_told(
    review: Review, transcript: Transcript, vocabulary: Vocabulary
) -> None:
    elbow, head, *rest = review.corrections
    late = head.model_copy(update={"mentions": elbow.mentions[:1]})
    changed = review.model_copy(update={"corrections": (elbow, late, *rest)})
    files = feedback_files(changed, transcript, vocabulary)
    told = [text for start, _, text in read(files["captions.vtt"]) if start == "00:00:14.250"]
    assert told == ["Fingertips down first, elbow high, as if reaching over a barrel."]
    chapters = [text for start, _, text in read(files["chapters.vtt"]) if start == "00:00:14.250"]
    assert chapters == ["Elbow drops in the catch (left); Head lifts to breathe"]


def test_chapters_lead_from_moment_to_moment_to_the_end(files: dict[str, bytes]) -> None:
    chapters = read(files["chapters.vtt"])
    assert chapters[0] == ("00:00:04.200", "00:00:14.250", "Reach")
    assert chapters[1][2] == "Elbow drops in the catch (left)"
    assert chapters[-1] == ("00:01:22.000", "00:01:44.000", "Elbow drops in the catch (left)")
    for before, after in pairwise(chapters):
        assert before[1] == after[0]


def test_guessed_moments_say_so(
    review: Review, transcript: Transcript, vocabulary: Vocabulary
) -> None:
    made = review.made.model_copy(update={"timed": False})
    files = feedback_files(review.model_copy(update={"made": made}), transcript, vocabulary)
    for name in ("captions.vtt", "chapters.vtt"):
        assert b"NOTE The times are guessed" in files[name]
