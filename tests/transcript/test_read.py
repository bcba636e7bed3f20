import os
from pathlib import Path

import pytest

from voicenotes.errors import InputError
from voicenotes.transcript import Cue, Transcript, Word
from voicenotes.transcript.formats import looks_like_transcript, read_transcript

VTT = "WEBVTT\n\n00:01.000 --> 00:02.000\nKick\n"


def refusal(path: Path) -> str:
    with pytest.raises(InputError) as error:
        read_transcript(path)
    message = str(error.value)
    assert str(path) in message
    assert "\n" not in message
    return message.removeprefix(str(path))


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("a.vtt", VTT),
        ("a.srt", "1\n00:00:01,000 --> 00:00:02,000\nKick\n"),
        ("a.txt", "[0:01] Kick\n"),
        ("a.md", "**[0:01]** Kick\n"),
        ("captions.txt", VTT),
        ("a.vtt", VTT.removeprefix("WEBVTT\n\n")),
    ],
)
def test_content_decides_how_a_file_is_read(tmp_path: Path, name: str, text: str) -> None:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    transcript = read_transcript(path)
    assert transcript.name == path.stem
    assert transcript.timed
    assert [(cue.start, cue.text) for cue in transcript.cues] == [(1, "Kick")]
    assert looks_like_transcript(path)


def test_our_own_json_comes_back_as_it_was(tmp_path: Path) -> None:
    word = Word(text="Kick", start=1, end=2, probability=0.5)
    cue = Cue(start=1, end=2, text="Kick", words=(word,))
    transcript = Transcript(name="mia", cues=(cue,), duration=9, engine={"model": "base"})
    path = tmp_path / "any.json"
    path.write_text(transcript.model_dump_json(), encoding="utf-8")
    assert read_transcript(path) == transcript


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("{", ", line 1: is broken JSON"),
        ("[]", ": is no transcript (Input should be"),
        ('{"name": "x", "lines": []}', ": is no transcript (cues: Field required)"),
        ('{"name": "x", "cues": [], "duration": 1}', ": has no cues with words"),
        (
            '{"name": "x", "duration": 1, "cues": [{"start": 3, "end": 1, "text": "a"}]}',
            ": is no transcript (cues.0: Value error, ends at 1.0 s, before it starts at 3.0 s)",
        ),
        (
            '{"name": "x", "duration": 1, "cues": [{"start": 3, "end": 4, "text": "a"},'
            '{"start": 1, "end": 4, "text": "a"}]}',
            ": is no transcript (Value error, a cue at 1.0 s follows one at 3.0 s)",
        ),
        ('{"name": "x", "duration": NaN, "cues": []}', ": is no transcript (NaN is no time)"),
        (
            '{"name": "x", "duration": 1e999, "cues": [{"start": 3, "end": 4, "text": "a"}]}',
            ": has a time without end",
        ),
        ("[" * 100_000, ": is no transcript"),
    ],
)
def test_json_that_is_no_transcript_says_why(tmp_path: Path, text: str, problem: str) -> None:
    path = tmp_path / "x.json"
    path.write_text(text, encoding="utf-8")
    assert refusal(path).startswith(problem)


@pytest.mark.parametrize(
    ("name", "data", "problem"),
    [
        ("x.vtt", b"", ": is empty"),
        ("x.txt", b" \r\n\n", ": is empty"),
        ("x.vtt", b"WEBVTT\n\nNOTE nothing here\n", ": has no cues with words"),
        ("x.vtt", b"WEBVTT\n\n00:01.000 --> 00:02.000\n<b></b>\n", ": has no cues with words"),
        ("x.md", b"# Only a heading\n", ": has no cues with words"),
        ("x.vtt", b"WEBVTT\n\n00:01.000 --> 00:02.000\ncaf\xe9\n", ", line 4: is not UTF-8 text"),
        ("x.txt", "Kick".encode("utf-16"), ", line 1: is not UTF-8 text"),
        ("x.txt", b"Kick\n\0\0\0", ", line 2: is not text"),
        ("x.vtt", b"WEBVTT\n\n00:01 --> soon\nKick\n", ", line 3: broken time"),
    ],
)
def test_a_file_that_cannot_be_used_says_why(
    tmp_path: Path, name: str, data: bytes, problem: str
) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    assert refusal(path).startswith(problem)


def test_a_folder_and_a_missing_file_say_so(tmp_path: Path) -> None:
    assert refusal(tmp_path) == ": is a folder. Name a file in it."
    assert refusal(tmp_path / "gone.vtt") == ": no such file. Check its name."


def test_a_file_without_permission_says_so(tmp_path: Path) -> None:
    path = tmp_path / "x.vtt"
    path.write_text(VTT, encoding="utf-8")
    path.chmod(0)
    if os.access(path, os.R_OK):
        pytest.skip("this user may read anything")
    assert refusal(path).startswith(": cannot be read (permission denied)")


def test_a_doubled_trailer_is_on_record(tmp_path: Path) -> None:
    passage = "the elbow drops as soon as the hand is in the water today"
    path = tmp_path / "x.txt"
    path.write_text(f"[0:00] {passage}\n\n[0:08] Hello.\n\n[2:00] {passage}\n", encoding="utf-8")
    transcript = read_transcript(path)
    assert [cue.start for cue in transcript.cues] == [8, 120]
    assert [(doubt.reason, doubt.text) for doubt in transcript.doubts] == [("repeat", passage)]


@pytest.mark.parametrize(
    ("name", "data", "meant"),
    [
        ("a.VTT", b"", True),
        ("notes.md", b"x", True),
        ("a.json", b"{}", True),
        ("captions", VTT.encode(), True),
        ("a.mp4", b"Just some words in a file\n", False),
        ("a.mp4", b"\x00\x00\x00\x18ftypmp42", False),
        ("a.yaml", b"swimmer: Mia\n", False),
    ],
)
def test_transcripts_are_told_from_clips(
    tmp_path: Path, name: str, data: bytes, meant: bool
) -> None:
    path = tmp_path / name
    path.write_bytes(data)
    assert looks_like_transcript(path) is meant


def test_a_missing_clip_is_no_transcript(tmp_path: Path) -> None:
    assert not looks_like_transcript(tmp_path / "gone.mp4")
    assert looks_like_transcript(tmp_path / "gone.vtt")
