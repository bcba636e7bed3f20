"""Finds out what kind of transcript a file is, and reads it."""

from pathlib import Path

from voicenotes.errors import InputError
from voicenotes.transcript.formats.captions import is_captions, read_captions
from voicenotes.transcript.formats.own_json import read_own_json
from voicenotes.transcript.formats.text import read_text
from voicenotes.transcript.language import language_of
from voicenotes.transcript.model import Transcript
from voicenotes.transcript.repeats import drop_trailer, join_overlaps

SUFFIXES = frozenset({".vtt", ".srt", ".json", ".txt", ".md"})
"""What transcripts are called."""

_HEAD_BYTES = 4096
_LIMIT_BYTES = 20_000_000
_KINDS = "give WebVTT, SubRip, text or the tool's own JSON"


def looks_like_transcript(path: Path) -> bool:
    """Whether a file is meant as a transcript: by its suffix, or as it starts like captions."""
    if path.suffix.lower() in SUFFIXES:
        return True
    try:
        with path.open("rb") as file:
            head = file.read(_HEAD_BYTES)
    except OSError:
        return False
    return is_captions(head.decode("utf-8-sig", errors="ignore"))


def read_transcript(path: Path) -> Transcript:
    """Reads a transcript, whatever its kind: content decides, not the suffix.

    Text that was repeated by rolling captions or by a trailer at the start is dropped on record.
    Raises InputError, naming file, line and remedy, for a file that is missing, a folder, empty,
    not UTF-8, without cues, or with times that are broken or run backwards.
    """
    where = str(path)
    text = _decoded(_bytes_of(path), where)
    if not text.strip():
        raise InputError("is empty", where, "give a transcript with words in it")
    if path.suffix.lower() == ".json" or text.lstrip()[:1] == "{":
        return read_own_json(text, where)
    if is_captions(text):
        cues, doubts = join_overlaps(read_captions(text, where))
        timed = True
    else:
        cues, doubts, timed = read_text(text, where)
    if not cues:
        raise InputError("has no cues with words", where, _KINDS)
    cues, trailer = drop_trailer(cues)
    return Transcript(
        name=path.stem,
        cues=cues,
        duration=max(cue.end for cue in cues),
        language=language_of(cue.text for cue in cues),
        timed=timed,
        doubts=tuple(sorted((*doubts, *trailer), key=lambda doubt: doubt.start)),
    )


def _bytes_of(path: Path) -> bytes:
    where = str(path)
    try:
        if path.is_dir():
            raise InputError("is a folder", where, "name a file in it")
        if not path.exists():
            raise InputError("no such file", where, "check its name")
        if path.stat().st_size > _LIMIT_BYTES:
            raise InputError("is too large for a transcript", where, _KINDS)
        return path.read_bytes()
    except OSError as error:
        reason = (error.strerror or "failed").lower()
        raise InputError(f"cannot be read ({reason})", where, "check the file") from error


def _decoded(data: bytes, where: str) -> str:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        here = f"{where}, line {line}"
        raise InputError("is not UTF-8 text", here, "save it as UTF-8") from error
    if "\0" in text:
        line = text[: text.index("\0")].count("\n") + 1
        raise InputError("is not text", f"{where}, line {line}", _KINDS)
    return text
