"""The swimmer's page in Chromium, made from the demo's review and its clip."""

import io
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser
from pypdf import PdfReader

from tests.feedback.browser import chromium, needs_chromium, opened
from tests.sounds import SPOKEN
from voicenotes.approving import approve
from voicenotes.review import Review, Source
from voicenotes.words import moment

pytestmark = [
    needs_chromium,
    pytest.mark.filterwarnings("ignore::DeprecationWarning:playwright.*"),
]

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
FOUND = "document.querySelectorAll('button[data-at]').length > 0"
A4, A5 = (595, 842), (420, 595)
"""Points (ISO 216: 210 x 297 mm and 148 x 210 mm)."""

MOST_BYTES = 1_500_000
"""Of the page without the clip: a few seconds on a slow phone."""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as started:
        yield started


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's review, with its clip where the example has it."""
    root = tmp_path_factory.mktemp("demo")
    shutil.copy(EXAMPLES / "clip.mp4", root / "clip.mp4")
    shutil.copytree(EXAMPLES / "reviews", root / "reviews")
    approve(root / "reviews" / "clip")
    return root / "reviews" / "clip"


@pytest.fixture(scope="module")
def alone(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page without its clip, as when only the page was sent."""
    return Path(shutil.copy(folder / "feedback.html", tmp_path_factory.mktemp("alone")))


@pytest.fixture(scope="module")
def embedded(folder: Path) -> Path:
    """The page with the clip inside, away from it."""
    place = folder.parent.parent / "sent" / "inside"
    shutil.copytree(folder, place)
    approve(place, embed=True)
    return Path(shutil.copy(place / "feedback.html", place.parent / "alone.html"))


def review_in(folder: Path) -> Review:
    return Review.model_validate_json((folder / "review.json").read_bytes())


def test_a_press_on_a_moment_plays_the_clip_there(browser: Browser, folder: Path) -> None:
    elbow = next(c for c in review_in(folder).corrections if c.code == "elbow_drops")
    with opened(browser, folder / "feedback.html") as here:
        here.wait(FOUND)
        here.page.evaluate("HTMLMediaElement.prototype.play = function () {}")  # stand still
        for mention in elbow.mentions:
            shown = moment(mention.start)
            button = here.page.get_by_role("button", name=f"Play the clip at {shown}").last
            assert button.inner_text().strip().endswith(shown)
            button.click()
            assert here.media("currentTime") == pytest.approx(mention.start, abs=0.2)


def test_the_clip_runs_and_stays_in_sight(browser: Browser, folder: Path) -> None:
    with opened(browser, folder / "feedback.html") as here:
        here.wait(FOUND)
        here.page.get_by_role("button", name="1:34").last.click()
        here.wait("document.querySelector('video').currentTime > 94.9")
        assert here.media("paused") is False
        box = here.page.locator("video").bounding_box()
        assert box
        assert 0 <= box["y"] < 422


def test_captions_and_chapters_are_in_the_players_own_lists(browser: Browser, folder: Path) -> None:
    with opened(browser, folder / "feedback.html") as here:
        here.wait(FOUND)
        tracks = here.page.evaluate(
            """() => Array.from(document.querySelector('video').textTracks, track => {
                if (track.mode === 'disabled') { track.mode = 'hidden'; }
                return [track.kind, track.label];
            })"""
        )
        assert tracks == [
            ["captions", "What to do"], ["captions", "Every word"], ["chapters", "Moments"],
        ]  # fmt: skip
        here.wait(
            "Array.from(document.querySelector('video').textTracks)"
            ".every(track => track.cues && track.cues.length > 5)"
        )
        assert here.media("textTracks[0].mode") == "showing"
        pause = next(c for c in review_in(folder).corrections if c.code == "lead_hand_pauses")
        at = pause.mentions[0].start + 1
        here.page.evaluate(f"document.querySelector('video').currentTime = {at}")
        here.wait("document.querySelector('video').textTracks[0].activeCues.length === 1")
        shown = here.media("textTracks[0].activeCues[0].text")
        assert shown == pause.cue


def test_by_keyboard_alone(browser: Browser, folder: Path) -> None:
    knees = next(c for c in review_in(folder).corrections if c.code == "knee_bends")
    at = knees.mentions[0].start
    with opened(browser, folder / "feedback.html") as here:
        here.wait(FOUND)
        reached = []
        for _ in range(60):
            here.page.keyboard.press("Tab")
            name = here.page.evaluate("document.activeElement.getAttribute('aria-label') || ''")
            reached.append(name)
            if name == f"Play the clip at {moment(at)}":
                outline = "getComputedStyle(document.activeElement).outlineStyle"
                assert here.page.evaluate(outline) == "solid"
                here.page.keyboard.press("Enter")
                break
        assert "Play the clip at 0:43" in reached
        assert here.media("currentTime") == pytest.approx(at, abs=0.5)


@pytest.mark.parametrize("width", [320, 390, 1100])
def test_nothing_needs_scrolling_sideways(browser: Browser, folder: Path, width: int) -> None:
    """320 CSS pixels: WCAG 2.2, success criterion 1.4.10 (reflow)."""
    for name in ("feedback.html", "pool-card.html"):
        with opened(browser, folder / name, viewport={"width": width, "height": 640}) as here:
            here.page.wait_for_timeout(300)
            assert here.page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(browser: Browser, folder: Path, scheme: str) -> None:
    """axe-core, an independent checker of WCAG, contrast in light and dark included."""
    for name in ("feedback.html", "pool-card.html"):
        with opened(browser, folder / name, color_scheme=scheme, bypass_csp=True) as here:
            if name == "feedback.html":
                here.wait(FOUND)
            found = Axe().run(here.page)
            assert found.violations_count == 0, found.generate_report()


def test_nothing_leaves_the_file_and_nothing_goes_wrong(browser: Browser, folder: Path) -> None:
    with opened(browser, folder / "feedback.html") as here:
        here.wait(FOUND)
        here.page.get_by_role("button", name="0:43").last.click()
        here.page.wait_for_timeout(500)
        clip = folder.parent.parent / "clip.mp4"
        known = ((folder / "feedback.html").as_uri(), clip.as_uri())
        assert [url for url in here.asked if not url.startswith((*known, "data:"))] == []
        assert here.printed == []


def test_the_policy_stops_what_a_page_must_not_do(browser: Browser, folder: Path) -> None:
    """Content-Security-Policy, level 3 (W3C): no other script, style, picture or address."""
    with opened(browser, folder / "feedback.html") as here:
        here.page.evaluate(
            """() => {
                const script = document.createElement('script');
                script.textContent = 'window.ran = true';
                document.body.append(script);
                const picture = document.createElement('img');
                picture.src = 'https://example.invalid/x.png';
                document.body.append(picture);
            }"""
        )
        here.page.wait_for_timeout(200)
        assert here.page.evaluate("window.ran") is None
        assert here.page.evaluate("fetch('https://example.invalid/').then(() => 1, () => 0)") == 0
        assert sum("Content Security Policy" in line for line in here.printed) >= 3


def test_without_its_clip_the_player_hides_and_moments_are_times(
    browser: Browser, alone: Path
) -> None:
    with opened(browser, alone) as here:
        here.wait("document.getElementById('player').hidden")
        assert here.page.locator("video").is_hidden()
        assert here.page.locator("button").count() == 0
        assert here.page.locator("article").first.inner_text().count("1:18") == 2
        assert here.page.locator("article img").count() == 3


def test_without_scripts_moments_are_times(browser: Browser, folder: Path) -> None:
    with opened(browser, folder / "feedback.html", java_script_enabled=False) as here:
        assert here.page.locator("button").count() == 0
        assert here.page.get_by_text("1:22").first.is_visible()
        assert here.page.locator("video").is_visible()


def test_the_clip_beside_the_page_is_found(browser: Browser, folder: Path, tmp_path: Path) -> None:
    for source in (folder / "feedback.html", EXAMPLES / "clip.mp4"):
        shutil.copy(source, tmp_path)
    with opened(browser, tmp_path / "feedback.html") as here:
        here.wait(FOUND)
        assert here.media("currentSrc") == (tmp_path / "clip.mp4").as_uri()
        assert here.media("duration") == pytest.approx(168.7, abs=0.1)


def test_a_page_with_the_clip_inside_needs_no_other_file(browser: Browser, embedded: Path) -> None:
    with opened(browser, embedded) as here:
        here.wait(FOUND)
        here.page.get_by_role("button", name="0:43").last.click()
        here.wait("document.querySelector('video').currentTime > 43.4")
        assert all(url.startswith("data:") for url in here.asked[1:])
        assert here.printed == []


def test_a_sound_file_gets_an_audio_player(browser: Browser, folder: Path, tmp_path: Path) -> None:
    review = review_in(folder)
    shutil.copy(SPOKEN, tmp_path / "talk ÄÖ #1?.opus")
    place = tmp_path / "reviews" / "talk"
    place.mkdir(parents=True)
    sound = Source(kind="sound", path="../../talk ÄÖ #1?.opus")
    text = review.model_copy(update={"source": sound}).model_dump_json(by_alias=True)
    (place / "review.json").write_text(text, encoding="utf-8")
    shutil.copy(folder / "transcript.vtt", place)
    approve(place)
    with opened(browser, place / "feedback.html") as here:
        here.wait(FOUND)
        assert here.page.locator("video, article img").count() == 0
        here.page.get_by_role("button", name="0:14").first.click()
        here.wait("document.querySelector('audio').currentTime > 14.9")
        here.wait("document.getElementById('words-now').textContent !== ''")
        assert here.page.locator("#words-now").inner_text() == "Good: Hand entry"


def printed(browser: Browser, page: Path) -> PdfReader:
    with opened(browser, page) as here:
        here.page.wait_for_timeout(500)
        return PdfReader(io.BytesIO(here.page.pdf(prefer_css_page_size=True)))


def size(pdf: PdfReader) -> tuple[int, int]:
    box = pdf.pages[0].mediabox
    return round(box.width), round(box.height)


def test_the_page_prints_on_two_sheets(browser: Browser, folder: Path) -> None:
    for page in (folder / "feedback.html", EXAMPLES / "reviews" / "clip" / "feedback.html"):
        pdf = printed(browser, page)
        assert size(pdf) == A4
        assert len(pdf.pages) <= 2
        text = " ".join(page.extract_text() for page in pdf.pages)
        assert "Take care" in text


def test_a_pool_card_is_one_side_of_a5_for_each_session(browser: Browser, folder: Path) -> None:
    sessions = review_in(folder).plan.sessions
    pdf = printed(browser, folder / "pool-card.html")
    assert size(pdf) == A5
    assert len(pdf.pages) == len(sessions)
    for number, page in enumerate(pdf.pages, start=1):
        text = " ".join(page.extract_text().split())
        assert f"Session {number}:" in text
        assert "6 x 50 m" in text
        assert "20 s rest" in text


def test_a_pool_card_can_be_read_at_arms_length(browser: Browser, folder: Path) -> None:
    """14 points and more: large print begins there (common practice)."""
    with opened(browser, folder / "pool-card.html") as here:
        here.page.emulate_media(media="print")
        sizes = here.page.eval_on_selector_all(
            "li, .focus", "all => all.map(e => parseFloat(getComputedStyle(e).fontSize))"
        )
        assert min(sizes) * 0.75 >= 14


def test_the_page_is_small(folder: Path) -> None:
    assert (folder / "feedback.html").stat().st_size < MOST_BYTES


def test_the_swimmer_sees_strengths_clip_corrections_plan_in_this_order(
    browser: Browser, folder: Path
) -> None:
    with opened(browser, folder / "feedback.html") as here:
        here.wait(FOUND)
        text = here.page.locator("body").inner_text()
        order = ["Hello Sam", "What is good", "Press a time", "Work on this now", "Your plan",
                 "Take care", "Robin", "How this was made"]  # fmt: skip
        places = [text.rindex(words) for words in order]
        assert places == sorted(places)
        tree = here.page.locator("main").aria_snapshot()
        assert "Chart of the elbow angle: left 150°, aim 100–120°; right 110°" in tree


def test_a_coachs_own_style_and_no_other_is_let_in(
    browser: Browser, folder: Path, tmp_path: Path
) -> None:
    place = Path(shutil.copytree(folder, tmp_path / "a" / "b" / "clip"))
    own = tmp_path / "own"
    own.mkdir()
    (own / "style.css").write_text("body { background: rgb(1, 2, 3); }", encoding="utf-8")
    approve(place, templates=own)
    page = place / "feedback.html"
    background = "getComputedStyle(document.body).backgroundColor"
    with opened(browser, page) as here:
        assert here.page.evaluate(background) == "rgb(1, 2, 3)"
    other = page.read_text(encoding="utf-8").replace("rgb(1, 2, 3)", "rgb(4, 5, 6)")
    page.write_text(other, encoding="utf-8")
    with opened(browser, page) as here:
        assert here.page.evaluate(background) == "rgba(0, 0, 0, 0)"
