"""The picture: pool, swimmer, water over the swimmer."""

from collections.abc import Callable
from math import cos, pi, radians, sin

import numpy as np
from PIL import Image

from studio.canvas import FINE, HEIGHT, METRE, ORIGIN, WIDTH, Canvas, Colour, between, turned
from studio.swimmer import Limb, Point, Pose

SPEED = 100 / 110
"""Metres a second: one fifty for a hundred."""
FLOOR = -0.94
LEFT_EDGE, RIGHT_EDGE = 1.32, -1.9

SKIN: Colour = (238, 184, 146)
SKIN_FAR: Colour = (190, 140, 116)
SUIT: Colour = (30, 44, 84)
SUIT_FAR: Colour = (24, 34, 64)
CAP: Colour = (226, 84, 58)
DARK: Colour = (26, 30, 44)
WHITE: Colour = (255, 255, 255, 200)
WATER: Colour = (40, 150, 200, 36)
SKIN_EDGE: Colour = (150, 98, 76)
FAR_EDGE: Colour = (112, 80, 74)
EDGE = 0.007
"""Width of the dark edge round limbs, metres."""

Piece = tuple[Point, Point, tuple[float, float], Colour]


def pool() -> Image.Image:
    """Everything that stands still: the hall above, the water below."""
    rows = np.zeros((HEIGHT * FINE, WIDTH * FINE, 3), dtype=np.float64)
    surface, floor = ORIGIN[1], round(ORIGIN[1] - FLOOR * METRE)
    rows[:surface] = _shade((176, 196, 206), (206, 220, 226), surface)
    rows[surface:floor] = _shade((150, 214, 226), (66, 148, 182), floor - surface)
    rows[floor:] = _shade((120, 186, 204), (96, 164, 188), rows.shape[0] - floor)
    return Image.fromarray(rows.round().astype(np.uint8))


def draw_scene(canvas: Canvas, pose: Pose, seconds: float) -> None:
    """Draw the moving parts; ``seconds`` is the moment of the clip."""
    way = seconds * SPEED
    _floor(canvas, way)
    _lane_rope(canvas, way)
    _swimmer(canvas, pose)
    if pose.breath < 0.3:
        _bubbles(canvas, pose, seconds)
    _water(canvas, pose, way)


def _shade(top: Colour, bottom: Colour, rows: int) -> np.ndarray:
    down = np.linspace(0, 1, rows)[:, None, None]
    return np.array(top) * (1 - down) + np.array(bottom) * down


def _floor(canvas: Canvas, way: float) -> None:
    """The black line on the floor, and its tiles going by."""
    canvas.shape(
        [
            (LEFT_EDGE, FLOOR - 0.05),
            (RIGHT_EDGE, FLOOR - 0.05),
            (RIGHT_EDGE, -1.02),
            (LEFT_EDGE, -1.02),
        ],
        (38, 66, 88),
    )
    tile = 0.5
    for i in range(8):
        x = RIGHT_EDGE + (i * tile - way) % (8 * tile)
        canvas.line([(x, FLOOR), (x * 1.08, FLOOR - 0.2)], (70, 128, 152), 1)


def _lane_rope(canvas: Canvas, way: float) -> None:
    piece = 0.16
    first = int((RIGHT_EDGE + way) / piece) - 1
    for i in range(first, first + 23):
        x = i * piece - way
        colour: Colour = (206, 92, 84) if i % 4 == 0 else (238, 240, 238)
        canvas.limb((x, 0.035), (x + 0.075, 0.035), (0.026, 0.026), colour)


def _swimmer(canvas: Canvas, pose: Pose) -> None:
    _arm(canvas, pose.right_arm, SKIN_FAR, FAR_EDGE)
    _leg(canvas, pose.right_leg, SKIN_FAR, SUIT_FAR, FAR_EDGE)
    _neck(canvas, pose)
    _trunk(canvas, pose)
    _leg(canvas, pose.left_leg, SKIN, SUIT, SKIN_EDGE)
    _head(canvas, pose)
    _arm(canvas, pose.left_arm, SKIN, SKIN_EDGE)


def _body(canvas: Canvas, pieces: list[Piece], edge: Colour) -> None:
    """Pieces that belong together, with one dark edge round them all."""
    for start, end, (r, s), _ in pieces:
        canvas.limb(start, end, (r + EDGE, s + EDGE), edge)
    for start, end, radii, colour in pieces:
        canvas.limb(start, end, radii, colour)


def _arm(canvas: Canvas, arm: Limb, colour: Colour, edge: Colour) -> None:
    knuckles = between(arm.end, arm.tip, 0.5)
    pieces: list[Piece] = [
        (arm.root, arm.middle, (0.062, 0.045), colour),
        (arm.middle, between(arm.middle, arm.end, 0.35), (0.045, 0.046), colour),
        (between(arm.middle, arm.end, 0.35), arm.end, (0.046, 0.029), colour),
        (arm.end, knuckles, (0.030, 0.036), colour),
        (knuckles, arm.tip, (0.036, 0.014), colour),
    ]
    _body(canvas, pieces, edge)
    canvas.disc(arm.root, 0.062 + EDGE, colour)  # the arm grows out of the shoulder: no edge there


def _leg(canvas: Canvas, leg: Limb, skin: Colour, suit: Colour, edge: Colour) -> None:
    calf = between(leg.middle, leg.end, 0.3)
    pieces: list[Piece] = [
        (leg.root, leg.middle, (0.094, 0.060), skin),
        (leg.middle, calf, (0.060, 0.060), skin),
        (calf, leg.end, (0.060, 0.034), skin),
        (leg.end, between(leg.end, leg.tip, 0.4), (0.036, 0.034), skin),
        (between(leg.end, leg.tip, 0.4), leg.tip, (0.034, 0.014), skin),
        (leg.root, between(leg.root, leg.middle, 0.6), (0.097, 0.076), suit),
    ]
    _body(canvas, pieces, edge)
    canvas.disc(leg.root, 0.097 + EDGE, suit)


def _trunk(canvas: Canvas, pose: Pose) -> None:
    """Chest, waist and hips; a rolled trunk shows more of its breadth."""
    chest = 0.116 + 0.030 * abs(sin(radians(pose.roll)))
    waist, seat = chest * 0.88, 0.104
    high, low, belt = (between(pose.shoulders, pose.hips, s) for s in (0.24, 0.6, 0.86))
    pieces: list[Piece] = [
        (pose.shoulders, high, (chest * 0.84, chest), SKIN),
        (high, low, (chest, waist), SKIN),
        (low, pose.hips, (waist, seat), SKIN),
        (belt, pose.hips, (waist * 1.03, seat + 0.002), SUIT),
    ]
    _body(canvas, pieces, SKIN_EDGE)


def _neck(canvas: Canvas, pose: Pose) -> None:
    throat = turned(pose.head, pose.head_direction, -0.07, 0.03 * (1 - pose.breath))
    _body(canvas, [(pose.shoulders, throat, (0.080, 0.066), SKIN)], SKIN_EDGE)


def _head(canvas: Canvas, pose: Pose) -> None:
    """Face down in profile; towards the camera at the breath."""
    way, turn = pose.head_direction, pose.breath

    def spot(along: float, profile: float, facing: float) -> Point:
        return turned(pose.head, way, along, profile + (facing - profile) * turn)

    def oval(grow: float) -> list[Point]:
        return [
            spot((0.132 + grow) * cos(a), (0.108 + grow) * sin(a), (0.098 + grow) * sin(a))
            for a in _round()
        ]

    jaw: Piece = (spot(-0.05, -0.03, 0), spot(-0.1, -0.055, 0), (0.075, 0.046), SKIN)
    nose: Piece = (spot(-0.01, -0.09, 0), spot(-0.028, -0.122, -0.005), (0.016, 0.015), SKIN)
    canvas.shape(oval(EDGE), SKIN_EDGE)
    _body(canvas, [jaw, nose], SKIN_EDGE)
    canvas.shape(oval(0), SKIN)
    canvas.shape([p for a, p in zip(_round(), oval(0.004), strict=True) if _capped(a, turn)], CAP)
    ear = spot(-0.02, 0.02, 0.12)
    if turn < 0.5:
        canvas.limb(ear, spot(-0.035, 0.015, 0.1), (0.017, 0.012), SKIN_EDGE)
    canvas.line([spot(0.032, -0.105, -0.095), spot(0.045, 0.1, 0.095)], DARK, 2)
    _face(canvas, spot, turn)


def _capped(angle: float, turn: float) -> bool:
    """Whether the cap covers the skull there: the crown, and the back of the head in profile."""
    back = max(0.0, sin(angle)) * (1 - turn)
    return cos(angle) > 0.36 - 0.62 * back


def _face(canvas: Canvas, spot: Callable[[float, float, float], Point], turn: float) -> None:
    near = (spot(0.024, -0.082, -0.040), spot(0.032, -0.096, -0.050))
    canvas.limb(*near, (0.023, 0.020), DARK)
    if turn > 0.35:
        canvas.limb(spot(0.024, 0.0, 0.040), spot(0.032, 0.0, 0.050), (0.023, 0.020), DARK)
        canvas.limb(spot(-0.02, 0, 0), spot(-0.035, 0, 0), (0.010, 0.014), SKIN_EDGE)
    if turn > 0.2:
        canvas.limb(
            spot(-0.080, -0.08, -0.018), spot(-0.080, -0.08, 0.018), (0.020, 0.020), (128, 44, 44)
        )
    else:
        canvas.line([spot(-0.072, -0.1, 0), spot(-0.082, -0.075, 0)], (150, 84, 70), 2)


def _round() -> list[float]:
    return [2 * pi * i / 60 for i in range(60)]


def _bubbles(canvas: Canvas, pose: Pose, seconds: float) -> None:
    """Breath let out in the water, drifting back from the mouth and up."""
    mouth = turned(pose.head, pose.head_direction, -0.07, -0.1)
    for i in range(7):
        age = (seconds * 1.6 + i / 7) % 1
        at = (mouth[0] - 0.34 * age, mouth[1] - 0.03 + 0.16 * age * age + 0.02 * (i % 3))
        if at[1] < -0.02:
            canvas.ring(at, 0.008 + 0.004 * (i % 3), WHITE, 0.8)


def _water(canvas: Canvas, pose: Pose, way: float) -> None:
    """The water in front of the swimmer, its surface, and splashes where limbs break it."""
    xs = [RIGHT_EDGE + 0.06 * i for i in range(55)]
    surface = [(x, _surface(x, way)) for x in xs]
    bottom = [(LEFT_EDGE, -1.4), (RIGHT_EDGE, -1.4)]
    canvas.shape([*surface, *bottom], WATER)
    canvas.line(surface, WHITE, 1.4)
    tips = (pose.left_arm, pose.right_arm, pose.left_leg, pose.right_leg)
    for limb in tips:
        x, y = limb.tip
        depth = abs(y - _surface(x, way))
        if depth < 0.07:
            _splash(canvas, x, _surface(x, way), 1 - depth / 0.07)


def _splash(canvas: Canvas, x: float, y: float, size: float) -> None:
    for i in range(6):
        away = (i - 2.5) * 0.035
        high = 0.05 * size * (1 - abs(i - 2.5) / 3.2) * (1 + 0.4 * (i % 2))
        canvas.disc((x - 0.03 + away, y + high), 0.006 + 0.008 * size, WHITE)


def _surface(x: float, way: float) -> float:
    """Height of the water at a place: small waves that the swimmer passes, and a bow wave."""
    still = 0.010 * sin(5.1 * (x + way)) + 0.006 * sin(11.3 * (x + way) + 1)
    return (
        still
        + 0.020 * float(np.exp(-((x - 0.36) ** 2) / 0.012))
        - 0.012 * float(np.exp(-((x - 0.02) ** 2) / 0.03))
    )
