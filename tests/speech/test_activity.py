from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sounds import chords, pool_noise, silence, spoken, tone
from voicenotes.media import BLOCK_S, SAMPLE_RATE, Sound
from voicenotes.speech.activity import (
    CLIP_S,
    PAD_S,
    PAUSE_S,
    WINDOW_S,
    Span,
    find_clips,
    find_speech,
    pack,
)


@st.composite
def speech(draw: st.DrawFn) -> list[Span]:
    spans, clock = [], 0.0
    for _ in range(draw(st.integers(0, 40))):
        start = clock + draw(st.floats(0.16, 8))
        clock = start + draw(st.floats(0.1, CLIP_S))
        spans.append((start, clock))
    return spans


@given(speech())
def test_every_span_is_in_one_clip_that_recognition_can_take(spans: list[Span]) -> None:
    groups = pack(spans)
    assert [span for group in groups for span in group] == spans
    for group in groups:
        assert group[-1][1] - group[0][0] <= CLIP_S + 1e-6
        assert all(after[0] - before[1] <= PAUSE_S for before, after in pairwise(group))


@given(speech())
def test_no_two_clips_could_be_one(spans: list[Span]) -> None:
    for one, other in pairwise(pack(spans)):
        assert other[-1][1] - one[0][0] > CLIP_S or other[0][0] - one[-1][1] > PAUSE_S


def test_clips_are_cut_in_the_longer_pause() -> None:
    spans = [(0.0, 12.0), (12.2, 20.0), (21.0, 27.0), (27.2, 40.0)]
    assert [group[0][0] for group in pack(spans)] == [0.0, 21.0]


def blocks(sound: Sound) -> list[Sound]:
    size = round(BLOCK_S * SAMPLE_RATE)
    return [sound[at : at + size] for at in range(0, len(sound), size)]


def test_a_long_recording_gives_the_same_speech_as_its_parts() -> None:
    once = np.concatenate([spoken(), silence(6.0)])
    times = 14  # well over one window
    clips = list(find_clips(iter(blocks(np.tile(once, times)))))
    found = [span for clip in clips for span in clip.spans]
    single = find_speech(once)
    length = len(once) / SAMPLE_RATE
    assert len(found) == len(single) * times
    for number, (start, end) in enumerate(found):
        lap, index = divmod(number, len(single))
        assert start - lap * length == pytest.approx(single[index][0], abs=0.15)
        assert end - lap * length == pytest.approx(single[index][1], abs=0.15)


def test_a_silence_after_speech_does_not_pile_up() -> None:
    """Sound that is held until a clip is given out must not grow with the silence after it."""
    at_once = blocks(np.concatenate([spoken(), silence(2 * WINDOW_S)]))
    read = 0

    def counted() -> Iterator[Sound]:
        nonlocal read
        for block in at_once:
            read += 1
            yield block

    first = next(find_clips(counted()))
    assert read * BLOCK_S <= WINDOW_S + BLOCK_S
    assert first.spans[0][0] == pytest.approx(find_speech(spoken())[0][0], abs=0.1)


def test_a_clip_holds_its_speech_and_little_more() -> None:
    sound = np.concatenate([silence(7.0), spoken(), silence(7.0)])
    for clip in find_clips(iter(blocks(sound))):
        assert clip.spans[0][0] - clip.start == pytest.approx(PAD_S, abs=0.02)
        assert clip.end - clip.spans[-1][1] == pytest.approx(PAD_S, abs=0.02)
        first = round(clip.start * SAMPLE_RATE)
        assert np.array_equal(clip.sound, sound[first : first + len(clip.sound)])


@pytest.mark.parametrize(
    "sound",
    [silence(30), tone(30), chords(30), 0.1 * pool_noise(30), 0.01 * pool_noise(30)],
    ids=["silence", "tone", "music", "pool", "faint pool"],
)
def test_there_is_no_speech_in_noise(sound: Sound) -> None:
    assert list(find_clips(iter(blocks(sound)))) == []
