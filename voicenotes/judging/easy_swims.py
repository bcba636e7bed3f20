"""Warm-up, cool-down, and the whole-stroke swims that carry the focus over."""

import math
from collections.abc import Sequence
from dataclasses import replace

from voicenotes.judging.doses import Line, Part, easy, lengths, swim_s
from voicenotes.judging.kit import Kit
from voicenotes.review import Brief, Swim
from voicenotes.vocabulary.model import Level

SHORT_SWIM_M = 50.0
"""The least of easy swimming that warms up or cools down (common practice)."""

MOST_EASY_M: dict[Part, dict[Level, float]] = {
    "warm_up": {"learner": 200, "club": 400, "competitive": 800},
    "cool_down": {"learner": 100, "club": 200, "competitive": 300},
}
"""Metres beyond which easy swimming is not added (common practice)."""

BUILD_FROM_M = 300.0
"""A warm-up of this many metres ends on a few lengths that get faster (common practice)."""

BUILD_M = 100.0
"""Metres of those lengths together (common practice)."""

REPEAT_M: dict[Level, float] = {"learner": 25, "club": 50, "competitive": 100}
"""Metres of one whole-stroke swim: no longer than the focus holds (common practice)."""

REST_S: dict[Level, int] = {"learner": 30, "club": 20, "competitive": 15}
"""Seconds of rest after one (common practice)."""

MOST_REPEATS = 16
"""Whole-stroke swims beyond which longer ones are set instead (common practice)."""

REPEATS_A_FOCUS = 4
"""The least of them for one thing to think of (common practice)."""


def easy_block(part: Part, room_s: float, brief: Brief) -> list[Swim]:
    """Easy swimming for a warm-up or cool-down: as much as fits, and at least a little.

    Learners swim it in short pieces with rest.
    """
    step = lengths(SHORT_SWIM_M, brief.pool_m) * brief.pool_m
    most = max(1, int(MOST_EASY_M[part][brief.level] / step))
    if brief.level == "learner":
        line = easy(part, step, brief, rest_s=REST_S["learner"])
        return [replace(line, reps=_between(room_s / line.every_s, most)).swim()]
    count = _between(room_s / swim_s(step, brief), most)
    if part == "cool_down" or count * step < BUILD_FROM_M:
        return [easy(part, count * step, brief).swim()]
    build = _build(brief)
    left_s = room_s - build.reps * build.every_s
    left_m = MOST_EASY_M[part][brief.level] - build.reps * brief.pool_m
    count = _between(left_s / swim_s(step, brief), max(1, int(left_m / step)))
    return [easy(part, count * step, brief).swim(), build.swim()]


def _build(brief: Brief) -> Line:
    reps = max(2, round(BUILD_M / brief.pool_m))
    line = easy("warm_up", brief.pool_m, brief, reps, rest_s=15)
    return replace(line, notes=("Each one a little faster than the last.",))


def _between(value: float, most: int) -> int:
    return max(1, min(math.floor(value), most))


def carry_over(room_s: float, foci: Sequence[str], at_pace: bool, kit: Kit) -> list[Swim]:
    """Whole-stroke swims that fill the time, a line for each thing to think of; at least one."""
    line = _whole_stroke(room_s, at_pace, kit.brief)
    reps = max(1, math.floor(room_s / line.every_s))
    pairs = reps // 2
    if pairs < 2:
        return [_with_focus(line, reps, foci[0] if foci else None, kit)]
    shares = max(1, min(len(foci), reps // REPEATS_A_FOCUS))
    sizes = [(pairs + later) // shares for later in reversed(range(shares))]
    lines: list[str | None] = [*foci[:shares]] or [None]
    return [
        _with_focus(line, 2 * size, focus, kit) for size, focus in zip(sizes, lines, strict=True)
    ]


def _whole_stroke(room_s: float, at_pace: bool, brief: Brief) -> Line:
    """One whole-stroke swim: longer where the time asks for very many of them."""
    for times in (1, 2, 4):
        metres = lengths(times * REPEAT_M[brief.level], brief.pool_m) * brief.pool_m
        line = easy("carry_over", metres, brief, rest_s=times * REST_S[brief.level])
        if room_s / line.every_s < MOST_REPEATS + 1:
            break
    name = "whole stroke at your own pace" if at_pace else "whole stroke, easy"
    return replace(line, name=name)


def _with_focus(line: Line, reps: int, focus: str | None, kit: Kit) -> Swim:
    cues = tuple(f"Think: {c.cue}" for c in kit.now if c.code == focus and c.cue)
    return replace(line, reps=reps, focus=focus, notes=cues).swim()
