"""plan.ics against RFC 5545, read by icalendar, an independent library."""

from datetime import date, timedelta
from typing import Any

import icalendar
import pytest
from hypothesis import given
from hypothesis import strategies as st

from voicenotes.feedback import feedback_files
from voicenotes.feedback.calendar import LINE_OCTETS, days, plan_ics
from voicenotes.feedback.escape import plain
from voicenotes.review import Review
from voicenotes.transcript import Transcript
from voicenotes.vocabulary.model import Vocabulary

MONDAY = date(2026, 3, 2)


def events(text: str | bytes) -> list[Any]:
    calendar = icalendar.Calendar.from_ical(text)
    assert calendar["VERSION"] == "2.0"
    assert not calendar.errors
    found = list(calendar.walk("VEVENT"))
    assert all(not event.errors for event in found)
    return found


@pytest.fixture
def plan(review: Review, transcript: Transcript, vocabulary: Vocabulary) -> bytes:
    brief = review.brief.model_copy(update={"start": MONDAY})
    started = review.model_copy(update={"brief": brief})
    return feedback_files(started, transcript, vocabulary)["plan.ics"]


def test_each_session_is_a_day_of_its_own(plan: bytes) -> None:
    first, second = events(plan)
    assert first["DTSTART"].dt == MONDAY
    assert first["DTEND"].dt == MONDAY + timedelta(days=1)
    assert second["DTSTART"].dt == MONDAY + timedelta(days=3)
    assert first["SUMMARY"] == "Swim, session 1: one part of the stroke"
    words = str(first["DESCRIPTION"]).splitlines()
    assert words[0] == "1100 m, about 32 minutes."
    assert words[2] == (
        "Drills: 6 x 50 m single-arm swimming, 20 s rest, with fins"
        " (Fingertips down first, elbow high, as if reaching over a barrel)"
    )
    assert first["UID"] != second["UID"]


def test_without_a_day_to_start_there_is_no_calendar(
    review: Review, transcript: Transcript, vocabulary: Vocabulary
) -> None:
    assert "plan.ics" not in feedback_files(review, transcript, vocabulary)


def test_lines_are_as_rfc_5545_wants_them(plan: bytes) -> None:
    """Section 3.1: CRLF, and no line longer than 75 octets."""
    lines = plan.split(b"\r\n")
    assert lines[-1] == b""
    assert not any(b"\n" in line for line in lines)
    assert max(map(len, lines)) <= LINE_OCTETS
    for line in lines:
        line.decode("utf-8")


@given(st.text(max_size=300))
def test_any_words_read_the_same_elsewhere(words: str) -> None:
    from tests.feedback.sample import sample_review

    text = plan_ics(sample_review(), MONDAY, [(words, f"{words}\n{words}")])
    (event,) = events(text)
    shown = "\n".join(plain(line) for line in words.split("\n"))
    assert event["SUMMARY"] == shown
    assert max(len(line.encode("utf-8")) for line in text.split("\r\n")) <= LINE_OCTETS


def test_an_edited_plan_takes_the_place_of_the_old_one(review: Review) -> None:
    """Section 3.8.4.7: the same UID is the same event."""
    moved = plan_ics(review, MONDAY + timedelta(days=7), [("a", "b")])
    edited = review.model_copy(update={"corrections": ()})
    uids = {events(text)[0]["UID"] for text in (moved, plan_ics(edited, MONDAY, [("c", "d")]))}
    assert len(uids) == 1


@pytest.mark.parametrize(
    ("sessions", "after"),
    [(1, [0]), (2, [0, 3]), (3, [0, 2, 4]), (4, [0, 1, 3, 5]), (7, [0, 1, 2, 3, 4, 5, 6])],
)
def test_sessions_are_spread_evenly_over_a_week(sessions: int, after: list[int]) -> None:
    assert [(day - MONDAY).days for day in days(MONDAY, sessions)] == after
