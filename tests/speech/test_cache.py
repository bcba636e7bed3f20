from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from voicenotes.speech.cache import Store, key_of
from voicenotes.transcript import Word

WORD = Word(text="elbow", start=1.0, end=1.5, probability=0.9)


def test_what_is_kept_comes_back(tmp_path: Path) -> None:
    store = Store(tmp_path / "heard")
    assert store.get("key", Word) is None
    store.put("key", WORD)
    assert store.get("key", Word) == WORD


def test_a_damaged_record_is_as_good_as_none(tmp_path: Path) -> None:
    store = Store(tmp_path)
    store.put("key", WORD)
    (tmp_path / "key.json").write_text('{"text": "elb', encoding="utf-8")
    assert store.get("key", Word) is None
    store.put("key", WORD)
    assert store.get("key", Word) == WORD


def test_without_leave_to_write_there_is_just_no_cache(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.touch()
    store = Store(blocked / "heard")
    store.put("key", WORD)
    assert store.get("key", Word) is None


def test_nobody_else_reads_what_a_coach_said(tmp_path: Path) -> None:
    Store(tmp_path / "heard").put("key", WORD)
    assert (tmp_path / "heard").stat().st_mode & 0o077 == 0
    assert (tmp_path / "heard" / "key.json").stat().st_mode & 0o077 == 0


PARTS = st.lists(st.text(max_size=5), max_size=4)


@given(PARTS, PARTS)
def test_other_parts_give_another_key(one: list[str], other: list[str]) -> None:
    assert (key_of(*one) == key_of(*other)) == (one == other)
