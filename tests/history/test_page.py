"""The page of a swimmer's course: places by hand from the scale's own arithmetic, and as opened."""

from datetime import date
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.feedback.browser import chromium, needs_chromium, opened
from tests.history.season import kept, season
from tests.judging.small import VOCABULARY, fault, figure, notes
from voicenotes.history.page import progress_html
from voicenotes.history.progress import Line, Measured, Point, Progress, progress_of
from voicenotes.history.timeline import LEFT, RIGHT, STRIP, WIDTH, timeline
from voicenotes.notes import Interval


def elbow(*lines: Line) -> Measured:
    return Measured("elbow_angle", "elbow angle", "deg", None, lines)


def points(*seen: Interval, aim: Interval | None = (90, 120)) -> tuple[Point, ...]:
    return tuple(Point(date(2027, 1, 1 + 10 * n), value, aim) for n, value in enumerate(seen))


DAYS = [date(2027, 1, 1), date(2027, 1, 11), date(2027, 1, 31)]


def test_days_and_values_lie_as_far_apart_as_they_are() -> None:
    drawn = timeline(elbow(Line("left", points((150, 150), (130, 130)))), DAYS)
    (strip,) = drawn.strips
    first, second = strip.dots
    assert (first.x, drawn.days[-1]) == (LEFT, (RIGHT, date(2027, 1, 31)))
    assert (second.x - first.x) / (RIGHT - LEFT) == pytest.approx(1 / 3, abs=0.001)
    (shade,) = strip.shades
    assert (shade.x, shade.width) == (LEFT, RIGHT - LEFT)
    per_degree = shade.height / 30
    assert second.low - first.low == pytest.approx(20 * per_degree, abs=0.2)
    assert shade.y - second.low == pytest.approx(10 * per_degree, abs=0.2)
    assert (first.inside, second.inside) == (False, False)


def test_an_interval_is_a_bar_and_stands_inside_only_as_a_whole() -> None:
    drawn = timeline(elbow(Line("left", points((100, 110), (110, 130), (None, 100)))), DAYS)
    within, across, open_ended = drawn.strips[0].dots
    assert within.high < within.low
    assert [dot.inside for dot in (within, across, open_ended)] == [True, False, False]


def test_sides_stand_apart_on_one_scale() -> None:
    left, right = Line("left", points((150, 150))), Line("right", points((150, 150)))
    above, below = timeline(elbow(left, right), DAYS).strips
    assert above.bottom < below.top
    assert above.dots[0].low - above.top == pytest.approx(below.dots[0].low - below.top, abs=0.1)


def test_a_range_is_shaded_as_long_as_it_held() -> None:
    line = Line("left", points((150, 150)) + points((0, 0), (130, 130), aim=(100, 125))[1:])
    first, second = timeline(elbow(line), DAYS).strips[0].shades
    assert first.x + first.width == pytest.approx(second.x)
    assert second.x + second.width == RIGHT


def test_a_single_day_and_a_long_row_stay_in_the_drawing() -> None:
    (dot,) = timeline(elbow(Line(None, points((150, 150)))), DAYS[:1]).strips[0].dots
    assert dot.x == pytest.approx((LEFT + RIGHT) / 2)
    many = tuple(Point(date(2027, 1, 1 + n), (100 + n, 101 + n), None) for n in range(28))
    (strip,) = timeline(elbow(Line(None, many)), [many[0].day, many[-1].day]).strips
    assert sum(dot.label is not None for dot in strip.dots) <= 8
    assert strip.dots[-1].label is not None
    for dot in strip.dots:
        assert 0 <= dot.x <= WIDTH
        assert 0 <= dot.high <= dot.low <= STRIP


def course() -> Progress:
    sided = notes(
        findings=(fault("elbow_drops", side="right"),),
        figures=(
            figure("elbow_angle", (112, 118), side="right", quote="in the pull"),
            figure("stroke_rate", (None, 60)),
            figure("split", (41, 41), distance_m=50),
        ),
    )
    return progress_of([*season(), kept(sided, date(2027, 4, 5))], VOCABULARY)


def test_a_fault_that_came_back_says_so() -> None:
    html = " ".join(progress_html(course()).split())
    assert "Back on 15 March 2027; first told of on 4 January 2027." in html
    assert "Gone on 1 March 2027; first told of on 18 January 2027." in html


def test_each_measure_has_one_drawing_that_is_told_in_words() -> None:
    html = " ".join(progress_html(course()).split())
    assert html.count("<svg") == 3
    assert "Left: 155° on 4 January 2027, 140–145° on 18 January 2027" in html
    assert "Right: 112–118° on 5 April 2027." in html
    assert "Split over 50 m" in html
    assert "<script" not in html


@needs_chromium
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_and_nothing_is_loaded(tmp_path: Path, scheme: str) -> None:
    """axe-core, an independent checker of WCAG, contrast in light and dark included."""
    page = tmp_path / "progress.html"
    page.write_text(progress_html(course()), encoding="utf-8")
    with chromium() as browser:
        with opened(browser, page) as here:
            assert here.asked == [page.as_uri()]
            assert here.printed == []
            assert here.page.evaluate("document.documentElement.scrollWidth") <= 390
        with opened(browser, page, color_scheme=scheme, bypass_csp=True) as here:
            found = Axe().run(here.page)
            assert found.violations_count == 0, found.generate_report()
