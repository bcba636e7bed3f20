"""Make the other voices again: ``python -m tests.data.make_voices``.

Needs Debian's packages flite (voices slt and awb) and espeak-ng (German). The voices are synthetic
and the texts, voices.txt and german.txt, are invented.
"""

import re
import subprocess
import tempfile
from pathlib import Path

import numpy as np

from tests.sounds import DATA, GERMAN, SCOT, WOMAN, silence, whole, write_media
from voicenotes.media import Sound

BREATH_S = 0.35
BITS_A_SECOND = 24_000


def main() -> None:
    """Speak each text in its voices and write them as Opus."""
    for path, text, command in (
        (WOMAN, "voices.txt", ["flite", "-voice", "slt", "-t", "{line}", "-o", "{file}"]),
        (SCOT, "voices.txt", ["flite", "-voice", "awb", "-t", "{line}", "-o", "{file}"]),
        (GERMAN, "german.txt", ["espeak-ng", "-v", "de", "-s", "150", "-w", "{file}", "{line}"]),
    ):
        write_media(path, speak(DATA / text, command), "libopus", bits_a_second=BITS_A_SECOND)


def speak(text: Path, command: list[str]) -> Sound:
    """The sound of a text, line by line, with the pauses between them."""
    parts: list[Sound] = []
    for line in text.read_text(encoding="utf-8").splitlines():
        pause = re.fullmatch(r"\(([\d.]+) s\)", line)
        parts += [silence(float(pause[1]))] if pause else [_say(line, command), silence(BREATH_S)]
    return np.concatenate(parts)


def _say(line: str, command: list[str]) -> Sound:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "line.wav"
        subprocess.run([part.format(line=line, file=file) for part in command], check=True)
        return whole(file)


if __name__ == "__main__":
    main()
