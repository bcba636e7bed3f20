"""What is on the screen at each moment: the coach plays, slows, stops and scrubs the clip.

A shot begins with a line of the narration and lasts until the next shot. In the silence before
its line the playhead runs to where the shot begins.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from studio.marks import (
    Mark,
    drop,
    elbow_left,
    elbow_right,
    entries,
    feet,
    finish,
    head,
    hips,
    hold,
    knee,
    notes,
    rate,
    roll,
)
from studio.voice import Narration

CLIP_S = 30.0
"""Length of the clip that is talked about."""
STARTS_AT = 0.87
"""Share of the arm cycle at the clip's first picture."""


@dataclass(frozen=True)
class Shot:
    """From a line on: the clip from ``start`` to ``end`` over and over, or stopped at speed 0.

    Times are seconds of the clip; ``start`` None goes on from wherever the clip is.
    """

    line: str
    start: float | None = None
    end: float = CLIP_S
    speed: float = 1.0
    marks: tuple[Mark, ...] = ()


SHOTS = (
    Shot("l1", 0.0),
    Shot("l4", 4.2, 6.6, 0.5, (entries,)),
    Shot("l5"),
    Shot("l6", 6.70, 9.31, 0.5, (roll,)),
    Shot("l7", 9.02, speed=0, marks=(roll,)),
    Shot("l8", 12.62, speed=0),
    Shot("l9", 12.05, 12.75, 0.15, (drop,)),
    Shot("l10", 12.62, speed=0, marks=(elbow_left,)),
    Shot("l11", 14.08, speed=0, marks=(elbow_right,)),
    Shot("l12", 13.0, 13.45, 0.15, (finish,)),
    Shot("l13", 17.40, 18.18, 0.3),
    Shot("l14", 18.18, speed=0, marks=(head,)),
    Shot("l15", 17.60, 18.60, 0.25, (hips,)),
    Shot("l16", 19.0),
    Shot("l17", 17.79, 18.45, 0.2, (hold,)),
    Shot("l18", 4.0, marks=(rate,)),
    Shot("l19", 26.56, speed=0),
    Shot("l20", 26.0, 26.80, 0.3, (feet,)),
    Shot("l21", 26.56, speed=0, marks=(knee,)),
    Shot("l22", 0.0, marks=(notes,)),
    Shot("l27"),
)


@dataclass(frozen=True)
class Moment:
    """What one picture shows: the clip's own time, whether it runs, and the coach's marks."""

    clip: float
    runs: bool
    marks: tuple[Mark, ...]
    into_shot: float
    """Seconds since the shot began, for marks that come one after another."""


class Timeline:
    """From seconds of the narration to what is shown then."""

    def __init__(self, narration: Narration, shots: Sequence[Shot] = SHOTS) -> None:
        spoken = {s.line.id: s for s in narration.spoken}
        self._shots = tuple(shots)
        self._begins = [0.0] + [spoken[s.line].start for s in self._shots[1:]]
        self._pauses = [spoken[s.line].line.pause_before for s in self._shots]
        self._starts = self._resolve()

    def at(self, seconds: float) -> Moment:
        """The moment shown at a time of the narration."""
        i = bisect_right(self._begins, seconds) - 1
        shot, into = self._shots[i], seconds - self._begins[i]
        clip = self._clip(i, into)
        if i + 1 < len(self._shots):
            left, pause = self._begins[i + 1] - seconds, self._pauses[i + 1]
            if pause and left < pause * 0.75:
                return Moment(self._scrubbed(i, left / (pause * 0.75)), False, (), into)
            if pause and left < pause:
                return Moment(self._clip(i, into), False, shot.marks, into)
        return Moment(clip, shot.speed > 0, shot.marks, into)

    def _resolve(self) -> list[float]:
        starts: list[float] = []
        for i, shot in enumerate(self._shots):
            if shot.start is None:
                before = self._shots[i - 1]
                length = (self._begins[i] - self._begins[i - 1]) * before.speed
                starts.append((starts[-1] + length) % CLIP_S)
            else:
                starts.append(shot.start)
        return starts

    def _clip(self, i: int, into: float) -> float:
        shot, start = self._shots[i], self._starts[i]
        if shot.end == CLIP_S:
            return (start + into * shot.speed) % CLIP_S
        return start + (into * shot.speed) % (shot.end - start)

    def _scrubbed(self, i: int, left: float) -> float:
        """The playhead on its way to the next shot; ``left`` is the share of way still to go."""
        stopped = self._clip(i, self._begins[i + 1] - self._pauses[i + 1] - self._begins[i])
        eased = left * left * (3 - 2 * left)
        return self._starts[i + 1] + (stopped - self._starts[i + 1]) * eased
