"""Sound for tests: a short narration in a synthetic voice, noises, and files made of them."""

import re
from pathlib import Path
from typing import Any

import av
import numpy as np
from numpy.typing import NDArray

from voicenotes.media import SAMPLE_RATE, Sound, read_sound

DATA = Path(__file__).parent / "data"
SPOKEN = DATA / "spoken.opus"
"""24 seconds of speech; data/make_spoken.py makes it from data/spoken.txt."""

WOMAN, SCOT, GERMAN = (DATA / f"{name}.opus" for name in ("woman", "scot", "german"))
"""Other voices: 20 seconds of another text in two of them, 12 of German; data/make_voices.py
makes them from data/voices.txt and data/german.txt."""

FRAMES_A_SECOND = 5


def spoken_text(name: str = "spoken.txt") -> str:
    """What is said in SPOKEN, or in another text of the folder, without its pauses."""
    return re.sub(r"\([\d.]+ s\)\s*", "", (DATA / name).read_text(encoding="utf-8"))


def spoken() -> Sound:
    """The sound of SPOKEN."""
    return whole(SPOKEN)


def whole(path: Path) -> Sound:
    """All sound of a file as it is read by the tool."""
    blocks = list(read_sound(path))
    return np.concatenate(blocks) if blocks else np.zeros(0, np.float32)


def silence(seconds: float) -> Sound:
    return np.zeros(round(seconds * SAMPLE_RATE), np.float32)


def tone(seconds: float, hertz: float = 440.0) -> Sound:
    time = np.arange(round(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    return np.asarray(0.4 * np.sin(2 * np.pi * hertz * time), np.float32)


def chords(seconds: int) -> Sound:
    """Something like music: a struck chord each second."""
    time = np.arange(SAMPLE_RATE) / SAMPLE_RATE
    pitches = np.random.default_rng(1).integers(0, 12, seconds)
    bars = [
        sum(
            np.sin(2 * np.pi * 220 * 2 ** (pitch / 12) * ratio * time) * np.exp(-2 * time)
            for ratio in (1, 1.25, 1.5, 2, 3)
        )
        for pitch in pitches
    ]
    return np.asarray(0.1 * np.concatenate(bars), np.float32)


def pool_noise(seconds: float) -> Sound:
    """Something like a pool hall: a rumble, and splashes over it; loudness 1 on average."""
    random = np.random.default_rng(2)
    length = round(seconds * SAMPLE_RATE)
    rumble = _shaped(random.normal(size=length), 20, 300)
    noise: NDArray[Any] = rumble / rumble.std()
    for at in random.uniform(0, seconds - 1, round(1.5 * seconds)):
        splash = _shaped(random.normal(size=SAMPLE_RATE // 2), 300, 4000)
        splash *= np.exp(-np.linspace(0, 5, len(splash))) / splash.std()
        noise[round(at * SAMPLE_RATE) :][: len(splash)] += splash
    return np.asarray(noise / noise.std(), np.float32)


def _shaped(noise: NDArray[Any], low: float, high: float) -> NDArray[Any]:
    spectrum = np.fft.rfft(noise)
    hertz = np.fft.rfftfreq(len(noise), 1 / SAMPLE_RATE)
    spectrum[(hertz < low) | (hertz > high)] = 0
    shaped: NDArray[Any] = np.fft.irfft(spectrum, len(noise))
    return shaped


def with_noise(sound: Sound, noise: Sound, decibels: float) -> Sound:
    """Sound with noise that much quieter than its speech."""
    speech = np.sqrt(np.mean(sound[np.abs(sound) > 0.01] ** 2))
    loudness = speech * 10 ** (-decibels / 20)
    return np.asarray(sound + noise[: len(sound)] * loudness, np.float32)


def in_a_hall(sound: Sound, seconds: float = 0.6) -> Sound:
    """Sound in a hard room: echoes that come thick and fade by 60 dB within some seconds."""
    random = np.random.default_rng(3)
    time = np.arange(round(seconds * SAMPLE_RATE)) / SAMPLE_RATE
    echoes = random.normal(size=len(time)) * 10 ** (-3 * time / seconds)
    echoes /= np.sqrt(np.sum(echoes**2)) * 1.5
    echoes[0] = 1.0
    size = len(sound) + len(echoes)
    both = np.fft.irfft(np.fft.rfft(sound, size) * np.fft.rfft(echoes, size), size)
    return np.asarray(both[: len(sound)] / np.abs(both).max() * 0.5, np.float32)


def clipped(sound: Sound, share: float = 0.05) -> Sound:
    """Sound recorded too loud: the loudest share of its speech is cut flat."""
    loud = np.abs(sound[np.abs(sound) > 0.01])
    edge = float(np.quantile(loud, 1 - share))
    return np.asarray(np.clip(sound / edge, -1, 1), np.float32)


def write_media(
    path: Path,
    sound: Sound,
    codec: str,
    *,
    rate: int = 48_000,
    layout: str = "mono",
    picture_s: float = 0.0,
    starts_at: float = 0.0,
    bits_a_second: int | None = None,
    options: dict[str, str] | None = None,
) -> Path:
    """Writes a sound or video file. Stereo has all its sound on the left."""
    with av.open(str(path), "w", options=options or {}) as container:
        track = container.add_stream(codec, rate=rate, layout=layout)
        assert isinstance(track, av.AudioStream)
        if bits_a_second:
            track.bit_rate = bits_a_second
        if picture_s:
            _add_picture(container, picture_s)
        channels = [sound, np.zeros_like(sound)] if layout == "stereo" else [sound]
        frame = av.AudioFrame.from_ndarray(np.stack(channels), format="fltp", layout=layout)
        frame.sample_rate = SAMPLE_RATE
        frame.pts = round(starts_at * SAMPLE_RATE)
        resampler = av.AudioResampler(format=track.format, layout=layout, rate=rate)
        for piece in [*resampler.resample(frame), *resampler.resample(None)]:
            container.mux(track.encode(piece))
        container.mux(track.encode(None))
    return path


def _add_picture(container: "av.container.OutputContainer", seconds: float) -> None:
    track = container.add_stream("mpeg4", rate=FRAMES_A_SECOND)
    assert isinstance(track, av.VideoStream)
    track.width, track.height, track.pix_fmt = 64, 64, "yuv420p"
    for number in range(round(seconds * FRAMES_A_SECOND)):
        grey = np.full((64, 64, 3), number % 255, np.uint8)
        container.mux(track.encode(av.VideoFrame.from_ndarray(grey, format="rgb24")))
    container.mux(track.encode(None))


def cut(path: Path, share: float) -> Path:
    """A copy of a file that breaks off after a share of its bytes."""
    data = path.read_bytes()
    copy = path.with_name(f"cut-{path.name}")
    copy.write_bytes(data[: round(len(data) * share)])
    return copy
