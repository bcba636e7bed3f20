from pathlib import Path

import pytest

from voicenotes.errors import VocabularyError
from voicenotes.vocabulary.load import load_vocabulary


def own(folder: Path, text: str, name: str = "mine.yaml") -> Path:
    (folder / name).write_text(text, encoding="utf-8")
    return folder


def refusal(folder: Path) -> str:
    with pytest.raises(VocabularyError) as caught:
        load_vocabulary(folder)
    message = str(caught.value)
    assert "\n" not in message
    return message


NEW_FAULT = """
faults:
  thumb_trails:
    name: Thumb trails
    area: arms
    says: [The thumb trails.]
    never: [The thumb is tucked in.]
    why: It drags.
    cue: Tuck it in.
"""


def test_the_packaged_vocabulary_holds_faults_drills_measures_and_words() -> None:
    vocabulary = load_vocabulary()
    assert "elbow_drops" in vocabulary.faults
    assert "fingertip_drag" in vocabulary.drills
    assert "elbow_angle" in vocabulary.measures
    assert "elbow" in vocabulary.lexicon["part"]


def test_an_own_entry_with_a_known_code_overrides_only_the_fields_it_names(tmp_path: Path) -> None:
    before = load_vocabulary().faults["elbow_drops"]
    folder = own(tmp_path, "faults:\n  elbow_drops:\n    cue: Reach over the barrel.\n")
    after = load_vocabulary(folder).faults["elbow_drops"]
    assert after.cue == "Reach over the barrel."
    assert after.model_copy(update={"cue": before.cue}) == before


def test_an_own_entry_with_a_new_code_is_added_whole(tmp_path: Path) -> None:
    known = set(load_vocabulary().faults)
    faults = load_vocabulary(own(tmp_path, NEW_FAULT)).faults
    assert set(faults) - known == {"thumb_trails"}
    assert faults["thumb_trails"].name == "Thumb trails"


def test_own_words_are_added_to_those_of_a_concept(tmp_path: Path) -> None:
    before = load_vocabulary().lexicon["part"]["elbow"].forms
    folder = own(tmp_path, "lexicon:\n  part:\n    elbow: [olecranon]\n")
    assert load_vocabulary(folder).lexicon["part"]["elbow"].forms == (*before, "olecranon")


def test_files_in_subfolders_are_read_and_other_files_left_alone(tmp_path: Path) -> None:
    (tmp_path / "more").mkdir()
    own(tmp_path / "more", NEW_FAULT, "extra.yml")
    (tmp_path / "readme.txt").write_text("not: [yaml", encoding="utf-8")
    assert "thumb_trails" in load_vocabulary(tmp_path).faults


def test_an_empty_file_changes_nothing_but_any_change_changes_the_digest(tmp_path: Path) -> None:
    packaged = load_vocabulary()
    empty = load_vocabulary(own(tmp_path, ""))
    assert empty.faults == packaged.faults
    changed = load_vocabulary(own(tmp_path, "faults:\n  elbow_drops:\n    cue: Reach.\n"))
    assert changed.digest != packaged.digest


def test_a_wrong_field_names_file_entry_field_and_the_nearest_known(tmp_path: Path) -> None:
    message = refusal(own(tmp_path, "faults:\n  elbow_drops:\n    drill: [fist]\n"))
    assert "mine.yaml" in message
    assert "elbow_drops" in message
    assert "field drill" in message
    assert "did you mean 'drills'?" in message


def test_a_missing_field_is_named(tmp_path: Path) -> None:
    message = refusal(own(tmp_path, NEW_FAULT.replace("    cue: Tuck it in.\n", "")))
    assert "mine.yaml" in message
    assert "thumb_trails, field cue" in message


def test_a_wrong_value_is_named_with_its_field(tmp_path: Path) -> None:
    message = refusal(own(tmp_path, NEW_FAULT.replace("area: arms", "area: ears")))
    assert "thumb_trails, field area" in message


def test_an_unknown_section_names_the_nearest_known(tmp_path: Path) -> None:
    message = refusal(own(tmp_path, "fault:\n  elbow_drops: {}\n"))
    assert "mine.yaml" in message
    assert "unknown section 'fault'" in message
    assert "did you mean 'faults'?" in message


def test_an_unknown_slot_lists_the_known_ones(tmp_path: Path) -> None:
    message = refusal(own(tmp_path, "lexicon:\n  parts:\n    elbow: [elbow]\n"))
    assert "unknown slot 'parts'" in message
    assert "did you mean 'part'?" in message
    assert "mine.yaml" in message


def test_an_unknown_drill_names_entry_field_and_the_nearest_known(tmp_path: Path) -> None:
    message = refusal(own(tmp_path, "faults:\n  elbow_drops:\n    drills: [fingertip_drags]\n"))
    assert "elbow_drops, field drills" in message
    assert "'fingertip_drags' (did you mean 'fingertip_drag'?)" in message
    assert "mine.yaml" in message


def test_an_unknown_concept_in_a_frame_names_entry_and_slot(tmp_path: Path) -> None:
    frame = "faults:\n  elbow_drops:\n    frames:\n      - {part: elbows, motion: drop}\n"
    message = refusal(own(tmp_path, frame))
    assert "elbow_drops, field frames.part" in message
    assert "'elbows' (did you mean 'elbow'?)" in message


def test_an_unknown_concept_that_bars_a_frame_is_found_too(tmp_path: Path) -> None:
    frame = (
        "faults:\n  elbow_drops:\n    frames:\n"
        "      - {part: elbow, motion: drop, without: [recoverie]}\n"
    )
    message = refusal(own(tmp_path, frame))
    assert "elbow_drops, field frames.without" in message
    assert "did you mean 'recovery'?" in message


def test_a_frame_without_slots_is_refused(tmp_path: Path) -> None:
    message = refusal(
        own(tmp_path, "faults:\n  elbow_drops:\n    frames:\n      - {mode: missing}\n")
    )
    assert "elbow_drops, field frames.0" in message
    assert "at least one slot" in message


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("faults: [elbow_drops]\n", "faults is not a mapping"),
        ("faults:\n  elbow_drops: low\n", "elbow_drops has no fields"),
        ("- elbow_drops\n", "has no sections"),
        ("faults:\n  elbow_drops: {cue: [}\n", "line 2"),
    ],
)
def test_a_file_of_the_wrong_shape_is_one_clear_line(
    tmp_path: Path, text: str, problem: str
) -> None:
    message = refusal(own(tmp_path, text))
    assert "mine.yaml" in message
    assert problem in message


def test_a_lexicon_of_the_wrong_shape_is_one_clear_line(tmp_path: Path) -> None:
    assert "mine.yaml" in refusal(own(tmp_path, "lexicon: [elbow]\n"))
    assert "elbow" in refusal(own(tmp_path, "lexicon:\n  part:\n    elbow: 3\n"))


def test_a_file_that_is_not_utf8_says_so(tmp_path: Path) -> None:
    (tmp_path / "mine.yaml").write_bytes(b"faults: {caf\xe9: 1}\n")
    message = refusal(tmp_path)
    assert "UTF-8" in message
    assert "mine.yaml" in message


def test_a_folder_that_is_not_there_says_so(tmp_path: Path) -> None:
    assert "no such folder" in refusal(tmp_path / "none")
