import csv
import io
import json
from typing import Any

import pytest

from voicenotes.feedback import feedback_files
from voicenotes.feedback.data import COLUMNS, corrections_csv, review_json
from voicenotes.review import Review
from voicenotes.transcript import Transcript
from voicenotes.vocabulary.model import Vocabulary


def rows(review: Review) -> list[dict[str, str]]:
    text = corrections_csv(review)
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


def with_quote(review: Review, quote: str) -> Review:
    first = review.corrections[0]
    mention = first.mentions[0].model_copy(update={"quote": quote})
    changed = first.model_copy(update={"mentions": (mention, *first.mentions[1:])})
    return review.model_copy(update={"corrections": (changed, *review.corrections[1:])})


def test_json_reads_back_as_the_same_review(review: Review) -> None:
    again = Review.model_validate_json(review_json(review))
    assert review_json(again) == review_json(review)
    assert [c.model_copy(update={"mentions": ()}) for c in again.corrections] == [
        c.model_copy(update={"mentions": ()}) for c in review.corrections
    ]
    assert again.plan == review.plan.model_copy(update={"sessions": again.plan.sessions})
    assert [s.metres for s in again.plan.sessions] == [1100, 1400]


def test_json_has_the_fields_that_other_tools_read(review: Review) -> None:
    data: dict[str, Any] = json.loads(review_json(review))
    finding = data["findings"][1]
    assert (finding["kind"], finding["code"], finding["side"], finding["severity"]) == (
        "fault", "elbow_drops", "left", "marked",
    )  # fmt: skip
    assert finding["mentions"][0]["start"] == 14.25
    assert finding["mentions"][0]["quote"].startswith("This left elbow")
    figure = data["figures"][0]
    assert (figure["measure"], figure["observed"], figure["target"], figure["unit"]) == (
        "elbow_angle", [155, 155], [90, 120], "deg",
    )  # fmt: skip
    drill = data["drills"][0]
    assert drill["for"] == ["elbow_drops"]
    assert (drill["reps"], drill["distance_m"], drill["rest_s"]) == (6, 50, 20)
    assert drill["equipment"] == ["fins"]
    assert data["causes"] == [["head_lifts", "hips_sink"]]


def test_json_numbers_are_short_and_the_file_ends_with_a_line(review: Review) -> None:
    text = review_json(review)
    assert '"certainty": 0.912\n' in text
    assert '"margin": 35,' in text
    assert text.endswith("}\n")


def test_the_table_has_a_row_for_each_correction(review: Review) -> None:
    table = rows(review)
    assert list(table[0]) == list(COLUMNS)
    assert [row["code"] for row in table] == [
        "elbow_drops", "head_lifts", "hips_sink", "fingers_spread",
    ]  # fmt: skip
    first = table[0]
    assert first["moments"] == "0:14; 0:19; 1:22"
    assert first["first_start_s"] == "14.25"
    assert (first["measured"], first["aim"], first["aim_from"]) == (
        "155", "90 to 120", "spoken target",
    )  # fmt: skip
    assert (first["unit"], first["outcome"], first["margin"]) == ("deg", "over", "35")
    assert first["drills"] == "single_arm; scull_front"


def test_every_line_of_the_table_ends_as_rfc_4180_says(review: Review) -> None:
    text = corrections_csv(review)
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert len(text.splitlines()) == 1 + len(review.corrections)


def test_quotes_commas_and_line_ends_stay_in_their_cell(review: Review) -> None:
    quote = 'she said "up, up",\r\nthen; left'
    assert rows(with_quote(review, quote))[0]["said"] == 'she said "up, up", then; left'


@pytest.mark.parametrize(
    "formula", ["=1+2", "+1", "-1+2", "@SUM(A1)", "\t=1", "\r=1", "＝1", " =HYPERLINK(A1)"]
)
def test_no_cell_is_taken_for_a_formula(review: Review, formula: str) -> None:
    """= + - @ are the risky characters of CWE-1236; their wide forms are from memory."""
    said = rows(with_quote(review, formula))[0]["said"]
    assert said == f"'{formula.strip()}"


def test_the_same_review_gives_the_same_bytes(
    review: Review, transcript: Transcript, vocabulary: Vocabulary
) -> None:
    files = feedback_files(review, transcript, vocabulary)
    again = Review.model_validate_json(review.model_dump_json(by_alias=True))
    assert feedback_files(again, transcript, vocabulary) == files
    assert sorted(files) == [
        "captions.vtt", "chapters.vtt", "corrections.csv", "feedback.html", "feedback.md",
        "for-coach.md", "pool-card.html", "review.json", "transcript.vtt",
    ]  # fmt: skip
