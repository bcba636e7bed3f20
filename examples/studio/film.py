"""The film: drawn pictures and the coach's voice in one MP4 file."""

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import av
import numpy as np
from PIL import Image

from studio.canvas import HEIGHT, WIDTH, Canvas, Colour
from studio.picture import draw_scene, pool
from studio.swimmer import phase_at, pose_at
from studio.timeline import CLIP_S, STARTS_AT, Moment, Timeline
from studio.voice import Narration

PICTURES_A_SECOND = 12
BAR: Colour = (18, 24, 30, 225)
PALE: Colour = (226, 232, 236)


def pictures(narration: Narration) -> Iterator[Image.Image]:
    """Every picture of the film in order."""
    background, timeline = pool(), Timeline(narration)
    for i in range(round(narration.duration * PICTURES_A_SECOND)):
        yield draw(background, timeline.at(i / PICTURES_A_SECOND))


def draw(background: Image.Image, moment: Moment) -> Image.Image:
    """One picture: the scene, the coach's marks, and the player's bar under it."""
    canvas = Canvas(background)
    pose = pose_at(phase_at(moment.clip, STARTS_AT))
    draw_scene(canvas, pose, moment.clip)
    for mark in moment.marks:
        mark(canvas, pose, moment.clip, moment.into_shot)
    _bar(canvas, moment)
    return canvas.shrunk()


def write_film(narration: Narration, path: Path) -> None:
    """Write the MP4: H.264 and AAC, its index in front so that it can start at once."""
    with av.open(str(path), "w", options={"movflags": "faststart"}) as film:
        video = film.add_stream("libx264", rate=PICTURES_A_SECOND)
        video.width, video.height, video.pix_fmt = WIDTH, HEIGHT, "yuv420p"
        # one thread: the same bytes on every machine
        video.options = {
            "crf": "31",
            "preset": "slow",
            "tune": "animation",
            "g": "240",
            "threads": "1",
        }
        voice = film.add_stream("aac", rate=narration.rate, layout="mono")
        voice.bit_rate = 40_000
        for picture in pictures(narration):
            drawn = av.VideoFrame.from_ndarray(np.asarray(picture), format="rgb24")
            film.mux(video.encode(drawn))
        film.mux(video.encode())
        for frame in _sound_frames(narration):
            film.mux(voice.encode(frame))
        film.mux(voice.encode())


def _sound_frames(narration: Narration) -> Iterator[av.AudioFrame]:
    size = 1024
    for start in range(0, len(narration.sound), size):
        piece = np.ascontiguousarray(narration.sound[start : start + size])[None, :]
        frame = av.AudioFrame.from_ndarray(piece, format="s16", layout="mono")
        frame.sample_rate = narration.rate
        frame.time_base = Fraction(1, narration.rate)
        frame.pts = start
        yield frame


def _bar(canvas: Canvas, moment: Moment) -> None:
    """Play or stop sign, playhead and the clip's time."""
    top = HEIGHT - 26
    middle = top + 13
    canvas.plate((0, top, WIDTH, HEIGHT), BAR)
    if moment.runs:
        for i in range(9):
            canvas.plate((12 + i, middle - 8 + i * 0.9, 13 + i, middle + 8 - i * 0.9), PALE)
    else:
        canvas.plate((12, middle - 7, 15, middle + 7), PALE)
        canvas.plate((19, middle - 7, 22, middle + 7), PALE)
    left, right = 36, WIDTH - 104
    head = left + (right - left) * moment.clip / CLIP_S
    canvas.plate((left, middle - 1, right, middle + 1), (92, 104, 112))
    canvas.plate((left, middle - 1, head, middle + 1), PALE)
    canvas.plate((head - 2, middle - 6, head + 2, middle + 6), PALE)
    canvas.label((WIDTH - 92, middle), f"0:{int(moment.clip):02d} / 0:{CLIP_S:.0f}", PALE, 13)
