"""The narration's text: lines to speak, and the silences between them."""

import re
from dataclasses import dataclass
from pathlib import Path

SILENCE = re.compile(r"\((?P<seconds>\d+(?:\.\d+)?) s\)")


@dataclass(frozen=True)
class Line:
    """One sentence to speak; ``pause_before`` is silence in seconds."""

    id: str
    text: str
    pause_before: float


def read_script(path: Path) -> list[Line]:
    """Read a narration: a sentence a line, a silence as ``(2.5 s)`` on a line of its own.

    Lines are numbered l1, l2, ... in the order they are spoken.
    """
    lines: list[Line] = []
    pause = 0.0
    for text in filter(None, (row.strip() for row in path.read_text("utf-8").splitlines())):
        if silence := SILENCE.fullmatch(text):
            pause += float(silence["seconds"])
        else:
            lines.append(Line(f"l{len(lines) + 1}", text, pause))
            pause = 0.0
    return lines
