"""What the coach draws on the picture while talking. Angles are measured on the figure itself."""

from collections.abc import Callable
from math import atan2, degrees

from studio.canvas import Canvas, Colour, turned
from studio.swimmer import CYCLE_S, STROKES_PER_MINUTE, Limb, Point, Pose

Mark = Callable[[Canvas, Pose, float, float], None]
"""Draws on a canvas, given the pose, seconds of the clip, and seconds since the shot began."""

PEN: Colour = (255, 221, 64)
GOOD: Colour = (150, 240, 130)


def entries(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """Rings round a hand that is just going in."""
    for arm in (pose.left_arm, pose.right_arm):
        if arm.tip[0] > 0.5 and abs(arm.tip[1]) < 0.1:
            canvas.ring(arm.tip, 0.09, GOOD)


def roll(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """A head-on sketch: shoulder line against the surface, with its angle."""
    middle = (0.98, -0.52)
    canvas.disc(middle, 0.27, (12, 40, 56, 150))
    canvas.line([(middle[0] + 0.25, middle[1]), (middle[0] - 0.25, middle[1])], (190, 230, 240), 1)
    left, right = (turned(middle, -pose.roll, along, 0) for along in (-0.2, 0.2))
    canvas.limb(left, right, (0.04, 0.04), GOOD)
    canvas.disc(turned(middle, -pose.roll, 0, 0.02), 0.062, (226, 84, 58))
    canvas.words((middle[0] + 0.11, middle[1] - 0.2), f"{abs(pose.roll):.0f}°", GOOD)


def drop(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """A ring round the left elbow."""
    canvas.ring(pose.left_arm.middle, 0.11, PEN)


def elbow_left(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """The angle inside the left elbow."""
    _joint(canvas, pose.left_arm, PEN)


def elbow_right(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """The angle inside the right elbow."""
    _joint(canvas, pose.right_arm, GOOD)


def finish(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """A ring round the left hand, and a line from hip to thigh for where it should go."""
    canvas.ring(pose.left_arm.tip, 0.08, PEN)
    hip, knee = pose.left_leg.root, pose.left_leg.middle
    to = (hip[0] + (knee[0] - hip[0]) * 0.6, -0.42)
    canvas.dashes((hip[0] + 0.02, -0.42), to, GOOD)
    canvas.line([(to[0] + 0.04, to[1] + 0.03), to, (to[0] + 0.04, to[1] - 0.03)], GOOD, 2)


def head(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """A ring round the head, and an arrow down to where it belongs."""
    canvas.ring(pose.head, 0.19, PEN)
    x = pose.head[0] + 0.30
    canvas.line([(x, 0.26), (x, 0.02)], GOOD, 2.5)
    canvas.line([(x - 0.04, 0.07), (x, 0.02), (x + 0.04, 0.07)], GOOD, 2.5)


def hips(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """How far the hips are under the surface."""
    hip = pose.hips
    canvas.line([(hip[0], -0.01), (hip[0], hip[1])], PEN, 2)
    canvas.disc(hip, 0.022, PEN)
    canvas.line([(hip[0] - 0.06, -0.01), (hip[0] + 0.06, -0.01)], PEN, 2)


def hold(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """A ring round the right hand, and how long it has been still."""
    hand = pose.right_arm.tip
    canvas.ring(hand, 0.09, PEN)
    still = min(max(clip - 17.79, 0.0), 0.5)
    canvas.words((hand[0] + 0.1, hand[1] - 0.18), f"{still:.1f} s", PEN)


def rate(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """Strokes counted so far in this shot, and the rate they make."""
    strokes = int(into / (CYCLE_S / 2)) + 1
    canvas.label((20, 26), f"strokes {strokes}", PEN)
    if strokes > 3:
        canvas.label((20, 52), f"{STROKES_PER_MINUTE} a minute", PEN)


def feet(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """A ring round both feet."""
    a, b = pose.left_leg.end, pose.right_leg.end
    canvas.ring(((a[0] + b[0]) / 2 - 0.06, (a[1] + b[1]) / 2), 0.28, GOOD)


def knee(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """How far the near knee is bent from straight."""
    leg = pose.left_leg
    along = _direction(leg.root, leg.middle)
    straight = turned(leg.middle, along, 0.4, 0)
    canvas.line([leg.root, leg.middle], PEN, 2)
    canvas.dashes(leg.middle, straight, PEN)
    canvas.line([leg.middle, leg.end], PEN, 2)
    canvas.arc(leg.middle, straight, leg.end, 0.2, PEN)
    bend = 180 - leg.inside_angle
    canvas.words((leg.middle[0] - 0.26, leg.middle[1] - 0.02), f"{bend:.0f}°", PEN)


def notes(canvas: Canvas, pose: Pose, clip: float, into: float) -> None:
    """What comes first and second, written down as it is said."""
    if into > 2:
        canvas.label((20, 26), "1  head low on the breath", PEN)
    if into > 6.5:
        canvas.label((20, 52), "2  left elbow up", PEN)


def _joint(canvas: Canvas, arm: Limb, colour: Colour) -> None:
    canvas.line([arm.root, arm.middle, arm.end], colour, 2)
    canvas.arc(arm.middle, arm.root, arm.end, 0.1, colour)
    beside = (arm.middle[0] - 0.12, arm.middle[1] - 0.10)
    canvas.words(beside, f"{arm.inside_angle:.0f}°", colour)


def _direction(start: Point, end: Point) -> float:
    return degrees(atan2(end[1] - start[1], end[0] - start[0]))
