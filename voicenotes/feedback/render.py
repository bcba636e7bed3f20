"""Renders a review's files. The same review gives the same bytes."""

import re
from functools import lru_cache
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

from voicenotes.feedback.data import corrections_csv, review_json
from voicenotes.feedback.escape import as_markdown, own_markdown, own_markdown_as_html, plain
from voicenotes.feedback.tell import tell
from voicenotes.review import Review
from voicenotes.transcript import Transcript
from voicenotes.transcript.formats import write_vtt
from voicenotes.vocabulary.model import Vocabulary
from voicenotes.words import ends, moment, number

TEMPLATES = Path(__file__).parent / "templates"


def feedback_files(
    review: Review, transcript: Transcript, vocabulary: Vocabulary
) -> dict[str, bytes]:
    """The files of one review by name: data, the swimmer's pages, the coach's, the transcript."""
    view = tell(review, vocabulary)
    markdown, html = _environment("markdown"), _environment("html")
    texts = {
        "review.json": review_json(review),
        "transcript.vtt": write_vtt(transcript),
        "corrections.csv": corrections_csv(review),
        "feedback.md": _tidied(markdown.get_template("feedback.md").render(v=view, r=review)),
        "for-coach.md": _tidied(markdown.get_template("for-coach.md").render(v=view, r=review)),
        "feedback.html": html.get_template("feedback.html").render(v=view, r=review),
    }
    return {name: text.encode("utf-8") for name, text in texts.items()}


@lru_cache(maxsize=2)
def _environment(kind: str) -> Environment:
    """Templates for HTML or Markdown; either way, text from outside comes out as text."""
    environment = Environment(
        loader=FileSystemLoader(TEMPLATES, encoding="utf-8"),
        undefined=StrictUndefined,
        autoescape=True,
        finalize=_shown_in_markdown if kind == "markdown" else _shown_in_html,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    own = own_markdown if kind == "markdown" else own_markdown_as_html
    environment.filters |= {
        "moment": moment,
        "number": number,
        "ends": ends,
        "upper_first": lambda text: text[:1].upper() + text[1:],
        "lower_first": _lower_first,
        "own": lambda text: Markup(own(text)),  # both escape all but emphasis
    }
    return environment


def _lower_first(text: str) -> str:
    """A name inside a sentence; one that starts with capitals ("SWOLF") keeps them."""
    return text if text[1:2].isupper() else text[:1].lower() + text[1:]


def _shown_in_markdown(value: object) -> Markup:
    return _one_line(value) if isinstance(value, Markup) else Markup(as_markdown(_text(value)))


def _shown_in_html(value: object) -> str:
    return _one_line(value) if isinstance(value, Markup) else plain(_text(value))


def _one_line(value: Markup) -> Markup:
    """What a macro gave, without the line breaks of its template; it is escaped already."""
    return Markup(" ".join(value.split()))


def _text(value: object) -> str:
    """Text of a value; None in a page is a slip of the template, not a word to print."""
    if value is None:
        raise TypeError("a template shows a value that is not there")
    return str(value)


def _tidied(text: str) -> str:
    """Markdown with single empty lines and no blanks at line ends."""
    return re.sub(r"\n{3,}", "\n\n", re.sub(r"[ \t]+\n", "\n", text)).strip() + "\n"
