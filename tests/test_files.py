import os
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from voicenotes.errors import OutputError
from voicenotes.files import write_folder

OURS = {"review.json": b"{}\n", "feedback.md": b"# Review\n"}
OLD = {"review.json": b"old\n", "feedback.md": b"old too\n"}


def contents(folder: Path) -> dict[str, bytes]:
    return {p.name: p.read_bytes() for p in folder.iterdir() if p.is_file()}


def refusal(folder: Path, files: dict[str, bytes]) -> str:
    with pytest.raises(OutputError) as error:
        write_folder(folder, files)
    message = str(error.value)
    assert message.startswith(f"{folder}: ")
    assert "\n" not in message
    return message.removeprefix(f"{folder}: ")


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A real disk of 64 KiB, where the system lets us have one."""
    disk = tmp_path / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(disk)]
    if subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("needs the right to mount a small disk")
    yield disk
    subprocess.run(["umount", str(disk)], check=True)


def test_a_new_folder_is_made_with_its_parents(tmp_path: Path) -> None:
    write_folder(tmp_path / "out" / "mia", OURS)
    assert contents(tmp_path / "out" / "mia") == OURS
    assert [p.name for p in (tmp_path / "out").iterdir()] == ["mia"]


def test_old_results_go_and_the_coachs_own_files_stay(tmp_path: Path) -> None:
    folder = tmp_path / "mia"
    write_folder(folder, OLD)
    (folder / "own.txt").write_text("mine", encoding="utf-8")
    (folder / "stills").mkdir()
    (folder / "stills" / "a.jpg").write_bytes(b"jpg")
    (folder / "link").symlink_to("own.txt")
    write_folder(folder, OURS)
    assert contents(folder) == {**OURS, "own.txt": b"mine", "link": b"mine"}
    assert (folder / "link").is_symlink()
    assert (folder / "stills" / "a.jpg").read_bytes() == b"jpg"
    assert [p.name for p in tmp_path.iterdir()] == ["mia"]


def test_a_folder_keeps_its_mode(tmp_path: Path) -> None:
    folder = tmp_path / "mia"
    folder.mkdir()
    folder.chmod(0o750)
    write_folder(folder, OURS)
    assert folder.stat().st_mode & 0o777 == 0o750


def test_a_linked_folder_is_written_where_it_points(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "mia").symlink_to("real")
    write_folder(tmp_path / "mia", OURS)
    assert (tmp_path / "mia").is_symlink()
    assert contents(tmp_path / "real") == OURS


def test_a_full_disk_leaves_the_old_results(small_disk: Path) -> None:
    folder = small_disk / "mia"
    write_folder(folder, OLD)
    (folder / "own.txt").write_text("mine", encoding="utf-8")
    message = refusal(folder, {**OURS, "page.html": b"x" * 100_000})
    assert message == (
        "cannot be written (the disk is full). Free some space and run it again."
    )  # fmt: skip
    assert contents(folder) == {**OLD, "own.txt": b"mine"}
    assert [p.name for p in small_disk.iterdir()] == ["mia"]


def test_a_full_disk_leaves_no_new_folder(small_disk: Path) -> None:
    refusal(small_disk / "mia", {"page.html": b"x" * 100_000})
    assert list(small_disk.iterdir()) == []


def test_a_read_only_disk_says_so(small_disk: Path) -> None:
    write_folder(small_disk / "mia", OLD)
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    for folder in (small_disk / "mia", small_disk / "new"):
        message = refusal(folder, OURS)
        assert message.startswith("cannot be written (")
        assert "--out" in message
    assert contents(small_disk / "mia") == OLD


def test_a_folder_without_permission_says_so(tmp_path: Path) -> None:
    folder = tmp_path / "mia"
    write_folder(folder, OLD)
    folder.chmod(0o555)
    if os.access(folder, os.W_OK):
        pytest.skip("this user may write anywhere")
    assert refusal(folder, OURS).startswith("cannot be written (no permission to write)")
    assert contents(folder) == OLD
    folder.chmod(0o755)
    assert [p.name for p in tmp_path.iterdir()] == ["mia"]


def test_a_file_in_the_way_stays(tmp_path: Path) -> None:
    place = tmp_path / "mia"
    place.write_text("mine", encoding="utf-8")
    assert refusal(place, OURS).startswith("is a file, not a folder")
    assert refusal(place / "below", OURS).startswith("cannot be written (")
    assert place.read_text(encoding="utf-8") == "mine"


def test_a_name_that_no_disk_takes_says_so(tmp_path: Path) -> None:
    assert refusal(tmp_path / ("x" * 300), OURS).startswith(
        "cannot be written (file name too long)"
    )
    assert list(tmp_path.iterdir()) == []


def test_a_folder_within_the_folder_is_replaced_whole(tmp_path: Path) -> None:
    place = tmp_path / "mia"
    write_folder(place, {"a.txt": b"1", "stills/1.jpg": b"x", "stills/2.jpg": b"y"})
    (place / "mine.txt").write_text("kept", encoding="utf-8")
    write_folder(place, {"a.txt": b"2", "stills/2.jpg": b"z"})
    assert {str(p.relative_to(place)): p.read_bytes() for p in place.rglob("*") if p.is_file()} == {
        "a.txt": b"2", "mine.txt": b"kept", "stills/2.jpg": b"z",
    }  # fmt: skip
