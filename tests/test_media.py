import io
import os
import struct
from pathlib import Path

import av
import numpy as np
import pytest
from numpy.typing import NDArray

from tests.sounds import cut, silence, tone, whole, write_media
from voicenotes.errors import InputError
from voicenotes.media import BLOCK_S, SAMPLE_RATE, Sound, is_cut_off, probe, read_sound, read_stills

KINDS = [
    ("clip.wav", "pcm_s16le", 0.0),
    ("clip.mp3", "libmp3lame", 0.0),
    ("clip.m4a", "aac", 0.0),
    ("clip.opus", "libopus", 0.0),
    ("clip.flac", "flac", 0.0),
    ("clip.mp4", "aac", 8.0),
    ("clip.mov", "pcm_s16le", 8.0),
    ("clip.mkv", "libopus", 8.0),
]


def a_beep_at(seconds: float, length: float = 6.0) -> Sound:
    return np.concatenate([silence(seconds), tone(0.5), silence(length - seconds - 0.5)])


def onset(sound: Sound) -> float:
    return float(np.argmax(np.abs(sound) > 0.1) / SAMPLE_RATE)


@pytest.mark.parametrize(("name", "codec", "picture_s"), KINDS)
def test_any_kind_is_read_with_its_moments(
    tmp_path: Path, name: str, codec: str, picture_s: float
) -> None:
    clip = write_media(tmp_path / name, a_beep_at(4.0), codec, picture_s=picture_s)
    media, sound = probe(clip), whole(clip)
    assert len(sound) / SAMPLE_RATE == pytest.approx(6.0, abs=0.1)
    assert onset(sound) == pytest.approx(4.0, abs=0.05)
    assert media.sound_s == pytest.approx(6.0, abs=0.1)
    assert media.has_video == bool(picture_s)
    assert not is_cut_off(media, len(sound) / SAMPLE_RATE)


def test_a_sound_track_that_starts_late_keeps_its_moments(tmp_path: Path) -> None:
    clip = write_media(tmp_path / "a.mp4", a_beep_at(1.0), "aac", picture_s=9.0, starts_at=2.0)
    assert onset(whole(clip)) == pytest.approx(3.0, abs=0.05)


def test_moments_do_not_drift_over_ten_minutes(tmp_path: Path) -> None:
    long = np.concatenate([silence(599.0), tone(0.5)])
    clip = write_media(tmp_path / "a.flac", long, "flac", rate=44_100)
    assert onset(whole(clip)) == pytest.approx(599.0, abs=0.015)


def test_sound_on_one_channel_alone_is_heard(tmp_path: Path) -> None:
    clip = write_media(tmp_path / "a.wav", tone(1.0), "pcm_s16le", rate=8000, layout="stereo")
    assert np.abs(whole(clip)).max() > 0.1


def test_sound_comes_in_small_blocks(tmp_path: Path) -> None:
    clip = write_media(tmp_path / "a.wav", tone(47.0), "pcm_s16le", rate=16_000)
    blocks = list(read_sound(clip))
    assert max(map(len, blocks)) <= BLOCK_S * SAMPLE_RATE
    assert sum(map(len, blocks)) == pytest.approx(47 * SAMPLE_RATE, abs=100)


@pytest.mark.parametrize(
    ("name", "codec", "picture_s", "options"),
    [
        ("clip.wav", "pcm_s16le", 0.0, {}),
        ("clip.mp3", "libmp3lame", 0.0, {}),
        ("clip.opus", "libopus", 0.0, {}),
        ("clip.flac", "flac", 0.0, {}),
        ("clip.mkv", "libopus", 20.0, {}),
        ("clip.mp4", "aac", 20.0, {"movflags": "+faststart"}),
    ],
)
def test_what_is_there_of_a_file_that_breaks_off_is_read(
    tmp_path: Path, name: str, codec: str, picture_s: float, options: dict[str, str]
) -> None:
    clip = write_media(tmp_path / name, tone(20.0), codec, picture_s=picture_s, options=options)
    broken = cut(clip, 0.6)
    read_s = len(whole(broken)) / SAMPLE_RATE
    assert 5.0 < read_s < 19.0
    assert is_cut_off(probe(broken), read_s)


@pytest.mark.parametrize("name", ["clip.mp4", "clip.mkv"])
def test_a_narration_shorter_than_its_picture_is_whole(tmp_path: Path, name: str) -> None:
    clip = write_media(tmp_path / name, tone(5.0), "aac", picture_s=20.0)
    assert not is_cut_off(probe(clip), len(whole(clip)) / SAMPLE_RATE)


def message(path: Path) -> str:
    with pytest.raises(InputError) as error:
        probe(path)
    text = str(error.value)
    assert str(path) in text
    assert "\n" not in text
    return text


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    assert "no such file" in message(tmp_path / "clip.mp4")


def test_a_folder_is_named(tmp_path: Path) -> None:
    assert "is a folder" in message(tmp_path)


def test_a_pipe_is_named_and_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "clip.wav"
    os.mkfifo(pipe)
    assert "is not a file" in message(pipe)


def test_an_empty_file_is_named(tmp_path: Path) -> None:
    clip = tmp_path / "clip.mp4"
    clip.touch()
    assert "is empty" in message(clip)


def test_text_called_mp4_is_named(tmp_path: Path) -> None:
    clip = tmp_path / "clip.mp4"
    clip.write_text("Her left elbow drops.\n" * 50, encoding="utf-8")
    assert "is not a sound or video file" in message(clip)


def test_a_playlist_leads_nowhere(tmp_path: Path) -> None:
    clip = tmp_path / "clip.m3u8"
    clip.write_text("#EXTM3U\n#EXTINF:10,\nhttp://localhost/a.ts\n#EXT-X-ENDLIST\n")
    assert "is not a sound or video file" in message(clip)


def test_a_video_without_sound_is_named(tmp_path: Path) -> None:
    import av

    clip = tmp_path / "clip.mp4"
    with av.open(str(clip), "w") as container:
        track = container.add_stream("mpeg4", rate=5)
        assert isinstance(track, av.VideoStream)
        track.width, track.height, track.pix_fmt = 64, 64, "yuv420p"
        for _ in range(5):
            grey = np.zeros((64, 64, 3), np.uint8)
            container.mux(track.encode(av.VideoFrame.from_ndarray(grey, format="rgb24")))
        container.mux(track.encode(None))
    assert "has no sound" in message(clip)


def test_an_mp4_without_its_index_is_named(tmp_path: Path) -> None:
    clip = write_media(tmp_path / "clip.mp4", tone(5.0), "aac")
    assert "is cut off: the index at its end is missing" in message(cut(clip, 0.8))


def _pixels(jpeg: bytes) -> NDArray[np.uint8]:
    """A JPEG read back: rows of red, green, blue."""
    with av.open(io.BytesIO(jpeg), "r") as picture:
        return next(picture.decode(video=0)).to_ndarray(format="rgb24").astype(np.uint8)


def _film(path: Path, seconds: int = 4, width: int = 320, height: int = 180) -> Path:
    """A silent film, 5 frames a second: its left edge is white, the rest greyer each second."""
    with av.open(str(path), "w") as film:
        track = film.add_stream("libx264", rate=5)
        track.width, track.height, track.pix_fmt = width, height, "yuv420p"
        track.options = {"g": "15"}
        for number in range(5 * seconds):
            picture = np.full((height, width, 3), 40 + 40 * (number // 5 % 5), np.uint8)
            picture[:, : width // 8] = 255
            for packet in track.encode(av.VideoFrame.from_ndarray(picture, format="rgb24")):
                film.mux(packet)
        for packet in track.encode(None):
            film.mux(packet)
    return path


def test_a_still_shows_the_frame_of_its_moment(tmp_path: Path) -> None:
    moments = [0.0, 0.9, 1.1, 2.5, 3.9, 60.0]
    stills = read_stills(_film(tmp_path / "film.mp4"), moments)
    greys = [int(_pixels(stills[at])[90, 200].mean()) for at in moments]
    assert greys == pytest.approx([40, 40, 80, 120, 160, 160], abs=4)


def test_a_still_is_small(tmp_path: Path) -> None:
    still = read_stills(_film(tmp_path / "film.mp4", 1, 1920, 1080), [0.5])[0.5]
    assert _pixels(still).shape == (270, 480, 3)
    assert len(still) < 30_000


def test_a_film_made_on_its_side_is_turned_upright(tmp_path: Path) -> None:
    """A phone held upright stores a quarter turn in the track header's matrix (ISO/IEC 14496-12,
    8.3.2): here, to be shown turned clockwise, so that its left edge comes to the top."""
    path = _film(tmp_path / "film.mp4", 1)
    data = path.read_bytes()
    matrix = data.index(b"tkhd") + 4 + 40
    turned = struct.pack(">9i", 0, 1 << 16, 0, -(1 << 16), 0, 0, 180 << 16, 0, 1 << 30)
    path.write_bytes(data[:matrix] + turned + data[matrix + 36 :])
    shown = _pixels(read_stills(path, [0.5])[0.5])
    assert shown.shape == (320, 180, 3)
    assert shown[5, 90].mean() > 240
    assert shown[300, 90].mean() < 60


def test_sound_and_its_cover_give_no_still(tmp_path: Path) -> None:
    sound = write_media(tmp_path / "a.mp3", tone(2), "libmp3lame")
    assert read_stills(sound, [1.0]) == {}


def test_a_film_that_breaks_off_gives_what_it_has(tmp_path: Path) -> None:
    whole_film = _film(tmp_path / "film.mkv", 10)
    path = cut(whole_film, 0.5)
    stills = read_stills(path, [0.5, 9.5])
    assert _pixels(stills[0.5])[90, 200].mean() == pytest.approx(40, abs=4)
