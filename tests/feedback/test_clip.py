"""The clip in and beside the page, and its stills, when it moves or is too large."""

import base64
import shutil
from pathlib import Path
from urllib.parse import unquote

import pytest

from voicenotes.approving import approve
from voicenotes.errors import InputError
from voicenotes.feedback.clip import MOST_EMBEDDED, addresses, data_address

EXAMPLES = Path(__file__).parent.parent.parent / "examples"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The demo's review in a folder from where its clip cannot be found."""
    return Path(shutil.copytree(EXAMPLES / "reviews" / "clip", tmp_path / "a" / "b" / "clip"))


def test_a_clip_that_has_gone_leaves_its_stills(folder: Path) -> None:
    stills = {path.name: path.read_bytes() for path in (folder / "stills").iterdir()}
    approve(folder)
    assert {path.name: path.read_bytes() for path in (folder / "stills").iterdir()} == stills
    page = (folder / "feedback.html").read_text(encoding="utf-8")
    assert page.count("<img ") == 3
    shown = [base64.b64encode(still).decode("ascii") in page for still in stills.values()]
    assert sum(shown) == 3


def test_a_still_that_has_gone_too_leaves_the_words(folder: Path) -> None:
    shutil.rmtree(folder / "stills")
    approve(folder)
    page = (folder / "feedback.html").read_text(encoding="utf-8")
    assert "<img " not in page
    assert "Elbow drops in the catch (left)" in page


def test_a_clip_that_has_gone_cannot_be_put_into_the_page(folder: Path) -> None:
    before = (folder / "feedback.html").read_bytes()
    with pytest.raises(InputError, match=r"is not there\. Leave out --embed-clip\."):
        approve(folder, embed=True)
    assert (folder / "feedback.html").read_bytes() == before


def test_a_clip_too_large_for_a_page(tmp_path: Path) -> None:
    large = tmp_path / "large.mp4"
    with large.open("wb") as file:
        file.truncate(MOST_EMBEDDED + 1)
    with pytest.raises(InputError, match=r"too large for a page \(100 MB; 100 MB at most\)"):
        data_address(large)


@pytest.mark.parametrize("name", ["clip.mp4", "a b#1?.mp4", "javascript:x.mp4", "ölçü \"'<.mov"])
def test_an_address_is_the_file_whatever_its_name(name: str) -> None:
    there, beside = addresses(f"../../Monday/{name}")
    assert unquote(there) == f"../../Monday/{name}"
    assert unquote(beside) == f"./{name}"
    assert not {*"#?:<>\"' "} & set(there + beside)


def test_a_clip_in_the_page_is_the_clip(tmp_path: Path) -> None:
    clip = tmp_path / "clip.MOV"
    clip.write_bytes(bytes(range(256)))
    head, _, data = data_address(clip).partition(",")
    assert head == "data:video/mp4;base64"
    assert base64.b64decode(data) == bytes(range(256))
