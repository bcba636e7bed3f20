"""Sound and video files: what is in them, their sound as a stream, and still pictures."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from voicenotes.errors import InputError
from voicenotes.record import Record

if TYPE_CHECKING:
    from av.audio.frame import AudioFrame
    from av.audio.stream import AudioStream
    from av.container import InputContainer
    from av.video.frame import VideoFrame
    from av.video.stream import VideoStream

SAMPLE_RATE = 16_000
"""Samples a second that speech recognition works on."""

BLOCK_S = 10.0
"""Seconds of sound handed on at a time."""

GAP_S = 0.1
"""A hole in a track's clock longer than this is filled with silence, so that moments stay true."""

SLACK_S = 1.0
SLACK_SHARE = 0.02
"""A track that ends earlier than this, in seconds and as a share of it, was cut off: containers
round what they say of their length."""

OGG_PAGE_MOST = 65_307
"""Bytes of the largest Ogg page (RFC 3533, section 6)."""

STILL_SIDE = 480
"""Pixels of a still's longer side: enough for a phone, and small in a page."""

STILL_QUALITY = 6
"""JPEG quantiser scale, 2 (best) to 31."""

LAMBDA = 118
"""Units of libavcodec's quality to one step of a quantiser scale (FF_QP2LAMBDA)."""

_KINDS = "give a sound or video file, like .mp4, .mov, .m4a, .mp3 or .wav"

Sound = NDArray[np.float32]
"""Mono sound at SAMPLE_RATE, from -1 to 1."""


class Media(Record):
    """What a file says it holds."""

    sound_s: float | None
    """Length of its sound in seconds, where it says so."""
    has_video: bool
    breaks_off: bool
    """True where the file itself tells that its end is missing."""


def probe(path: Path) -> Media:
    """Looks into a sound or video file.

    Raises InputError for a file that is missing, a folder or a pipe, empty, unreadable, not media
    at all, cut off before its index, or without a sound track.
    """
    with _opened(path) as container:
        stream = _sound_track(container, path)
        return Media(
            sound_s=_length(stream, container),
            has_video=_picture_track(container) is not None,
            breaks_off=_breaks_off(path),
        )


def read_sound(path: Path) -> Iterator[Sound]:
    """The sound of a file in blocks of BLOCK_S seconds, from the file's own zero on.

    Damaged pieces are passed over, and a file that breaks off ends where it breaks off:
    ``is_cut_off`` tells. Raises InputError as ``probe`` does.
    """
    with _opened(path) as container:
        stream = _sound_track(container, path)
        yield from _in_blocks(_on_the_clock(container, stream))


def read_stills(path: Path, moments: Iterable[float]) -> dict[float, bytes]:
    """Small upright JPEG pictures of what a player shows at moments, in seconds from its start.

    A moment that cannot be decoded has no picture, and so has a file without a moving one.
    Raises InputError for a file that cannot be opened.
    """
    with _opened(path) as container:
        track = _picture_track(container)
        if track is None:
            return {}
        aspect = float(track.sample_aspect_ratio or 1)
        frames = ((at, _frame_at(container, track, at)) for at in moments)
        return {at: _jpeg(frame, aspect) for at, frame in frames if frame is not None}


def is_cut_off(media: Media, read_s: float) -> bool:
    """Whether the file's end is missing, or fewer seconds could be read than it says it holds."""
    if media.breaks_off or media.sound_s is None:
        return media.breaks_off
    return media.sound_s - read_s > max(SLACK_S, SLACK_SHARE * media.sound_s)


def clip_length(path: Path) -> float | None:
    """Seconds of a video or sound file, with or without a sound track; None where it says nothing.

    Raises InputError as ``probe`` does.
    """
    with _opened(path) as container:
        return container.duration / 1_000_000 if container.duration else None


def has_picture(path: Path) -> bool:
    """Whether a video or sound file has a moving picture, with or without a sound track.

    Raises InputError as ``probe`` does.
    """
    with _opened(path) as container:
        return _picture_track(container) is not None


@contextmanager
def _opened(path: Path) -> Iterator["InputContainer"]:
    import av

    _check_file(path)
    try:
        # Playlists must not reach beyond this machine.
        container = av.open(
            str(path), metadata_errors="ignore", options={"protocol_whitelist": "file"}
        )
    except (av.FFmpegError, OSError, ValueError) as error:
        raise _unreadable(path) from error
    with container:
        yield container


def _check_file(path: Path) -> None:
    where = str(path)
    if path.is_dir():
        raise InputError("is a folder", where, "name a clip, sound file or transcript")
    if path.exists() and not path.is_file():  # a pipe would be waited for without end
        raise InputError("is not a file", where, _KINDS)
    try:
        with path.open("rb") as file:
            if not file.read(1):
                raise InputError("is empty", where, _KINDS)
    except FileNotFoundError as error:
        raise InputError("no such file", where, "check its name") from error
    except OSError as error:
        reason = (error.strerror or "failed").lower()
        raise InputError(f"cannot be read ({reason})", where, "check the file") from error


def _unreadable(path: Path) -> InputError:
    """Why a file did not open: an MP4 or QuickTime file without its index, or no media at all."""
    with path.open("rb") as file:
        head = file.read(12)
    if head[4:8] in {b"ftyp", b"moov", b"mdat", b"wide"}:
        return InputError(
            "is cut off: the index at its end is missing", str(path), "copy it or export it again"
        )
    return InputError("is not a sound or video file that can be read", str(path), _KINDS)


def _sound_track(container: "InputContainer", path: Path) -> "AudioStream":
    if not container.streams.audio:
        raise InputError("has no sound", str(path), "give the clip with the coach's voice on it")
    stream = container.streams.best("audio") or container.streams.audio[0]
    if stream.codec_context is None:
        raise InputError("has sound of an unknown kind", str(path), _KINDS)
    return stream  # type: ignore[return-value]


def _length(stream: "AudioStream", container: "InputContainer") -> float | None:
    """Seconds of a sound track, by its tag or its own word.

    A Matroska track without a tag says nothing: libav then gives it the length of the longest
    track, which may be the picture.
    """
    tag = stream.metadata.get("DURATION", "").split(":")
    if len(tag) == 3:
        return int(tag[0]) * 3600 + int(tag[1]) * 60 + float(tag[2])
    alone = not container.streams.video
    if "matroska" in container.format.name and not alone:
        return None
    if stream.duration is not None and stream.time_base is not None:
        return float(stream.duration * stream.time_base)
    return container.duration / 1_000_000 if alone and container.duration else None


def _breaks_off(path: Path) -> bool:
    """Whether the end of a WAV or Ogg file is missing; libav does not tell of these.

    A RIFF file holds its size in bytes 4 to 8 (0 or all ones while it is written as a stream);
    the last page of an Ogg file has bit 2 set in its sixth byte (RFC 3533, section 6).
    """
    size = path.stat().st_size
    with path.open("rb") as file:
        head = file.read(8)
        if head[:4] == b"RIFF":
            told = int.from_bytes(head[4:], "little")
            return told not in {0, 0xFFFFFFFF} and told + 8 > size
        if head[:4] == b"OggS":
            file.seek(max(0, size - OGG_PAGE_MOST))
            tail = file.read()
            last = tail.rfind(b"OggS")
            return last < 0 or len(tail) <= last + 5 or not tail[last + 5] & 4
    return False


def _on_the_clock(container: "InputContainer", stream: "AudioStream") -> Iterator[Sound]:
    """Resampled sound, with silence where the track's clock leaps ahead.

    A track may start late, or lose pieces; moments must still be those that a player shows. A
    leap beyond the file's own length is a broken clock, and is not followed.
    """
    zero = (container.start_time or 0) / 1_000_000
    most = _length(stream, container) or (container.duration or 0) / 1_000_000
    position = 0
    for frame, pieces in _resampled(_frames(container, stream)):
        if frame is not None and frame.time is not None:
            at = frame.time - zero
            hole = round(at * SAMPLE_RATE) - position
            if hole > GAP_S * SAMPLE_RATE and at <= most + SLACK_S:
                yield from _silence(hole)
                position += hole
        for piece in pieces:
            yield piece
            position += len(piece)


def _resampled(
    frames: Iterator["AudioFrame"],
) -> Iterator[tuple["AudioFrame | None", list[Sound]]]:
    """Each frame with what comes out of the resampler for it; last, what was left inside.

    A track may change its rate or channels midway: then a new resampler takes over.
    """
    from av.audio.resampler import AudioResampler

    resampler, kind = None, None
    for frame in frames:
        this = (frame.format.name, frame.layout.name, frame.sample_rate)
        if resampler is None or this != kind:
            if resampler:
                yield None, _arrays(resampler.resample(None))
            resampler = AudioResampler(format="flt", layout="mono", rate=SAMPLE_RATE)
            kind = this
        pts, frame.pts = frame.pts, None  # the resampler must not fill holes as well
        out = _arrays(resampler.resample(frame))
        frame.pts = pts
        yield frame, out
    if resampler:
        yield None, _arrays(resampler.resample(None))


def _arrays(frames: list["AudioFrame"]) -> list[Sound]:
    return [frame.to_ndarray().reshape(-1).astype(np.float32, copy=False) for frame in frames]


def _silence(samples: int) -> Iterator[Sound]:
    block = int(BLOCK_S * SAMPLE_RATE)
    for first in range(0, samples, block):
        yield np.zeros(min(block, samples - first), np.float32)


def _frames(container: "InputContainer", stream: "AudioStream") -> Iterator["AudioFrame"]:
    """Decoded frames; what cannot be decoded is passed over, and damage to the file ends it."""
    import av

    packets = container.demux(stream)
    while True:
        try:
            packet = next(packets)
        except (StopIteration, av.FFmpegError, OSError):
            return
        try:
            yield from packet.decode()
        except av.FFmpegError:
            continue


def _in_blocks(pieces: Iterator[Sound]) -> Iterator[Sound]:
    size = int(BLOCK_S * SAMPLE_RATE)
    held: list[Sound] = []
    samples = 0
    for piece in pieces:
        held.append(piece)
        samples += len(piece)
        if samples >= size:
            joined = np.concatenate(held)
            whole = samples // size * size
            yield from np.split(joined[:whole], whole // size)
            held, samples = [joined[whole:]], samples - whole
    if samples:
        yield np.concatenate(held)


def _picture_track(container: "InputContainer") -> "VideoStream | None":
    """The moving picture; the cover of a sound file is none."""
    from av.stream import Disposition

    for track in container.streams.video:
        known = getattr(track, "codec_context", None) is not None
        if known and not track.disposition & Disposition.attached_pic:
            return track
    return None


def _frame_at(container: "InputContainer", track: "VideoStream", at: float) -> "VideoFrame | None":
    """The frame on show at a moment: the last that is not later."""
    import av

    on_clock = at + (container.start_time or 0) / 1_000_000
    shown = None
    try:
        container.seek(round(on_clock * 1_000_000))
        for frame in container.decode(track):
            if shown is not None and frame.time is not None and frame.time > on_clock:
                break
            shown = frame
    except (av.FFmpegError, OSError):
        pass  # what was decoded up to the damage is the nearest there is
    return shown


def _jpeg(frame: "VideoFrame", aspect: float) -> bytes:
    """A frame as JPEG, its pixels square, turned as its file says (phones film on their side)."""
    from av import CodecContext
    from av.video.frame import VideoFrame

    scale = min(1.0, STILL_SIDE / max(frame.width * aspect, frame.height))
    width, height = (max(2, round(n * scale)) for n in (frame.width * aspect, frame.height))
    pixels = frame.to_ndarray(format="rgb24", width=width, height=height).astype(np.uint8)
    upright = np.ascontiguousarray(np.rot90(pixels, round(frame.rotation / 90)))
    picture = VideoFrame.from_ndarray(upright, format="rgb24").reformat(format="yuvj420p")
    encoder = CodecContext.create("mjpeg", "w")
    encoder.width, encoder.height = picture.width, picture.height
    encoder.pix_fmt, encoder.time_base = "yuvj420p", Fraction(1, 1)
    encoder.options = {"flags": "+qscale", "global_quality": str(STILL_QUALITY * LAMBDA)}
    return b"".join(bytes(packet) for packet in [*encoder.encode(picture), *encoder.encode(None)])
