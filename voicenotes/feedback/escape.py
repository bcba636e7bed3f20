"""Text from outside (speech, names, the vocabulary) made safe to show."""

import re
import unicodedata
from functools import lru_cache

from markdown_it import MarkdownIt

_TURNS_TEXT = dict.fromkeys([0x61C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A)])
"""Marks that turn the direction of the text around them; they would reorder what stands beside."""

_LINKS = r"(?<=:)(?=//)|(?<=www)(?=\.)"
_ENTITY = r"&(?=#?\w+;)"
_ANY_MARKUP = re.compile(rf"[\\`*_\[\]<>|~$]|{_ENTITY}|{_LINKS}", re.IGNORECASE)
_ESCAPED = r"\\[!-/:-@\[-`{-~]"
_MORE_THAN_EMPHASIS = re.compile(rf"{_ESCAPED}|[\\`\[\]<>|~$]|{_ENTITY}|{_LINKS}", re.IGNORECASE)
_STARTS_A_BLOCK = re.compile(
    r"([-+=#](?=[-+=#\s]|$)|\*(?=\s|$)|[*_](?=[*_\s]*$))|[0-9]+([.)])(?=\s|$)"
)


def plain(text: str) -> str:
    """A text on one line, without control characters and marks that turn its direction."""
    shown = text.translate(_TURNS_TEXT)
    shown = "".join(" " if unicodedata.category(c) in {"Cc", "Cs"} else c for c in shown)
    return " ".join(shown.split())


def as_markdown(text: str) -> str:
    """A text that reads as itself in Markdown: nothing in it is markup, a link or HTML."""
    return _escaped(text, _ANY_MARKUP)


def own_markdown(text: str) -> str:
    """A vocabulary's own text for a Markdown file: its emphasis stays, all other markup is text."""
    return _escaped(text, _MORE_THAN_EMPHASIS)


def own_markdown_as_html(text: str) -> str:
    """A vocabulary's own text as HTML: its emphasis stays, all other markup is text."""
    html: str = _emphasis_only().renderInline(plain(text))
    return html


def without_emphasis(text: str) -> str:
    """A vocabulary's own text as bare words: the marks of its emphasis are gone."""
    inline = _emphasis_only().parseInline(plain(text))[0].children or []
    return "".join(token.content for token in inline)


def _escaped(text: str, unsafe: re.Pattern[str]) -> str:
    safe = unsafe.sub(_with_backslash, plain(text))
    start = _STARTS_A_BLOCK.match(safe)
    if not start:
        return safe
    place = start.start(start.lastindex or 0)
    return f"{safe[:place]}\\{safe[place:]}"


def _with_backslash(found: re.Match[str]) -> str:
    """What was found, escaped; what its writer escaped already stays so."""
    markup = found.group()
    return markup if len(markup) == 2 else f"\\{markup}"


@lru_cache(maxsize=1)
def _emphasis_only() -> MarkdownIt:
    return MarkdownIt("zero", {"html": False}).enable(["emphasis", "escape"])
