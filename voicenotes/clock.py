"""Two clocks: the narration's, and that of the clip that is talked about."""

from bisect import bisect_right
from itertools import pairwise
from typing import Self

from pydantic import Field, model_validator

from voicenotes.record import Record

END_SLACK_S = 1.0
"""A moment this far beyond the clip's end is still its end: players and files round."""


class Mark(Record):
    """At this second of the narration, the clip stands at that one."""

    narration_s: float = Field(ge=0, allow_inf_nan=False)
    clip_s: float = Field(ge=0, allow_inf_nan=False)


class Clock(Record):
    """Where the clip stands while the narration runs.

    Without marks only moments that the coach speaks are known. Two marks at one second of the
    narration are a leap: the clip was moved there.
    """

    length_s: float | None = None
    """Seconds of the clip, where known."""
    marks: tuple[Mark, ...] = ()

    @model_validator(mode="after")
    def _marks_run_forwards(self) -> Self:
        for before, after in pairwise(self.marks):
            if after.narration_s < before.narration_s:
                raise ValueError(
                    f"a mark at {after.narration_s:g} s follows one at {before.narration_s:g} s"
                )
        return self

    @property
    def agrees(self) -> bool:
        """Whether the narration was spoken over the playing clip: both clocks are one."""
        return self.marks == SAME

    def at(self, narration_s: float) -> float | None:
        """The clip's second at one of the narration; None where not known, or outside the clip.

        Between two marks the clip runs evenly (it stands where both name the same second); before
        the first and after the last it runs as fast as the narration.
        """
        if not self.marks:
            return None
        after = bisect_right([mark.narration_s for mark in self.marks], narration_s)
        near = self.marks[max(0, after - 1)]
        passed, speed = narration_s - near.narration_s, 1.0
        if 0 < after < len(self.marks):
            following = self.marks[after]
            span = following.narration_s - near.narration_s
            speed = (following.clip_s - near.clip_s) / span
        return self.inside(near.clip_s + speed * passed)

    def inside(self, clip_s: float) -> float | None:
        """A second of the clip to a thousandth; None where the clip has no such second."""
        end = self.length_s
        if clip_s < -0.0005 or (end is not None and clip_s > end + END_SLACK_S):
            return None
        return round(min(max(0.0, clip_s), end if end is not None else clip_s), 3)


SAME = (Mark(narration_s=0, clip_s=0),)
"""The marks of a narration that was spoken over the playing clip: the clocks agree."""
