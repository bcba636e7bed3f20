"""Drawing in metres: shapes on a picture that is drawn large and made smooth by shrinking."""

from collections.abc import Sequence
from math import atan2, cos, hypot, pi, radians, sin

from PIL import Image, ImageDraw, ImageFont

from studio.swimmer import Point

WIDTH, HEIGHT = 640, 360
FINE = 2
"""How much larger it is drawn than shown."""
METRE = 205 * FINE
"""Drawn pixels a metre."""
ORIGIN = (262 * FINE, 118 * FINE)
"""Drawn pixel of the shoulders' place at the still water line. The swimmer swims to the left."""

Colour = tuple[int, int, int] | tuple[int, int, int, int]


class Canvas:
    """One picture in the making; points are metres in the swimmer's plane."""

    def __init__(self, background: Image.Image) -> None:
        self.image = background.copy()
        self._pen = ImageDraw.Draw(self.image, "RGBA")

    def shrunk(self) -> Image.Image:
        """The picture in the size it is shown in."""
        return self.image.resize((WIDTH, HEIGHT), Image.Resampling.LANCZOS)

    def disc(self, centre: Point, radius: float, colour: Colour) -> None:
        """A filled circle."""
        x, y = to_pixel(centre)
        r = radius * METRE
        self._pen.ellipse((x - r, y - r, x + r, y + r), fill=colour)

    def ring(self, centre: Point, radius: float, colour: Colour, width: float = 2) -> None:
        """A circle's outline, its width in shown pixels."""
        x, y = to_pixel(centre)
        r = radius * METRE
        self._pen.ellipse((x - r, y - r, x + r, y + r), outline=colour, width=round(width * FINE))

    def shape(self, points: Sequence[Point], colour: Colour) -> None:
        """A filled outline."""
        self._pen.polygon([to_pixel(p) for p in points], fill=colour)

    def line(self, points: Sequence[Point], colour: Colour, width: float = 2) -> None:
        """A line through points, its width in shown pixels."""
        pixels = [to_pixel(p) for p in points]
        self._pen.line(pixels, fill=colour, width=round(width * FINE), joint="curve")

    def dashes(self, start: Point, end: Point, colour: Colour, dash: float = 0.035) -> None:
        """A dashed line, dash and gap of the same length in metres."""
        steps = max(1, round(hypot(end[0] - start[0], end[1] - start[1]) / dash))
        for i in range(0, steps, 2):
            piece = [between(start, end, share / steps) for share in (i, i + 1)]
            self.line(piece, colour)

    def limb(self, start: Point, end: Point, radii: tuple[float, float], colour: Colour) -> None:
        """A tapering piece with round ends."""
        along = atan2(end[1] - start[1], end[0] - start[0])
        side = (cos(along + pi / 2), sin(along + pi / 2))
        (r, s) = radii
        self.shape(
            [
                (start[0] + side[0] * r, start[1] + side[1] * r),
                (end[0] + side[0] * s, end[1] + side[1] * s),
                (end[0] - side[0] * s, end[1] - side[1] * s),
                (start[0] - side[0] * r, start[1] - side[1] * r),
            ],
            colour,
        )
        self.disc(start, r, colour)
        self.disc(end, s, colour)

    def arc(
        self, corner: Point, first: Point, second: Point, radius: float, colour: Colour
    ) -> None:
        """The short arc of the angle at ``corner`` between two points."""
        start = atan2(first[1] - corner[1], first[0] - corner[0])
        sweep = atan2(second[1] - corner[1], second[0] - corner[0]) - start
        sweep = (sweep + pi) % (2 * pi) - pi
        angles = [start + sweep * i / 24 for i in range(25)]
        self.line(
            [(corner[0] + radius * cos(a), corner[1] + radius * sin(a)) for a in angles], colour, 2
        )

    def words(self, at: Point, text: str, colour: Colour, size: int = 15) -> None:
        """Text on a dark plate, its left edge and middle at a point."""
        x, y = to_pixel(at)
        self.label((x / FINE, y / FINE), text, colour, size)

    def label(self, at: tuple[float, float], text: str, colour: Colour, size: int = 15) -> None:
        """The same, at a shown pixel."""
        font = ImageFont.load_default(size=size * FINE)
        x, y = at[0] * FINE, at[1] * FINE
        left, top, right, bottom = self._pen.textbbox((x, y), text, font=font, anchor="lm")
        edge = 4 * FINE
        box = (left - edge, top - edge, right + edge, bottom + edge)
        self._pen.rounded_rectangle(box, edge, fill=(12, 28, 38, 190))
        self._pen.text((x, y), text, fill=colour, font=font, anchor="lm")

    def plate(self, box: tuple[float, float, float, float], colour: Colour) -> None:
        """A filled rectangle in shown pixels."""
        self._pen.rectangle([edge * FINE for edge in box], fill=colour)


def to_pixel(point: Point) -> Point:
    """Drawn pixel of a place in metres."""
    return ORIGIN[0] - point[0] * METRE, ORIGIN[1] - point[1] * METRE


def between(start: Point, end: Point, share: float) -> Point:
    """A point on the way from one to another."""
    return (
        start[0] + (end[0] - start[0]) * share,
        start[1] + (end[1] - start[1]) * share,
    )


def turned(centre: Point, degrees: float, along: float, across: float) -> Point:
    """A place given along and across a direction at a centre."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    return centre[0] + along * c - across * s, centre[1] + along * s + across * c
