"""A second review of the same narration goes by what was read at the first."""

import subprocess
import sys
from pathlib import Path

import pytest

from voicenotes.clock import SAME, Clock
from voicenotes.review import Brief, Review
from voicenotes.reviewing import review
from voicenotes.speech.cache import CACHE_VARIABLE
from voicenotes.transcript import Cue, Transcript
from voicenotes.vocabulary.load import load_vocabulary

SAID = ("Your left elbow drops in the catch.", "It's about 150 degrees.", "Mind your jellyfish.")
TALK = Transcript(
    name="talk",
    duration=12,
    cues=tuple(Cue(start=4 * i, end=4 * i + 3, text=text) for i, text in enumerate(SAID)),
)
RUN = """
import sys
from voicenotes.cli import main
try:
    main()
finally:
    print("spacy" in sys.modules)
"""


@pytest.fixture(autouse=True)
def read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty cache; the folder in it where notes are kept."""
    monkeypatch.setenv(CACHE_VARIABLE, str(tmp_path / "cache"))
    return tmp_path / "cache" / "read"


def reviewed(brief: Brief | None = None, clock: Clock | None = None) -> Review:
    return review(TALK, load_vocabulary(), brief or Brief(), clock)


def test_a_second_review_is_the_same(read: Path) -> None:
    first = reviewed()
    assert len(list(read.iterdir())) == 1
    assert reviewed() == first
    assert len(list(read.iterdir())) == 1


def test_what_is_kept_and_damaged_is_read_again(read: Path) -> None:
    first = reviewed()
    (kept,) = read.iterdir()
    kept.write_text("{", encoding="utf-8")
    assert reviewed() == first


def test_another_clock_or_brief_is_heeded() -> None:
    reviewed()
    (mention,) = reviewed(clock=Clock(marks=SAME)).findings[0].mentions
    assert mention.clip_s == (0,)
    assert len(reviewed(brief=Brief(sessions=1)).plan.sessions) == 1


def test_words_of_ones_own_are_heeded(tmp_path: Path) -> None:
    before = reviewed()
    (tmp_path / "mine.yaml").write_text(
        "misheard:\n  jelly: {term: elbow, heard: [jellyfish]}\n", encoding="utf-8"
    )
    after = review(TALK, load_vocabulary(tmp_path), Brief())
    assert before.repairs == ()
    assert [repair.read_as for repair in after.repairs] == ["elbow"]


def test_a_second_review_does_not_wait_for_the_parser(tmp_path: Path) -> None:
    talk = tmp_path / "talk.txt"
    talk.write_text("[0:01] Your left elbow drops in the catch.\n", encoding="utf-8")
    command = [sys.executable, "-c", RUN, "review", str(talk), "--out", str(tmp_path / "out")]
    parsed = [
        subprocess.run(command, capture_output=True, text=True, check=True).stdout.split()[-1]
        for _ in range(2)
    ]
    assert parsed == ["True", "False"]
