"""How easily the feedback reads: Flesch reading ease by textstat, an independent measure.

60 to 70 is plain English (Flesch, "How to Write Plain English", 1979).
"""

import re
from pathlib import Path

import textstat

DEMO = Path(__file__).parent.parent.parent / "examples" / "reviews" / "clip" / "feedback.md"
PLAIN_ENGLISH = 60


def prose(markdown: str) -> str:
    """The sentences of a page: without tables, headings, marks, and the coach's own words."""
    lines = [line for line in markdown.splitlines() if line and line[0] not in "#|"]
    text = re.sub(r"“[^”]*”", "", " ".join(lines))
    return re.sub(r"[*\\]|^- ", "", text)


def test_the_demos_feedback_is_plain_english() -> None:
    text = DEMO.read_text(encoding="utf-8")
    assert textstat.flesch_reading_ease(prose(text)) >= PLAIN_ENGLISH


def test_the_corrections_alone_are_plain_english() -> None:
    now = DEMO.read_text(encoding="utf-8").split("## Work on this now")[1].split("\n## ")[0]
    assert textstat.flesch_reading_ease(prose(now)) >= PLAIN_ENGLISH


def test_a_word_of_the_trade_is_told_where_it_comes_first() -> None:
    now = DEMO.read_text(encoding="utf-8").split("## Work on this now")[1]
    elbow = now.split("### 2. ")[1].split("### 3. ")[0]
    assert "Catch: the moment when your hand takes hold of the water" in elbow
    assert now.count("takes hold of the water") == 1
