"""A front-crawl swimmer seen from the side, as joints in a plane that move with the stroke.

Metres; x runs forwards along the lane, y upwards from the still water line. Angles are degrees,
0 forwards, 90 upwards, -180 backwards. The swimmer breathes to the left, which is the near side.

The figure shows what the narration says: the left elbow drops in the pull and the left hand
comes out early; the right forearm stands up but its hand waits in front; the head lifts at the
breath and the hips sink with it; the knees bend too much while the feet stay together.
"""

from dataclasses import dataclass
from math import cos, hypot, pi, radians, sin

import numpy as np

from studio.curve import Curve

Point = tuple[float, float]

STROKES_PER_MINUTE = 52
CYCLE_S = 120 / STROKES_PER_MINUTE
"""Two strokes: the time after which everything is as it was."""
ROLL_DEG = 43.0
"""Shoulder line against the surface at its most, each way."""
KICKS_PER_CYCLE = 3
"""Of each leg: a six-beat kick."""

UPPER_ARM, FOREARM, HAND = 0.30, 0.26, 0.17
TRUNK, THIGH, SHANK, FOOT = 0.53, 0.43, 0.41, 0.20
SHOULDER_DEPTH = -0.10
HALF_SHOULDERS, HALF_HIPS = 0.17, 0.09

# One row a moment: share of the arm's own cycle from the hand's entry on; direction and visible
# share of the upper arm; direction and visible share of the forearm. An arm that points partly
# at the camera looks shorter.
LEFT_ARM = Curve(
    [
        (0.00, 14, 0.95, -10, 0.95),
        (0.09, 3, 1.00, -4, 1.00),
        (0.16, -8, 1.00, -6, 1.00),
        (0.24, -36, 1.00, -12, 1.00),
        (0.32, -62, 1.00, -32, 1.00),
        (0.36, -74, 1.00, -44, 1.00),
        (0.43, -100, 1.00, -76, 1.00),
        (0.50, -132, 0.98, -108, 0.95),
        (0.56, -164, 0.95, -122, 0.90),
        (0.61, -198, 0.90, -128, 0.85),
        (0.68, -222, 0.90, -134, 0.72),
        (0.77, -258, 0.85, -138, 0.62),
        (0.86, -300, 0.85, -92, 0.55),
        (0.94, -330, 0.90, -36, 0.75),
    ],
    turns=(-360, 0, 0, 0),
)
RIGHT_ARM = Curve(
    [
        (0.00, 12, 0.95, -10, 0.95),
        (0.08, 1, 1.00, -5, 1.00),
        (0.30, 1, 1.00, -5, 1.00),
        (0.37, -12, 0.97, -56, 0.92),
        (0.43, -24, 0.92, -94, 1.00),
        (0.47, -40, 0.92, -110, 1.00),
        (0.53, -84, 0.95, -140, 1.00),
        (0.59, -132, 1.00, -160, 1.00),
        (0.65, -168, 1.00, -176, 1.00),
        (0.70, -196, 0.85, -172, 0.90),
        (0.80, -256, 0.80, -140, 0.62),
        (0.88, -304, 0.85, -84, 0.52),
        (0.94, -332, 0.90, -36, 0.75),
    ],
    turns=(-360, 0, 0, 0),
)
RIGHT_STARTS = 0.5
"""Share of the cycle at which the right hand enters; the left hand enters at 0."""
BREATH = Curve([(0.0, 0), (0.56, 0), (0.68, 1), (0.82, 1), (0.95, 0)], turns=(0,))
"""How far the head is up for air."""
SINKING = Curve([(0.02, 0), (0.10, 0), (0.62, 0), (0.76, 1), (0.88, 1)], turns=(0,))
"""How far the hips have gone down because of it."""


@dataclass(frozen=True)
class Limb:
    """Three joints and a tip: shoulder, elbow, wrist, fingertips, or hip, knee, ankle, toes."""

    root: Point
    middle: Point
    end: Point
    tip: Point

    @property
    def inside_angle(self) -> float:
        """Angle at elbow or knee as it is seen: straight is 180."""
        (ax, ay), (bx, by), (cx, cy) = self.root, self.middle, self.end
        ux, uy, vx, vy = ax - bx, ay - by, cx - bx, cy - by
        cosine = (ux * vx + uy * vy) / (hypot(ux, uy) * hypot(vx, vy))
        return float(np.degrees(np.arccos(np.clip(cosine, -1, 1))))


@dataclass(frozen=True)
class Pose:
    """Where everything is at one moment.

    ``roll`` is degrees, positive with the left shoulder up; ``breath`` is 0 with the face in
    the water and 1 with the head up for air.
    """

    left_arm: Limb
    right_arm: Limb
    left_leg: Limb
    right_leg: Limb
    shoulders: Point
    hips: Point
    head: Point
    head_direction: float
    roll: float
    breath: float


def phase_at(seconds: float, starts_at: float) -> float:
    """Share of the cycle at a moment of the clip, 0 to 1; ``starts_at`` is that at 0 s."""
    return (seconds / CYCLE_S + starts_at) % 1


def pose_at(phase: float) -> Pose:
    """The swimmer at a share of the cycle, counted from the entry of the left hand."""
    breath, sinking = BREATH.at(phase)[0], SINKING.at(phase)[0]
    roll = ROLL_DEG * sin(2 * pi * (phase - 0.53))
    shoulders = (0.0, SHOULDER_DEPTH + 0.02 * breath)
    tilt = 5 + 15 * sinking
    hips = _from(shoulders, 180 + tilt, TRUNK)
    lift, hip_lift = HALF_SHOULDERS * sin(radians(roll)), HALF_HIPS * sin(radians(roll / 2))
    return Pose(
        left_arm=_arm(LEFT_ARM, phase, (shoulders[0], shoulders[1] + lift)),
        right_arm=_arm(RIGHT_ARM, phase - RIGHT_STARTS, (shoulders[0], shoulders[1] - lift)),
        left_leg=_leg(phase, 0.0, (hips[0], hips[1] + hip_lift), tilt),
        right_leg=_leg(phase, 0.5, (hips[0], hips[1] - hip_lift), tilt),
        shoulders=shoulders,
        hips=hips,
        head=(0.235 - 0.045 * breath, -0.065 + 0.205 * breath),
        head_direction=-6 + 44 * breath,
        roll=roll,
        breath=breath,
    )


def _arm(curve: Curve, phase: float, shoulder: Point) -> Limb:
    upper, upper_share, fore, fore_share = curve.at(phase)
    elbow = _from(shoulder, upper, UPPER_ARM * upper_share)
    wrist = _from(elbow, fore, FOREARM * fore_share)
    return Limb(shoulder, elbow, wrist, _from(wrist, fore, HAND * fore_share))


def _leg(phase: float, behind: float, hip: Point, tilt: float) -> Limb:
    beat = 2 * pi * (KICKS_PER_CYCLE * phase + behind)
    drop = 17 + 15 * sin(beat) + 0.3 * tilt
    bend = 38 + 32 * sin(beat + 0.7)
    knee = _from(hip, 180 + drop, THIGH)
    ankle = _from(knee, 180 + drop - bend, SHANK)
    return Limb(hip, knee, ankle, _from(ankle, 180 + drop - bend + 14, FOOT))


def _from(start: Point, degrees: float, length: float) -> Point:
    return (
        start[0] + length * cos(radians(degrees)),
        start[1] + length * sin(radians(degrees)),
    )
