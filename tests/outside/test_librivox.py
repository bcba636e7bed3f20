"""Word error rate on open recorded speech.

Sound and reference: the LibriVox clips of Debian's package pocketsphinx-testdata, read from
Jane Austen's "Sense and Sensibility" (public domain), 71 words. Word error rate by jiwer.
"""

import re
from pathlib import Path

import jiwer
import pytest

from voicenotes.speech.cache import CACHE_VARIABLE
from voicenotes.speech.recognize import transcribe
from voicenotes.speech.weights import MODEL_VARIABLE
from voicenotes.vocabulary.load import load_vocabulary

FOLDER = Path("/usr/share/pocketsphinx/test/data/librivox")
LINE = re.compile(r"<s> (?P<text>.*) </s> \((?P<name>.*)\)")


@pytest.mark.skipif(
    not FOLDER.is_dir(), reason="open recorded speech is not here: install pocketsphinx-testdata"
)
def test_open_recorded_speech(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(CACHE_VARIABLE, str(tmp_path))
    monkeypatch.delenv(MODEL_VARIABLE, raising=False)
    vocabulary = load_vocabulary()
    said, heard = [], []
    for line in LINE.finditer((FOLDER / "transcription").read_text(encoding="utf-8")):
        transcript = transcribe(FOLDER / f"{line['name']}.wav", vocabulary)
        said.append(_plain(line["text"]))
        heard.append(_plain(" ".join(cue.text for cue in transcript.cues)))
    assert len(said) == 5
    assert jiwer.wer(said, heard) <= 0.035


def _plain(text: str) -> str:
    return " ".join(re.findall(r"[a-z']+", text.casefold()))
