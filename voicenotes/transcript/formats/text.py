"""Text with time marks at the start of paragraphs, or with none; plain or Markdown."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from markdown_it import MarkdownIt
from markdown_it.token import Token

from voicenotes.errors import InputError
from voicenotes.transcript.formats.clock import TIME, check_forwards, seconds_of
from voicenotes.transcript.model import Cue, Doubt

WORDS_A_SECOND = 150 / 60
"""An easy speaking rate of 150 words a minute (common practice), to guess times by."""

LONGEST = 2.0
"""A passage is taken to last until the next mark, but no longer than this many times its guess."""

_MARK = re.compile(rf"\[\s*({TIME})\s*(?:(?:-+>?|–|—|to)\s*({TIME})\s*)?\]\s*(?:[:–—-]\s)?")
_MEANT_AS_MARK = re.compile(r"\[\s*[0-9]+\s*:[^\]]*\]")
_FRONT_MATTER = re.compile(r"\A---[ \t]*\n.*?^(?:---|\.\.\.)[ \t]*$", re.DOTALL | re.MULTILINE)
_SENTENCE_END = re.compile(r"(?<=[.!?…])\s+")


@dataclass(frozen=True)
class _Line:
    """A line of the text without its Markdown; ``number`` counts from 1 in the file."""

    number: int
    text: str
    heading: bool = False


@dataclass(frozen=True)
class _Passage:
    """What stands under one mark. Times are seconds."""

    start: float
    end: float | None
    spoken: list[str] = field(default_factory=list)
    headings: list[str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """Its words; those of a heading only where nothing else stands under the mark."""
        return " ".join(self.spoken or self.headings)


def read_text(text: str, where: str) -> tuple[tuple[Cue, ...], tuple[Doubt, ...], bool]:
    """Cues of a text, what was left out, and whether its times were given.

    A mark is ``[m:ss]`` or ``[h:mm:ss]`` at the start of a line, or a time alone on its line.
    Headings and front matter are layout. A passage ends at the next mark, or sooner where that
    would make its words very slow. Text without marks is given times by its length. Raises
    InputError for marks that are broken or run backwards.
    """
    lines = list(_plain_lines(text))
    passages, preamble = _passages(lines, where)
    if not passages:
        return _guessed(lines), (), False
    doubts: tuple[Doubt, ...] = ()
    if preamble:
        first = passages[0].start
        if first > 0:
            passages = [_Passage(0.0, first, preamble), *passages]
        else:
            doubts = (Doubt(start=0, end=0, reason="filler", text=" ".join(preamble)),)
    return _timed(passages), doubts, True


def _passages(lines: list[_Line], where: str) -> tuple[list[_Passage], list[str]]:
    """The passages under marks, and the words before the first mark."""
    passages: list[_Passage] = []
    preamble: list[str] = []
    for line in lines:
        rest = line.text
        mark = _mark(line, where)
        if mark:
            start, end, rest = mark
            here = f"{where}, line {line.number}"
            before = passages[-1].start if passages else None
            check_forwards("this mark", here, start, end, before)
            passages.append(_Passage(start, end))
        if rest and passages:
            (passages[-1].headings if line.heading else passages[-1].spoken).append(rest)
        elif rest and not line.heading:
            preamble.append(rest)
    return passages, preamble


def _mark(line: _Line, where: str) -> tuple[float, float | None, str] | None:
    """A line's mark in seconds, and what follows it."""
    alone = seconds_of(line.text)
    if alone is not None:
        return alone, None, ""
    found = _MARK.match(line.text)
    start = seconds_of(found[1]) if found else None
    end = seconds_of(found[2]) if found and found[2] else None
    if found and start is not None and (end is not None or not found[2]):
        return start, end, line.text[found.end() :].strip()
    if broken := _MEANT_AS_MARK.match(line.text):
        raise InputError(
            f"broken time {broken.group()[:40]!r}",
            f"{where}, line {line.number}",
            "write it as [1:05] or [1:02:05]",
        )
    return None


def _timed(passages: list[_Passage]) -> tuple[Cue, ...]:
    cues: list[Cue] = []
    for at, passage in enumerate(passages):
        if not passage.text:
            continue
        guess = _seconds_to_say(passage.text)
        following = [later.start for later in passages[at + 1 :] if later.start > passage.start]
        end = passage.end
        if end is None:
            end = passage.start + (guess * LONGEST if following else guess)
        end = min([end, *following[:1]])
        if cues and cues[-1].start == passage.start:
            text = f"{cues[-1].text} {passage.text}"
            cues[-1] = Cue(start=passage.start, end=max(end, cues[-1].end), text=text)
        else:
            cues.append(Cue(start=passage.start, end=round(end, 3), text=passage.text))
    return tuple(cues)


def _guessed(lines: list[_Line]) -> tuple[Cue, ...]:
    """One cue a sentence, as if spoken evenly from the start."""
    spoken = " ".join(line.text for line in lines if not line.heading and line.text)
    cues: list[Cue] = []
    start = 0.0
    for sentence in filter(None, _SENTENCE_END.split(spoken)):
        end = round(start + _seconds_to_say(sentence), 3)
        cues.append(Cue(start=start, end=end, text=sentence))
        start = end
    return tuple(cues)


def _seconds_to_say(text: str) -> float:
    return max(1, len(text.split())) / WORDS_A_SECOND


def _plain_lines(text: str) -> Iterator[_Line]:
    """The text's lines without Markdown: marks of emphasis, lists, quotes, links and HTML go."""
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    layout = _FRONT_MATTER.match(text)
    if layout:
        text = "\n" * layout.group().count("\n") + text[layout.end() :]
    # Speech with a colon, an indent or a rule under it must not turn into Markdown's rarer blocks.
    parser = MarkdownIt("commonmark").disable(["reference", "code", "lheading", "html_block"])
    heading = False
    for token in parser.parse(text):
        first = (token.map or [0])[0] + 1
        if token.type in {"heading_open", "heading_close"}:
            heading = token.type == "heading_open"
        elif token.type == "inline":
            for number, line in enumerate(_inline(token.children or []), start=first):
                yield _Line(number, line, heading)
        elif token.type == "fence":
            for number, line in enumerate(token.content.splitlines(), start=first + 1):
                yield _Line(number, " ".join(line.split()))


def _inline(tokens: list[Token]) -> list[str]:
    """The lines of a paragraph; a link that is only a time becomes a mark again."""
    lines = [""]
    linked = False
    for token in tokens:
        if token.type in {"softbreak", "hardbreak"}:
            lines.append("")
        elif token.type in {"link_open", "link_close"}:
            linked = token.type == "link_open"
        elif token.type in {"text", "code_inline"}:
            is_mark = linked and seconds_of(token.content) is not None
            lines[-1] += f"[{token.content}]" if is_mark else token.content
    return [" ".join(line.split()) for line in lines]
