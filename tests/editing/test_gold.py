"""The edit of every annotated narration: untouched it changes nothing, and anything may go."""

from pathlib import Path
from typing import Any

import pytest
import yaml

from voicenotes.editing.apply import apply_edit, as_heard
from voicenotes.editing.names import notes_of
from voicenotes.editing.read import read_edit
from voicenotes.editing.write import edit_yaml
from voicenotes.feedback import feedback_files
from voicenotes.feedback.data import review_json
from voicenotes.review import Brief, Review
from voicenotes.reviewing import hear, review
from voicenotes.transcript import Transcript
from voicenotes.vocabulary.load import load_vocabulary
from voicenotes.vocabulary.model import Vocabulary

GOLD = sorted((Path(__file__).parent.parent / "gold").glob("*.vtt"))


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    return load_vocabulary()


@pytest.fixture(scope="module", params=GOLD, ids=[path.stem for path in GOLD])
def narration(request: pytest.FixtureRequest, vocabulary: Vocabulary) -> tuple[Transcript, Review]:
    transcript = hear(request.param, vocabulary)
    return transcript, review(transcript, vocabulary, Brief(equipment=("fins", "snorkel")))


def edited(
    heard: Review, vocabulary: Vocabulary, path: Path, change: dict[str, Any] | None = None
) -> Review:
    """The review after its own edit file, with something changed in each of its entries."""
    path.write_text(edit_yaml(heard, notes_of(heard)), encoding="utf-8")
    if change is not None:
        data = yaml.safe_load(path.read_text(encoding="utf-8"))
        turned = {key: [entry | change for entry in entries] for key, entries in data.items()}
        path.write_text(yaml.safe_dump(turned, sort_keys=False), encoding="utf-8")
    return apply_edit(heard, read_edit(path), vocabulary)


def test_an_edit_left_as_it_is_changes_nothing(
    narration: tuple[Transcript, Review], vocabulary: Vocabulary, tmp_path: Path
) -> None:
    _, heard = narration
    assert edited(heard, vocabulary, tmp_path / "edit.yaml") == heard


def test_everything_may_be_taken_out_and_comes_back(
    narration: tuple[Transcript, Review], vocabulary: Vocabulary, tmp_path: Path
) -> None:
    transcript, heard = narration
    none = edited(heard, vocabulary, tmp_path / "edit.yaml", {"drop": True})
    left = (*none.findings, *none.figures, *none.drills, *none.corrections)
    assert left == ()
    assert len(none.changes) > 3
    page = feedback_files(none, transcript, vocabulary)["feedback.md"].decode("utf-8")
    assert "No correction was read from this review." in page
    read_again = Review.model_validate_json(review_json(none))
    assert review_json(as_heard(read_again, vocabulary)) == review_json(heard)
