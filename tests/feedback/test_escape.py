import re
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from voicenotes.feedback.escape import as_markdown, own_markdown, own_markdown_as_html, plain

NASTY = st.text(
    st.one_of(st.sampled_from(list("\\`*_{}[]<>()#+-.!|~&;:=$\"'/ \n\t1aw")), st.characters()),
    max_size=40,
)


class Page(HTMLParser):
    """The tags and the text of some HTML."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.text = ""
        self.feed(html)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)

    def handle_data(self, data: str) -> None:
        self.text += data


def rendered(markdown: str) -> Page:
    """As a reader that lets HTML, tables and strike-through pass shows it."""
    reader = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"])
    return Page(reader.render(markdown))


@given(NASTY)
def test_text_in_markdown_reads_as_itself(text: str) -> None:
    page = rendered(f"- **x** {as_markdown(text)}\n\n{as_markdown(text)}\n")
    shown = [" ".join(line.split()) for line in page.text.split("\n") if line.strip()]
    assert set(page.tags) <= {"ul", "li", "strong", "p"}
    assert " ".join(shown) == " ".join(f"x {plain(text)} {plain(text)}".split())


@given(NASTY)
def test_text_in_a_table_stays_in_its_cell(text: str) -> None:
    page = rendered(f"| a | b |\n| --- | --- |\n| {as_markdown(text)} | y |\n")
    assert page.tags.count("td") == 2
    assert set(page.tags) <= {"table", "thead", "tbody", "tr", "th", "td"}


@given(NASTY)
def test_own_text_holds_emphasis_and_no_more(text: str) -> None:
    allowed = {"p", "em", "strong"}
    assert set(rendered(own_markdown(text)).tags) <= allowed
    assert set(Page(own_markdown_as_html(text)).tags) <= allowed


@given(NASTY)
def test_own_text_reads_the_same_on_both_pages(text: str) -> None:
    in_markdown = " ".join(rendered(own_markdown(text)).text.split())
    assert in_markdown == " ".join(Page(own_markdown_as_html(text)).text.split())


def test_own_emphasis_is_kept() -> None:
    assert own_markdown_as_html("elbow *high*, **now**") == (
        "elbow <em>high</em>, <strong>now</strong>"
    )  # fmt: skip
    assert own_markdown("elbow *high*") == "elbow *high*"


@pytest.mark.parametrize(
    "text",
    [
        "<script>alert(1)</script>",
        "\\<script\\>alert(1)\\</script\\>",
        "![x](https://example.org/x.png)",
        "[x](javascript:alert(1))",
        "\\[x\\](javascript:alert(1))",
        "<https://example.org>",
        "&lt;script&gt;",
    ],
)
def test_own_text_cannot_bring_in_markup(text: str) -> None:
    for html in (own_markdown_as_html(text), MarkdownIt("commonmark").render(own_markdown(text))):
        assert not re.search(r"<(?!/?(?:p|em|strong)>)", html)


def test_marks_that_turn_text_and_control_characters_go() -> None:
    assert plain("left\u202eelbow\u2066\u200f \x07\x00low\n") == "leftelbow low"
    assert plain("\U0001f3ca\u200d♀️ swims") == "\U0001f3ca\u200d♀️ swims"
    assert plain("مرفق منخفض") == "مرفق منخفض"


def test_plain_prose_stays_plain() -> None:
    prose = "Left elbow: 155° (aim for 90-120), 6 x 50 m, 20 s rest! That's it; R&D 1.5 - yes."
    assert as_markdown(prose) == prose
