"""Templates of the pages: the project's own, and a coach's in their place, in a sandbox."""

import difflib
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path
from typing import Literal

from jinja2 import Environment, FileSystemLoader, StrictUndefined, TemplateError
from jinja2.sandbox import ImmutableSandboxedEnvironment
from markupsafe import Markup

from voicenotes.errors import InputError
from voicenotes.feedback.card import short_focus
from voicenotes.feedback.escape import as_markdown, own_markdown, own_markdown_as_html, plain
from voicenotes.words import day, ends, moment, number

TEMPLATES = Path(__file__).parent / "templates"
Kind = Literal["html", "markdown", "text"]


@lru_cache(maxsize=12)
def environment(kind: Kind, own: Path | None = None) -> Environment:
    """Templates for HTML, Markdown or bare text; text from outside comes out as text.

    Those in the folder ``own`` stand in for the project's of the same name. They run in a
    sandbox: a template that someone handed on cannot reach files or run programs. Raises
    InputError for a folder that holds no templates, or one of an unknown name.
    """
    if own is not None:
        check_templates(own)
    folders = [folder for folder in (own, TEMPLATES) if folder is not None]
    shown, own_text = {
        "html": (_shown_in_html, own_markdown_as_html),
        "markdown": (_shown_in_markdown, own_markdown),
        "text": (_shown_as_text, plain),
    }[kind]
    made = ImmutableSandboxedEnvironment(
        loader=FileSystemLoader(folders, encoding="utf-8"),
        undefined=StrictUndefined,
        autoescape=kind != "text",
        finalize=shown,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    made.filters |= {
        "moment": moment,
        "day": day,
        "number": number,
        "ends": ends,
        "upper_first": lambda text: text[:1].upper() + text[1:],
        "lower_first": _lower_first,
        "focus": short_focus,
        "own": lambda text: Markup(own_text(text)),  # both escape all but emphasis
    }
    return made


def check_templates(own: Path) -> None:
    """Raises InputError for a folder that holds no templates, or one of an unknown name."""
    known = {path.name for path in TEMPLATES.iterdir()}
    if not own.is_dir():
        raise InputError("no such folder of templates", str(own), "check its name")
    files = sorted(path.name for path in own.iterdir() if not path.name.startswith("."))
    if not files:
        raise InputError("holds no templates", str(own), f"put one of {_names(known)} into it")
    for name in files:
        if name not in known:
            close = difflib.get_close_matches(name, known, n=1)
            hint = f" (did you mean {close[0]!r}?)" if close else ""
            raise InputError(
                f"no page is made from {name!r}{hint}", str(own), f"use {_names(known)}"
            )


@contextmanager
def templates_of(own: Path | None) -> Iterator[None]:
    """Tells the place of a slip in the coach's own templates in one line (InputError)."""
    try:
        yield
    except (TemplateError, TypeError, ValueError, LookupError, ArithmeticError) as error:
        if own is None:
            raise
        place = getattr(error, "filename", None) or str(own)
        line = getattr(error, "lineno", None)
        for frame in traceback.extract_tb(error.__traceback__):
            if Path(frame.filename).parent == own:
                place, line = frame.filename, frame.lineno
        what = " ".join(str(error).split()) or type(error).__name__
        where = f"{place}, line {line}" if line else place
        raise InputError(f"cannot be used ({what})", where, "mend the template") from error


def _names(known: set[str]) -> str:
    return ", ".join(sorted(known))


def _lower_first(text: str) -> str:
    """A name inside a sentence; one that starts with capitals ("SWOLF") keeps them."""
    return text if text[1:2].isupper() else text[:1].lower() + text[1:]


def _shown_in_markdown(value: object) -> Markup:
    return _one_line(value) if isinstance(value, Markup) else Markup(as_markdown(_text(value)))


def _shown_in_html(value: object) -> str:
    return _one_line(value) if isinstance(value, Markup) else plain(_text(value))


def _shown_as_text(value: object) -> str:
    return plain(_text(value))


def _one_line(value: Markup) -> Markup:
    """What a macro gave, without the line breaks of its template; it is escaped already."""
    return Markup(" ".join(value.split()))


def _text(value: object) -> str:
    """Text of a value; None in a page is a slip of the template, not a word to print."""
    if value is None:
        raise TypeError("a template shows a value that is not there")
    return str(value)
