"""The clip as the page knows it: where a player finds it, and its stills."""

import base64
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal
from urllib.parse import quote

from voicenotes.errors import InputError

MOST_EMBEDDED = 100 * 1024 * 1024
"""Bytes of the largest clip put inside a page; browsers on phones give up on larger pages (from
memory)."""

STILLS = "stills"
"""Folder of the review that keeps the stills, so that the page can be made without the clip."""

_TYPES = {
    ".mp4": "video/mp4",
    ".m4v": "video/mp4",
    ".mov": "video/mp4",  # the same boxes; browsers refuse the name video/quicktime
    ".webm": "video/webm",
    ".mp3": "audio/mpeg",
    ".m4a": "audio/mp4",
    ".wav": "audio/wav",
    ".ogg": "audio/ogg",
    ".opus": "audio/ogg",
    ".flac": "audio/flac",
}


@dataclass(frozen=True)
class Clip:
    """A clip that can be played; ``stills`` maps moments in seconds to JPEG pictures."""

    kind: Literal["video", "sound"]
    name: str
    sources: tuple[str, ...]
    """Addresses for a player, tried in turn."""
    stills: Mapping[float, bytes] = field(default_factory=dict)


def addresses(path: str) -> tuple[str, ...]:
    """Where a page finds its clip: at a path from the page's folder, or else beside the page.

    A coach who sends the page sends the clip beside it; until then it lies where it was found.
    """
    beside = "./" + quote(path.rsplit("/", 1)[-1])
    return (quote(path), beside) if path.startswith("../") else (beside,)


def data_address(clip: Path) -> str:
    """A clip as a data: address (RFC 2397). Raises InputError where it is too large or gone."""
    try:
        size = clip.stat().st_size
        if size > MOST_EMBEDDED:
            raise InputError(
                f"is too large for a page ({size / 1024**2:.0f} MB; {MOST_EMBEDDED // 1024**2} MB"
                " at most)", str(clip), "leave out --embed-clip and send the clip beside the page",
            )  # fmt: skip
        data = clip.read_bytes()
    except OSError as error:
        raise InputError(
            "cannot be put into the page: it is not there", str(clip), "leave out --embed-clip"
        ) from error
    kind = _TYPES.get(clip.suffix.lower(), "application/octet-stream")
    return as_data(data, kind)


def as_data(data: bytes, kind: str) -> str:
    """Bytes as a data: address."""
    return f"data:{kind};base64,{base64.b64encode(data).decode('ascii')}"


def still_name(moment: float) -> str:
    """The file of a still in the review's folder: "stills/78.27.jpg", by its second."""
    return f"{STILLS}/{moment:.2f}.jpg"


def kept_stills(folder: Path) -> dict[float, bytes]:
    """The stills that a review's folder keeps, by their moments."""
    found = sorted((folder / STILLS).glob("*.jpg"))
    return {float(path.stem): path.read_bytes() for path in found if _is_moment(path.stem)}


def _is_moment(stem: str) -> bool:
    return stem.replace(".", "", 1).isdigit()
