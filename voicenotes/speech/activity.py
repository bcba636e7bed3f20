"""Voice activity: where somebody speaks, and the clips that recognition is given.

Recognition hears 30 seconds at a time, however little is said in them; so speech is packed into
few, long clips that are cut where the speaker pauses.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from voicenotes.media import SAMPLE_RATE, Sound

WINDOW_S = 240.0
"""Seconds of sound looked at together: memory stays the same however long the recording."""

CLIP_S = 28.0
"""Longest clip: recognition drops what lies beyond 30 s."""

PAUSE_S = 4.0
"""A silence this long is not put inside a clip: words come up in it by themselves."""

PAD_S = 0.24
"""Sound kept around a clip, for soft first and last sounds."""

CUT_COST = 0.6
EASY_CUT_S = 0.8
"""A cut in no pause at all costs as much as this part of a further clip; one in a pause of
EASY_CUT_S costs nothing."""

MIN_SILENCE_MS = 160
"""The shortest pause that parts two spans of speech."""

Span = tuple[float, float]
"""Start and end in seconds."""


@dataclass(frozen=True)
class Clip:
    """Up to CLIP_S of sound with speech in it, and where in the recording it is spoken."""

    start: float
    sound: Sound
    spans: tuple[Span, ...]

    @property
    def end(self) -> float:
        """Where the clip ends, in seconds of the recording."""
        return self.start + len(self.sound) / SAMPLE_RATE


def find_clips(blocks: Iterator[Sound]) -> Iterator[Clip]:
    """Clips of speech from sound that comes in blocks; the same blocks give the same clips."""
    held: list[Sound] = []
    first = 0
    for block in blocks:
        held.append(block)
        if sum(map(len, held)) >= WINDOW_S * SAMPLE_RATE:
            sound = np.concatenate(held)
            clips = _clips_in(sound, first)
            open_clip = _open_clip(clips, first + len(sound))
            yield from clips[:-1] if open_clip else clips
            cut = len(sound) - int(PAD_S * SAMPLE_RATE)
            if open_clip:
                cut = min(cut, round(open_clip.start * SAMPLE_RATE) - first)
            held, first = [sound[cut:]], first + cut
    if held:
        yield from _clips_in(np.concatenate(held), first)


def _open_clip(clips: Sequence[Clip], end: int) -> Clip | None:
    """The last clip of a window that ends at this sample, where it may go on in the next one.

    After a silence it is closed: else it would be looked at again for as long as nobody speaks.
    """
    if clips and end / SAMPLE_RATE - clips[-1].spans[-1][1] <= PAUSE_S:
        return clips[-1]
    return None


def _clips_in(sound: Sound, first: int) -> list[Clip]:
    offset = first / SAMPLE_RATE
    groups = pack(find_speech(sound))
    return [
        Clip(
            start=offset + low / SAMPLE_RATE,
            sound=sound[low:high].copy(),
            spans=tuple((offset + start, offset + end) for start, end in group),
        )
        for group, (low, high) in zip(groups, _edges(groups, len(sound)), strict=True)
    ]


def _edges(groups: Sequence[Sequence[Span]], length: int) -> Iterator[tuple[int, int]]:
    """First and last sample of each clip: padded, but not into its neighbour's speech."""
    hop = SAMPLE_RATE // 100  # the recogniser counts in hundredths of a second
    for index, group in enumerate(groups):
        before = groups[index - 1][-1][1] if index else 0.0
        after = groups[index + 1][0][0] if index + 1 < len(groups) else length / SAMPLE_RATE
        low = max(group[0][0] - PAD_S, (before + group[0][0]) / 2)
        high = min(group[-1][1] + PAD_S, (group[-1][1] + after) / 2)
        last = min(length, int(high * SAMPLE_RATE))
        yield int(low * SAMPLE_RATE) // hop * hop, last // hop * hop


def find_speech(sound: Sound) -> list[Span]:
    """Spans of speech in seconds, without padding, none longer than a clip."""
    from faster_whisper.vad import VadOptions, get_speech_timestamps

    options = VadOptions(
        min_silence_duration_ms=MIN_SILENCE_MS, speech_pad_ms=0, max_speech_duration_s=CLIP_S
    )
    found = get_speech_timestamps(sound, options)
    return [(span["start"] / SAMPLE_RATE, span["end"] / SAMPLE_RATE) for span in found]


def pack(spans: Sequence[Span]) -> list[list[Span]]:
    """Groups spans of speech into as few clips as can be, cut in the longest pauses."""
    best: list[tuple[float, int]] = [(0.0, 0)]  # cost of packing the first n spans, last cut
    for end in range(1, len(spans) + 1):
        best.append(
            min(
                (best[start][0] + 1 + _cut_cost(spans, start), start)
                for start in _possible_starts(spans, end)
            )
        )
    groups: list[list[Span]] = []
    end = len(spans)
    while end:
        start = best[end][1]
        groups.append(list(spans[start:end]))
        end = start
    return groups[::-1]


def _possible_starts(spans: Sequence[Span], end: int) -> Iterator[int]:
    """Where a clip that ends before span ``end`` may start."""
    yield end - 1
    for start in range(end - 2, -1, -1):
        too_long = spans[end - 1][1] - spans[start][0] > CLIP_S
        if too_long or spans[start + 1][0] - spans[start][1] > PAUSE_S:
            return
        yield start


def _cut_cost(spans: Sequence[Span], start: int) -> float:
    if start == 0:
        return 0.0
    pause = spans[start][0] - spans[start - 1][1]
    return CUT_COST * max(0.0, 1 - pause / EASY_CUT_S)
