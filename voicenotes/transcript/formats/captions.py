"""WebVTT and SubRip in, WebVTT out.

Read here rather than by a subtitle library: those at hand run comments, cue names and cues with
a broken time into the text of the cue before, and give no line to point at.
"""

import html
import re
from collections.abc import Iterator

from voicenotes.errors import InputError
from voicenotes.transcript.formats.clock import TIME, check_forwards, seconds_of, stamp_of
from voicenotes.transcript.model import Cue, Doubt, Transcript

_TIMING = re.compile(rf"\s*({TIME})\s*-->\s*({TIME})(?:\s+.*)?")
_MEANT_AS_TIMING = re.compile(
    r"\s*(?![\[<])\S*[0-9]\S*\s*-->"  # any arrow behind a number
    r"|\s*-->\s*[0-9]"  # no start
    r"|\s*[0-9:]+[.,][0-9]{1,3}\s*(?:[-=–—]+>|→|[-–—]+)\s*[0-9:]+[.,][0-9]{1,3}\s*$"  # other arrows
)
_TAG = re.compile(
    r"</?(?:c|i|b|u|s|v|lang|ruby|rt|font)(?:\.[^\s<>]*)?(?:\s[^<>]*)?>|<[0-9:.]+>", re.IGNORECASE
)
_POSITION = re.compile(r"\{\\[^}]*\}")
_BLOCK_WORDS = ("NOTE", "STYLE", "REGION")

_Line = tuple[int, str]


def is_captions(text: str) -> bool:
    """Whether a text is WebVTT or SubRip: by its first word, or a line of cue times."""
    return text.startswith("WEBVTT") or any(map(_MEANT_AS_TIMING.match, _lines(text)))


def read_captions(text: str, where: str) -> tuple[Cue, ...]:
    """The cues of a WebVTT or SubRip text, each as one line of plain words.

    Comments, styles, cue names, settings and tags are layout and left out; words that stand
    outside a cue after an empty line belong to the cue before. Raises InputError, with ``where``
    and the line, for broken times and times that run backwards.
    """
    found: list[tuple[float, float, list[str]]] = []
    for block in _blocks(text):
        for head, body in _split_at_timings(block):
            if head is None:
                if found and not _is_layout(body):
                    found[-1][2].extend(line for _, line in body)
                continue
            before = found[-1][0] if found else None
            start, end = _times(head, where, len(found) + 1, before)
            found.append((start, end, [line for _, line in body]))
    cues = (Cue(start=s, end=e, text=_plain_words(lines)) for s, e, lines in found)
    return tuple(cue for cue in cues if cue.text)


def write_vtt(transcript: Transcript) -> str:
    """A transcript as WebVTT, one cue a line of text, without cue names or settings.

    Cues without words are left out; a cue of no length lasts a thousandth of a second, since
    WebVTT wants each to end after it starts. What was dropped or could not be read stands in
    comments, where it would have been said.
    """
    out = ["WEBVTT", ""]
    if not transcript.timed:
        out += ["NOTE The times are guessed from the length of the text.", ""]
    left = sorted(transcript.doubts, key=lambda doubt: doubt.start)
    for cue in transcript.cues:
        while left and left[0].start < cue.start:
            out += [_comment(left.pop(0)), ""]
        words = " ".join(cue.text.replace("\0", " ").split())
        if words:
            start = round(cue.start, 3)
            end = max(round(cue.end, 3), start + 0.001)
            out += [f"{stamp_of(start)} --> {stamp_of(end)}", html.escape(words, quote=False), ""]
    for doubt in left:
        out += [_comment(doubt), ""]
    return "\n".join(out)


def _comment(doubt: Doubt) -> str:
    """A doubt as a comment: a line of its own, without the arrow that would end it."""
    words = html.escape(" ".join(doubt.text.replace("\0", " ").split()), quote=False)
    place = f"{stamp_of(doubt.start)} to {stamp_of(doubt.end)}"
    reason = doubt.reason.replace("_", " ")
    return f"NOTE {place}: {reason}" + (f": {words}" if words else "")


def _lines(text: str) -> list[str]:
    """Lines as WebVTT ends them: str.splitlines would also break at rarer characters."""
    return re.split(r"\r\n|\n|\r", text)


def _blocks(text: str) -> Iterator[list[_Line]]:
    """Runs of lines between empty ones, each line with its number."""
    block: list[_Line] = []
    for number, line in enumerate([*_lines(text), ""], start=1):
        if line.strip():
            block.append((number, line))
        elif block:
            yield block
            block = []


def _split_at_timings(
    block: list[_Line],
) -> Iterator[tuple[_Line | None, list[_Line]]]:
    """A block's cues: the line of times (None for words before the first) and the lines under it.

    The line above the times is the cue's name where it starts the block or is a number.
    """
    head: _Line | None = None
    body: list[_Line] = []
    for line in block:
        if not _MEANT_AS_TIMING.match(line[1]):
            body.append(line)
            continue
        if body and (body[-1][1].strip().isdigit() or (head is None and len(body) == 1)):
            body.pop()
        if head is not None or body:
            yield head, body
        head, body = line, []
    yield head, body


def _is_layout(lines: list[_Line]) -> bool:
    """Comments, styles, regions, and a number cut off from its cue by an empty line."""
    first = lines[0][1].strip()
    return first.split()[0] in _BLOCK_WORDS or (len(lines) == 1 and first.isdigit())


def _times(head: _Line, where: str, cue: int, before: float | None) -> tuple[float, float]:
    number, line = head
    here = f"{where}, line {number}"
    found = _TIMING.fullmatch(line)
    start, end = (seconds_of(found[1]), seconds_of(found[2])) if found else (None, None)
    if start is None or end is None:
        raise InputError(
            f"broken time {line.strip()[:60]!r}", here, "write it as 00:00:05.000 --> 00:00:07.500"
        )
    check_forwards(f"cue {cue}", here, start, end, before)
    return start, end


def _plain_words(lines: list[str]) -> str:
    """Text without tags, then with its character references read; on one line."""
    bare = (_POSITION.sub("", _TAG.sub("", line)) for line in lines)
    return " ".join(html.unescape(" ".join(bare)).split())
