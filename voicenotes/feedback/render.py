"""Renders a review's files. The same review gives the same bytes."""

import base64
import hashlib
import re
from dataclasses import dataclass
from pathlib import Path

from jinja2 import Environment
from markupsafe import Markup

from voicenotes.feedback.calendar import plan_ics
from voicenotes.feedback.captions import captions_vtt, chapters_vtt
from voicenotes.feedback.card import cards
from voicenotes.feedback.clip import Clip, as_data, still_name
from voicenotes.feedback.data import corrections_csv, review_json
from voicenotes.feedback.environment import environment, templates_of
from voicenotes.feedback.tell import tell
from voicenotes.feedback.view import Spot, View
from voicenotes.review import Review
from voicenotes.transcript import Transcript
from voicenotes.transcript.formats import write_vtt
from voicenotes.vocabulary.model import Vocabulary


@dataclass(frozen=True)
class Page:
    """What the pages need beside the view: addresses for a player, and what they may load."""

    sources: tuple[str, ...]
    poster: str | None
    captions: str
    words: str | None
    """Every word of the narration; none where another file than that is played."""
    chapters: str
    policy: str
    card_policy: str


def feedback_files(
    review: Review,
    transcript: Transcript,
    vocabulary: Vocabulary,
    clip: Clip | None = None,
    templates: Path | None = None,
) -> dict[str, bytes]:
    """The files of one review by name: data, the swimmer's pages, the coach's, captions, stills.

    ``clip`` is what the page plays; ``templates`` a coach's own folder. There is a calendar where
    the day of the first session is known. Raises InputError for templates that cannot be used.
    """
    view = tell(review, vocabulary)
    length = (review.clock.length_s or 0) if review.plays_clip else review.duration
    texts = {
        "review.json": review_json(review),
        "transcript.vtt": write_vtt(transcript),
        "corrections.csv": corrections_csv(review),
        "captions.vtt": captions_vtt(view, length),
        "chapters.vtt": chapters_vtt(view, length),
    }
    with templates_of(templates):
        texts |= _pages(review, view, texts, clip, templates)
        if review.brief.start and view.visits:
            texts["plan.ics"] = plan_ics(
                review, review.brief.start, _events(review, view, templates)
            )
    stills = {still_name(at): picture for at, picture in (clip.stills if clip else {}).items()}
    return {name: text.encode("utf-8") for name, text in texts.items()} | stills


def _pages(
    review: Review, view: View, texts: dict[str, str], clip: Clip | None, own: Path | None
) -> dict[str, str]:
    markdown, html = environment("markdown", own), environment("html", own)
    stills = _stills(clip)
    known = {
        "v": view,
        "r": review,
        "clip": clip,
        "page": _page(html, review, texts, clip, next(iter(stills.values()), None)),
        "still": lambda spot: _still(stills, spot),
    }
    return {
        "feedback.md": _tidied(markdown.get_template("feedback.md").render(known)),
        "for-coach.md": _tidied(markdown.get_template("for-coach.md").render(known)),
        "feedback.html": html.get_template("feedback.html").render(known),
        "pool-card.html": html.get_template("pool-card.html").render(known, cards=cards(view)),
    }


def _stills(clip: Clip | None) -> dict[float, Markup]:
    """The stills by their moments, as addresses."""
    pictures = clip.stills.items() if clip else ()
    return {at: Markup(as_data(data, "image/jpeg")) for at, data in pictures}


def _still(stills: dict[float, Markup], spot: Spot) -> Markup | None:
    """The picture of a spot's first moment, where there is one."""
    at = spot.moments[0].plays if spot.moments else None
    return None if at is None else stills.get(round(at, 2))


def _page(
    html: Environment,
    review: Review,
    texts: dict[str, str],
    clip: Clip | None,
    poster: str | None,
) -> Page:
    """Addresses as they stand in the page: what is in it already needs no escaping."""
    captions, words, chapters = (
        Markup(as_data(texts[name].encode("utf-8"), "text/vtt;charset=utf-8"))
        for name in ("captions.vtt", "transcript.vtt", "chapters.vtt")
    )
    sources = clip.sources if clip else ()
    own_clip = review.source is not None and review.source.clip is not None
    return Page(
        sources=tuple(Markup(s) if s.startswith("data:") else s for s in sources),
        poster=poster,
        captions=captions,
        words=None if own_clip else words,
        chapters=chapters,
        policy=policy(html, "style.css", "page.js" if clip else None),
        card_policy=policy(html, "card.css", None),
    )


def policy(html: Environment, style: str, script: str | None) -> str:
    """A Content-Security-Policy (W3C, level 3) that lets nothing but the page's own parts run, and
    nothing but the clip beside it load."""
    rules = ["default-src 'none'", f"style-src {_digest(html, style)}", "img-src data:"]
    if script:
        rules += [f"script-src {_digest(html, script)}", "media-src 'self' data:"]
    return "; ".join([*rules, "base-uri 'none'", "form-action 'none'"])


def _digest(html: Environment, template: str) -> str:
    text = html.get_template(template).render()
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"'sha256-{base64.b64encode(digest).decode('ascii')}'"


def _events(review: Review, view: View, own: Path | None) -> list[tuple[str, str]]:
    """Title and description of each session, for a calendar."""
    template = environment("text", own).get_template("session.txt")
    told = [_tidied(template.render(v=view, r=review, visit=visit)) for visit in view.visits]
    return [(words.split("\n", 1)[0], words.split("\n", 1)[-1].strip()) for words in told]


def _tidied(text: str) -> str:
    """Text with single empty lines and no blanks at line ends."""
    return re.sub(r"\n{3,}", "\n\n", re.sub(r"[ \t]+\n", "\n", text)).strip() + "\n"
