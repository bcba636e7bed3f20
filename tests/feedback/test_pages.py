import re
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import icalendar
import pytest
from markdown_it import MarkdownIt

from voicenotes.feedback import feedback_files
from voicenotes.feedback.clip import Clip, addresses
from voicenotes.notes import Figure, Mention
from voicenotes.review import Review, Verdict
from voicenotes.transcript import Transcript
from voicenotes.vocabulary.model import Vocabulary

VOID = {"meta", "br", "hr", "img", "input", "link", "source", "track"}
TAGS = {
    "html", "head", "meta", "title", "style", "body", "header", "main", "footer", "section",
    "article", "h1", "h2", "h3", "p", "strong", "em", "span", "bdi", "q", "cite", "ul", "li", "dl",
    "dt", "dd", "div", "table", "thead", "tbody", "tr", "th", "td", "b", "br", "figure",
    "figcaption", "img", "video", "source", "track", "script", "svg", "rect", "line", "text",
}  # fmt: skip
ATTRIBUTES = {
    "lang", "charset", "name", "content", "http-equiv", "class", "id", "role", "aria-labelledby",
    "scope", "colspan", "data-at", "aria-label", "src", "alt", "controls", "preload", "playsinline",
    "poster", "hidden", "kind", "srclang", "label", "default", "viewbox", "x", "y", "width",
    "height", "x1", "x2", "y1", "y2",
}  # fmt: skip
HOSTILE = "\"><script>alert('x')</script><img src=x onerror=y> \u202egnp.evil {{ 7*7 }} | **b** 🏊"


class Page(HTMLParser):
    """A page's tags, headings and text; notes tags that are not closed in order."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: list[tuple[str, str]] = []
        self.headings: list[int] = []
        self.misnested: list[str] = []
        self.text = ""
        self._open: list[str] = []
        self.feed(html)
        self.close()
        self.misnested += self._open

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += [(name, value or "") for name, value in attrs]
        if re.fullmatch(r"h[1-6]", tag):
            self.headings.append(int(tag[1]))
        if tag not in VOID:
            self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if not self._open or self._open.pop() != tag:
            self.misnested.append(tag)

    def handle_data(self, data: str) -> None:
        if self._open[-1:] not in (["style"], ["script"]):
            self.text += data

    def values(self, name: str) -> list[str]:
        return [value for attribute, value in self.attributes if attribute == name]


def told(review: Review, vocabulary: Vocabulary, name: str = "feedback.md") -> str:
    transcript = Transcript(name="x", cues=(), duration=0)
    return feedback_files(review, transcript, vocabulary)[name].decode("utf-8")


def section(markdown: str, title: str) -> str:
    return markdown.split(f"\n## {title}\n")[1].split("\n## ")[0]


def with_figure(review: Review, figure: Figure, verdict: Verdict | None = None) -> Review:
    """The review with one figure alone, not tied to a correction."""
    corrections = tuple(c.model_copy(update={"figures": ()}) for c in review.corrections)
    verdicts = (verdict,) if verdict else ()
    return review.model_copy(
        update={"figures": (figure,), "verdicts": verdicts, "corrections": corrections}
    )


def hostile(value: Any, keys: frozenset[str], key: str = "") -> Any:
    """The same data with a hostile text in every field of that name."""
    if isinstance(value, dict):
        return {k: hostile(v, keys, k) for k, v in value.items()}
    if isinstance(value, list):
        return [hostile(v, keys, key) for v in value]
    return HOSTILE if isinstance(value, str) and key in keys else value


@pytest.fixture
def hostile_files(
    review: Review, transcript: Transcript, vocabulary: Vocabulary
) -> dict[str, bytes]:
    said = frozenset(
        {"quote", "text", "name", "why", "cue", "note", "remarks", "reasons", "heard", "read_as",
         "swimmer", "converted", "condition", "source", "tool", "engine", "model"}
    )  # fmt: skip
    named = frozenset({"name", "how", "why", "cue", "convention"})
    data = hostile(review.model_dump(mode="json", by_alias=True), said)
    words = hostile(vocabulary.model_dump(mode="json"), named)
    speech = hostile(transcript.model_dump(mode="json"), frozenset({"text"}))
    data["brief"] |= {"coach": HOSTILE, "greeting": HOSTILE, "sign_off": HOSTILE}
    data["brief"] |= {"start": "2026-03-02"}
    clip = Clip("video", HOSTILE, addresses(f"../../{HOSTILE}"), {14.25: b"x"})
    return feedback_files(
        Review.model_validate(data),
        Transcript.model_validate(speech),
        Vocabulary.model_validate(words),
        clip,
    )


def test_the_swimmer_is_greeted_and_praised_before_anything_is_put_right(
    review: Review, vocabulary: Vocabulary
) -> None:
    text = told(review, vocabulary)
    assert text.startswith("# Your swim review, Esme\n")
    assert text.index("Hello Esme,") < text.index("## What is good") < text.index("## Work on")
    assert "**Reach**, 0:04: “Lovely long reach out in front, Esme, keep that.”" in text


def test_a_swimmer_without_a_name_is_greeted_too(review: Review, vocabulary: Vocabulary) -> None:
    brief = review.brief.model_copy(update={"swimmer": None})
    text = told(review.model_copy(update={"brief": brief}), vocabulary)
    assert text.startswith("# Your swim review\n")
    assert "\nHello,\n" in text


def test_a_correction_says_where_what_how_far_why_and_what_to_do(
    review: Review, vocabulary: Vocabulary
) -> None:
    first = told(review, vocabulary).split("### ")[1]
    assert first.startswith("1. Elbow drops in the catch (left)\n")
    assert "**What was seen:** 0:14, 0:19, 1:22." in first
    assert "“This left elbow drops right down as you start the catch.”" in first
    assert "straight arm 180): about 155°; aim for 90–120°, so 35° over." in first
    assert "**Why it matters:** A low elbow slips" in first
    assert "**What to do:** Fingertips down first, elbow *high*" in first
    assert "**Single-arm swimming** (from your coach: 6 x 50 m, 20 s rest, with fins)." in first
    assert "**Front scull** (added)." in first


def test_only_the_corrections_for_now_are_told_at_length(
    review: Review, vocabulary: Vocabulary
) -> None:
    text = told(review, vocabulary)
    assert section(text, "Work on this now").count("### ") == 3
    assert "Fingers" not in section(text, "Work on this now")
    assert "**Fingers spread (both sides)**, 1:00." in section(text, "Later")


def test_the_plan_is_written_as_swimmers_write_sets(review: Review, vocabulary: Vocabulary) -> None:
    plan = section(told(review, vocabulary), "Your plan")
    assert "| Drills | 6 x 50 m single-arm swimming, 20 s rest, with fins. Change arms" in plan
    assert "| Warm-up | 200 m easy swim, 30 s rest (added) |  |" in plan
    assert "| Whole stroke | 4 x 100 m front crawl, leave every 2:20 (added) | Finger" in plan
    assert "1100 m, about 32 minutes.\n" in plan
    assert "about 47 minutes. That is more than the 45 minutes you have" in plan


def test_what_the_coach_prescribed_is_not_marked_as_added(
    review: Review, vocabulary: Vocabulary
) -> None:
    lines = section(told(review, vocabulary), "Your plan").splitlines()
    own = [line for line in lines if "single-arm" in line]
    assert len(own) == 2
    assert not any("(added)" in line for line in own)


def test_cautions_come_with_their_source(review: Review, vocabulary: Vocabulary) -> None:
    care = section(told(review, vocabulary), "Take care")
    assert "- Stop if anything hurts. (common practice)" in care


@pytest.mark.parametrize(
    ("observed", "target", "outcome", "margin", "shown"),
    [
        ((155, 155), (90, 120), "over", 35, "about 155°; aim for 90–120°, so 35° over."),
        ((70, 75), (90, 120), "under", 15, "70–75°; aim for 90–120°, so 15° under."),
        ((100, 100), (90, 120), "inside", 0, "about 100°; aim for 90–120°, and you are there."),
        ((115, 130), (90, 120), "straddles", 10, "115–130°; aim for 90–120°, so up to 10° over."),
        ((80, 100), (90, 120), "straddles", 10, "80–100°; aim for 90–120°, so up to 10° under."),
        ((80, 125), (90, 120), "straddles", 10,
         "80–125°; aim for 90–120°, so from 10° under to 5° over."),
        ((15, 15), (None, 5), "over", 10, "about 15°; aim for at most 5°, so 10° over."),
        ((None, 45), (60, None), "under", 15, "at most 45°; aim for at least 60°, so 15° under."),
    ],
)  # fmt: skip
def test_how_far_a_figure_is_from_its_target(
    review: Review, vocabulary: Vocabulary, observed: Any, target: Any, outcome: Any,
    margin: float, shown: str,
) -> None:  # fmt: skip
    said = Mention(start=1, end=2, quote="x")
    figure = Figure(
        measure="elbow_angle", side="right", observed=observed, target=target, unit="deg",
        mentions=(said,),
    )  # fmt: skip
    low, high = target
    verdict = Verdict(
        figure=0, outcome=outcome, margin=margin, low=low, high=high, against="spoken target"
    )
    text = told(with_figure(review, figure, verdict), vocabulary)
    assert f"- Elbow angle, right (inside angle at the elbow, straight arm 180): {shown}\n" in text


@pytest.mark.parametrize(
    ("figure", "shown"),
    [
        (Figure(measure="pace", observed=(100, 100), unit="s/100m", mentions=()),
         "Pace (time for 100 m): 1:40 per 100 m."),
        (Figure(measure="stroke_rate", target=(58, 64), unit="/min", mentions=()),
         "Stroke rate (every arm pull counts as one): aim for 58–64 strokes a minute."),
        (Figure(measure="lane_lines", side="both", observed=(2, 3), unit="ropes", mentions=()),
         "Lane lines, both sides: 2–3 ropes."),
        (Figure(measure="split", observed=(32.5, 32.5), unit="s", mentions=()),
         "Split: about 32.5 s."),
        (Figure(measure="split", observed=(65.2, 65.2), unit="s", mentions=()),
         "Split: about 1:05.2."),
    ],
)  # fmt: skip
def test_a_figure_with_nothing_to_hold_it_against(
    review: Review, vocabulary: Vocabulary, figure: Figure, shown: str
) -> None:
    assert f"- {shown}\n" in told(with_figure(review, figure), vocabulary)


def test_a_usual_range_is_not_passed_off_as_the_coachs_target(
    review: Review, vocabulary: Vocabulary
) -> None:
    numbers = section(told(review, vocabulary), "Your other numbers")
    assert "usually 58–64 strokes a minute (steady club pace; common practice)" in numbers
    assert "so up to 6 strokes a minute under" in numbers
    assert "aim for 1:30–1:34 per 100 m, so 6 s per 100 m slower" in numbers


def test_open_questions_mark_a_draft_and_stay_with_the_coach(
    review: Review, vocabulary: Vocabulary
) -> None:
    question = "Is the elbow angle really 155°?"
    for page in ("feedback.md", "feedback.html"):
        text = told(review, vocabulary, page)
        assert "Your coach has not sent this yet. There are 2 points to check" in text
        assert question not in text
        assert "scissor" not in text.lower()
    assert question in told(review, vocabulary, "for-coach.md")
    settled = review.model_copy(update={"draft": False, "approved": True})
    assert "Draft" not in told(settled, vocabulary)
    assert "Draft" not in told(settled, vocabulary, "feedback.html")


def test_the_coach_sees_what_was_set_aside_repaired_and_not_read(
    review: Review, vocabulary: Vocabulary
) -> None:
    text = told(review, vocabulary, "for-coach.md")
    assert "**Not for the swimmer.**" in text
    assert "Legs scissor, 0:55: you say it is not there (“That's not a scissor kick" in text
    assert "0:14: “L bow” read as “elbow” (sounds alike)" in text
    assert "1:10: speech that could not be read" in text
    assert "25 from straight is an inside angle of 155" in text
    assert "Session 2 takes 2 minutes longer than you have." in text
    assert "0:14, 0:19, 1:22. You put it first. It is 35° over your target." in text


def test_guessed_moments_are_told_as_guesses(review: Review, vocabulary: Vocabulary) -> None:
    made = review.made.model_copy(update={"timed": False})
    text = told(review.model_copy(update={"made": made}), vocabulary)
    assert "about 0:14, about 0:19, about 1:22" in text
    assert "The times are guessed from the length of the text." in text


def test_a_review_that_found_nothing_says_so(review: Review, vocabulary: Vocabulary) -> None:
    lists = [name for name, value in review if isinstance(value, tuple)]
    plan = review.plan.model_copy(update={"sessions": (), "remarks": ()})
    nothing = {**dict.fromkeys(lists, ()), "plan": plan, "draft": False}
    empty = review.model_copy(update=nothing)
    for page in ("feedback.md", "feedback.html"):
        text = told(empty, vocabulary, page)
        assert "No correction was read from this review." in text
        assert "What is good" not in text
    assert Page(told(empty, vocabulary, "feedback.html")).headings == [1, 2, 2]


def test_long_quotes_are_cut(review: Review, vocabulary: Vocabulary) -> None:
    first = review.corrections[0]
    long = first.mentions[0].model_copy(update={"quote": "word " * 60})
    corrections = (first.model_copy(update={"mentions": (long,)}), *review.corrections[1:])
    text = told(review.model_copy(update={"corrections": corrections}), vocabulary)
    assert f"“{'word ' * 24}…”" in text


def test_the_page_is_sound_and_needs_nothing_from_outside(
    review: Review, vocabulary: Vocabulary
) -> None:
    html = told(review, vocabulary, "feedback.html")
    page = Page(html)
    assert html.startswith("<!doctype html>")
    assert not page.misnested
    assert page.tags <= TAGS
    assert {name for name, _ in page.attributes} <= ATTRIBUTES
    assert not re.search(r"https?:|url\(|@import|file:", html)
    assert str(Path.cwd()) not in html
    assert page.values("lang") == ["en-GB"]


def test_headings_come_in_order_and_every_label_has_its_place(
    review: Review, vocabulary: Vocabulary
) -> None:
    page = Page(told(review, vocabulary, "feedback.html"))
    assert page.headings[0] == 1
    assert page.headings.count(1) == 1
    assert all(
        after - before <= 1 for before, after in zip(page.headings, page.headings[1:], strict=False)
    )
    ids = page.values("id")
    assert len(ids) == len(set(ids))
    assert set(page.values("aria-labelledby")) <= set(ids)
    assert set(page.values("scope")) == {"col", "rowgroup"}


def test_both_pages_tell_the_same(review: Review, vocabulary: Vocabulary) -> None:
    page = " ".join(Page(told(review, vocabulary, "feedback.html")).text.split())
    for words in (
        "Elbow drops in the catch (left)",
        "about 155°; aim for 90–120°, so 35° over.",
        "Fingertips down first, elbow high, as if reaching over a barrel.",
        "6 x 50 m single-arm swimming, 20 s rest, with fins",
        "Fingers spread (both sides)",
        "Stop if anything hurts.",
        "usually 58–64 strokes a minute (steady club pace; common practice)",
    ):
        assert words in page


def test_hostile_text_is_text_on_the_page(hostile_files: dict[str, bytes]) -> None:
    page = Page(hostile_files["feedback.html"].decode("utf-8"))
    assert not page.misnested
    assert page.tags <= TAGS
    assert {name for name, _ in page.attributes} <= ATTRIBUTES
    shown = HOSTILE.replace("\u202e", "")
    assert f"Your swim review, {shown}" in page.text
    assert page.text.count("<script>alert('x')</script>") > 20
    assert "\u202e" not in page.text
    assert "49" not in page.text


@pytest.mark.parametrize("name", ["feedback.md", "for-coach.md"])
def test_hostile_text_is_text_in_markdown(hostile_files: dict[str, bytes], name: str) -> None:
    reader = MarkdownIt("commonmark", {"html": True}).enable(["table", "strikethrough"])
    page = Page(reader.render(hostile_files[name].decode("utf-8")))
    assert page.tags <= {
        "h1", "h2", "h3", "p", "strong", "ul", "ol", "li", "table", "thead", "tbody", "tr", "th",
        "td",
    }  # fmt: skip
    assert "<script>alert('x')</script><img src=x onerror=y> gnp.evil {{ 7*7 }} |" in page.text
    assert "\u202e" not in page.text


@pytest.mark.parametrize("name", ["feedback.html", "pool-card.html"])
def test_hostile_text_is_no_address_and_no_script(
    hostile_files: dict[str, bytes], name: str
) -> None:
    page = Page(hostile_files[name].decode("utf-8"))
    assert not page.misnested
    assert page.tags <= TAGS
    assert {attribute for attribute, _ in page.attributes} <= ATTRIBUTES
    for address in page.values("src") + page.values("poster"):
        assert re.match(r"(?:\./|\.\./|data:(?:image/jpeg|text/vtt))[!-~]*$", address)
        assert not re.search(r"[<>\"' ]", address)
    assert hostile_files[name].count(b"<script>") == (1 if name == "feedback.html" else 0)
    assert "\u202e" not in page.text


@pytest.mark.parametrize("name", ["captions.vtt", "chapters.vtt"])
def test_hostile_text_is_text_on_the_clip(hostile_files: dict[str, bytes], name: str) -> None:
    text = hostile_files[name].decode("utf-8")
    assert "<script>" not in text
    assert "\u202e" not in text
    assert "&lt;script&gt;alert('x')&lt;/script&gt;" in text


def test_hostile_text_is_text_in_the_calendar(hostile_files: dict[str, bytes]) -> None:
    events = icalendar.Calendar.from_ical(hostile_files["plan.ics"]).walk("VEVENT")
    assert len(events) == 2
    assert "<script>alert('x')</script>" in str(events[0]["DESCRIPTION"])
    assert "\u202e" not in str(events[0]["DESCRIPTION"])


def test_hostile_text_is_text_in_captions_and_table(hostile_files: dict[str, bytes]) -> None:
    assert b"<script>" not in hostile_files["transcript.vtt"]
    assert b"&lt;script&gt;" in hostile_files["transcript.vtt"]
    assert hostile_files["corrections.csv"].count(b"\r\n") == 5
