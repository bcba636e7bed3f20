"""The history file: what goes in comes out, whatever two processes or a kill do to it."""

import random
import sqlite3
import stat
import time
from datetime import date
from pathlib import Path

import pytest

from tests.history.season import SEASON, SWIMMER, kept, season
from tests.history.writing import review_number, start
from voicenotes.errors import InputError, OutputError
from voicenotes.history import schema
from voicenotes.history.store import History

KILLS = 6
SEED = 44


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "data" / "swimmers.sqlite3"


def integrity(file: Path) -> str:
    """SQLite's own check of the file."""
    connection = sqlite3.connect(file)
    try:
        return str(connection.execute("PRAGMA integrity_check").fetchone()[0])
    finally:
        connection.close()


def keys(file: Path) -> set[str]:
    with History(file) as history:
        return {one.key for one in history.every_review()}


def test_what_goes_in_comes_out_oldest_first(file: Path) -> None:
    reviews = season()
    with History(file) as history:
        for one in reversed(reviews):
            history.add(one)
    with History(file) as history:
        assert history.reviews(SWIMMER) == reviews
        assert history.reviews("tamsin   WEXCOMBE") == reviews
        assert history.before(reviews[3]) == reviews[:3]


def test_the_same_review_again_replaces_itself(file: Path) -> None:
    first, second, *_ = season()
    with History(file) as history:
        history.add(first)
        history.add(second)
        less = first.model_copy(
            update={"corrections": first.corrections[:1], "approved_on": date(2027, 5, 1)}
        )
        history.add(less)
        assert history.reviews(SWIMMER) == [less, second]
        assert history.before(less) == []


def test_a_corrected_name_moves_the_review(file: Path) -> None:
    wrong = season()[0]
    with History(file) as history:
        history.add(wrong)
        history.add(wrong.model_copy(update={"swimmer": "Tamsin Wexham"}))
        assert [one.name for one in history.swimmers()] == ["Tamsin Wexham"]


def test_only_the_owner_can_read_it(file: Path) -> None:
    with History(file) as history:
        history.add(season()[0])
        names = {path.name: stat.S_IMODE(path.stat().st_mode) for path in file.parent.iterdir()}
    assert set(names) == {file.name, f"{file.name}-wal", f"{file.name}-shm"}
    assert set(names.values()) == {0o600}
    assert stat.S_IMODE(file.parent.stat().st_mode) == 0o700


def test_a_file_made_by_an_earlier_version_is_brought_up_to_date(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with History(file) as history:
        history.add(season()[0])
    step = "CREATE TABLE goals (id INTEGER PRIMARY KEY, swimmer INTEGER NOT NULL)"
    monkeypatch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, step))
    with History(file) as history:
        assert history.reviews(SWIMMER) == season()[:1]
    connection = sqlite3.connect(file)
    assert connection.execute("PRAGMA user_version").fetchone() == (2,)
    assert connection.execute("SELECT count(*) FROM goals").fetchone() == (0,)
    connection.close()


def test_a_step_that_fails_leaves_the_file_as_it_was(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with History(file) as history:
        history.add(season()[0])
    broken = "CREATE TABLE goals (id INTEGER PRIMARY KEY); CREATE TABLE swimmers (id INTEGER)"
    with monkeypatch.context() as patch:
        patch.setattr(schema, "MIGRATIONS", (*schema.MIGRATIONS, broken))
        with pytest.raises(OutputError):
            History(file)
    connection = sqlite3.connect(file)
    assert connection.execute("PRAGMA user_version").fetchone() == (1,)
    tables = {name for (name,) in connection.execute("SELECT name FROM sqlite_schema")}
    connection.close()
    assert "goals" not in tables
    with History(file) as history:
        assert history.reviews(SWIMMER) == season()[:1]


def test_a_later_version_is_not_touched(file: Path) -> None:
    History(file).__exit__(None, None, None)
    connection = sqlite3.connect(file)
    connection.execute("PRAGMA user_version = 99")
    connection.close()
    with pytest.raises(InputError, match="was written by a later voicenotes"):
        History(file)


def test_another_programs_file_is_not_touched(tmp_path: Path) -> None:
    other = tmp_path / "other.sqlite3"
    connection = sqlite3.connect(other)
    connection.execute("CREATE TABLE lanes (id INTEGER)")
    connection.close()
    before = other.read_bytes()
    with pytest.raises(InputError, match="is no history of voicenotes"):
        History(other)
    assert other.read_bytes() == before


def test_a_file_that_is_no_database(tmp_path: Path) -> None:
    other = tmp_path / "notes.txt"
    other.write_text("Monday: six lengths.\n" * 99, encoding="utf-8")
    with pytest.raises(OutputError, match="is no history of voicenotes"):
        History(other)


def test_two_processes_write_at_once(file: Path) -> None:
    """Both make the file, and neither loses a review."""
    running = [start(file, writer, 40) for writer in "ab"]
    told = {key for process in running for key in process.communicate()[0].split()}
    assert [process.returncode for process in running] == [0, 0]
    assert told == {f"{writer}{number}" for writer in "ab" for number in range(40)}
    assert keys(file) == told
    assert integrity(file) == "ok"


def test_a_killed_write_loses_nothing(file: Path) -> None:
    """Each run is killed (SIGKILL) some moment after its first review; what it had told is in."""
    moments = random.Random(SEED)
    told: set[str] = set()
    for number in range(KILLS):
        process = start(file, f"k{number}-", 2000)
        assert process.stdout
        told.add(process.stdout.readline().strip())
        time.sleep(moments.uniform(0, 0.3))
        process.kill()
        told |= set(process.communicate()[0].split())
        assert integrity(file) == "ok"
        assert told <= keys(file)
    with History(file) as history:
        for one in history.every_review():
            writer, _, place = one.key.partition("-")
            assert one == review_number(int(place), f"{writer}-")


def test_the_faults_of_the_latest_reviews_are_shared(file: Path) -> None:
    with History(file) as history:
        for one in season():
            history.add(one)
        history.add(kept(SEASON[0][1], date(2027, 1, 4), "Odile Brand"))
        history.add(kept(SEASON[1][1], date(2027, 1, 4), "Piers Lunt"))
        shared = {fault.code: fault.swimmers for fault in history.shared()}
    assert list(shared)[-1] == "finish_short"
    assert shared == {
        "elbow_drops": ("Odile Brand", "Piers Lunt"),
        "head_lifts": ("Odile Brand", "Piers Lunt"),
        "knee_bends": ("Odile Brand", SWIMMER),
        "finish_short": ("Piers Lunt",),
    }
