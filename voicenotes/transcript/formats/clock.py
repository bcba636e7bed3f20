"""Times as caption files and transcripts write them."""

import re

from voicenotes.errors import InputError

TIME = r"(?:[0-9]{1,5}:)?[0-9]{1,3}:[0-9]{2}(?:[.,][0-9]{1,3})?"
"""A time: minutes and seconds, with hours before and a fraction behind where given."""

_PARTS = re.compile(r"(?:([0-9]+):)?([0-9]+):([0-9]{2})(?:[.,]([0-9]{1,3}))?")


def seconds_of(time: str) -> float | None:
    """Seconds of a time like "1:05", "01:02:03.450" or "0:14,5"; None where it is no time.

    Seconds run to 59, and so do minutes where hours stand before them.
    """
    found = _PARTS.fullmatch(time.strip())
    if not found:
        return None
    hours, minutes, seconds = int(found[1] or 0), int(found[2]), int(found[3])
    if seconds > 59 or (found[1] and minutes > 59):
        return None
    thousandths = int((found[4] or "0").ljust(3, "0"))
    return (((hours * 60 + minutes) * 60 + seconds) * 1000 + thousandths) / 1000


def stamp_of(seconds: float) -> str:
    """Seconds as WebVTT writes them: "00:01:05.250"."""
    thousandths = round(seconds * 1000)
    minutes, thousandths = divmod(thousandths, 60_000)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02d}:{minutes:02d}:{thousandths // 1000:02d}.{thousandths % 1000:03d}"


def check_forwards(
    what: str, where: str, start: float, end: float | None, before: float | None
) -> None:
    """Raises InputError where a cue or mark ends before it starts, or starts before the last one.

    ``what`` names it ("cue 3"), ``before`` is the start of the one before; seconds.
    """
    if end is not None and end < start:
        raise InputError(
            f"{what} ends at {stamp_of(end)}, before it starts at {stamp_of(start)}",
            where,
            "mend its times",
        )
    if before is not None and start < before:
        raise InputError(
            f"{what} starts at {stamp_of(start)}, before the one above it at {stamp_of(before)}",
            where,
            "put the times in order",
        )
