"""The plan as a calendar: iCalendar (RFC 5545), one day-long event a session."""

import hashlib
from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from voicenotes.feedback.escape import plain
from voicenotes.review import Review

LINE_OCTETS = 75
"""Octets of a line before it is folded (RFC 5545, section 3.1)."""

WEEK_DAYS = 7


def days(start: date, sessions: int) -> list[date]:
    """A day for each session of a week, spread evenly from the first."""
    return [start + timedelta(days=index * WEEK_DAYS // sessions) for index in range(sessions)]


def plan_ics(review: Review, start: date, texts: Sequence[tuple[str, str]]) -> str:
    """The sessions as events; ``texts`` holds title and description of each, line ends as they are.

    An event keeps its UID when the coach edits the review or moves its start, so that a calendar
    takes the new plan for the old one's. Its stamp is the day the plan starts: the same review
    gives the same bytes.
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//voicenotes//plan//EN"]
    on = days(start, len(texts))
    for number, (day, (title, words)) in enumerate(zip(on, texts, strict=True), start=1):
        lines += [
            "BEGIN:VEVENT",
            f"UID:{_uid(review, number)}",
            f"DTSTAMP:{start:%Y%m%d}T000000Z",
            f"DTSTART;VALUE=DATE:{day:%Y%m%d}",
            f"DTEND;VALUE=DATE:{day + timedelta(days=1):%Y%m%d}",
            f"SUMMARY:{_text(title)}",
            f"DESCRIPTION:{_text(words)}",
            "TRANSP:TRANSPARENT",
            "END:VEVENT",
        ]
    lines.append("END:VCALENDAR")
    return "".join(f"{_folded(line)}\r\n" for line in lines)


def _uid(review: Review, number: int) -> str:
    """A name that no other review's session has."""
    heard = review.heard.findings if review.heard else review.findings
    said = "\n".join(mention.quote for finding in heard for mention in finding.mentions)
    key = f"{review.name}\n{review.brief.swimmer}\n{review.duration:.3f}\n{said}"
    return f"{hashlib.sha256(key.encode('utf-8')).hexdigest()[:32]}-{number}@voicenotes"


def _text(value: str) -> str:
    """A TEXT value (RFC 5545, section 3.3.11)."""
    lines = (plain(line) for line in value.split("\n"))
    escaped = (line.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,") for line in lines)
    return "\\n".join(escaped)


def _folded(line: str) -> str:
    """A content line in pieces of LINE_OCTETS, never inside a character."""
    return "\r\n ".join(_pieces(line))


def _pieces(line: str) -> Iterable[str]:
    piece, size, room = "", 0, LINE_OCTETS
    for character in line:
        octets = len(character.encode("utf-8"))
        if size + octets > room:
            yield piece
            piece, size, room = "", 0, LINE_OCTETS - 1  # a folded line begins with a blank
        piece += character
        size += octets
    yield piece
