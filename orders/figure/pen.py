"""The pen: millimetres in, SVG text out, rounded to a tenth of a pixel.

Everything is laid out for a left leg, which points left from the outside; for a right leg the pen mirrors
every place on its way out, and never the lettering.
"""

import math
from html import escape

from orders.figure.form import Path, Point


def tenths(value: float) -> str:
    """The value to one decimal, halves up, as the twin in JavaScript writes it."""
    return decimal(value, 10)


def decimal(value: float, parts: int) -> str:
    """The value in whole `parts` (10, 100 ...) of one, halves up, without trailing zeros."""
    whole = math.floor(value * parts + 0.5)
    sign, size = ("-", -whole) if whole < 0 else ("", whole)
    rest = str(parts + size % parts)[1:].rstrip("0")
    return f"{sign}{size // parts}{'.' if rest else ''}{rest}"


class Pen:
    """Writes elements of one picture of `width` px at `scale` px per mm."""

    def __init__(self, scale: float, width: float, mirrored: bool) -> None:
        self.scale, self.width, self.mirrored = scale, width, mirrored
        self.out: list[str] = []
        self.x0 = self.y0 = 0.0
        self.way = -1
        self.lying = False
        self.lettered: list[tuple[float, float, float, float]] = []

    def stand_at(self, x0: float, y0: float, way: int, lying: bool = False) -> None:
        """Put the origin of the next view at (x0, y0) px; `way` -1 has x run left, 1 right."""
        self.x0, self.y0, self.way, self.lying = x0, y0, way, lying

    def at(self, x: float, y: float) -> Point:
        """Where a point of the leg lies on the unmirrored picture. [px]"""
        if self.lying:
            x, y = y, -x
        return self.x0 + self.way * self.scale * x, self.y0 + self.scale * y

    def across(self, x: float) -> float:
        """x of the finished picture. [px]"""
        return self.width - x if self.mirrored else x

    def pair(self, x: float, y: float) -> str:
        return f"{tenths(self.across(x))} {tenths(y)}"

    def raw(self, text: str) -> None:
        self.out.append(text)

    def d(self, path: Path) -> str:
        """A path in mm as the text of a d attribute."""
        return "".join(
            letter + " ".join(self.pair(*self.at(x, y)) for x, y in points) for letter, points in path
        )

    def path(self, kind: str, path: Path) -> None:
        self.raw(f'<path class="{kind}" d="{self.d(path)}"/>')

    def line_px(self, kind: str, points: list[Point], close: bool = False) -> None:
        """A broken line through px points of the unmirrored picture."""
        d = "L".join(self.pair(x, y) for x, y in points)
        self.raw(f'<path class="{kind}" d="M{d}{"Z" if close else ""}"/>')

    def circle(self, kind: str, x: float, y: float, r_mm: float) -> None:
        self.circle_px(kind, self.at(x, y), r_mm * self.scale)

    def circle_px(self, kind: str, centre: Point, r: float) -> None:
        x, y = tenths(self.across(centre[0])), tenths(centre[1])
        self.raw(f'<circle class="{kind}" cx="{x}" cy="{y}" r="{tenths(r)}"/>')

    def box(self, kind: str, a: Point, b: Point, round_mm: float = 0) -> None:
        """A rectangle between two corners in mm."""
        self.box_px(kind, self.at(*a), self.at(*b), round_mm * self.scale)

    def box_px(self, kind: str, a: Point, b: Point, round_px: float = 0) -> None:
        ax, bx = self.across(a[0]), self.across(b[0])
        x, y = min(ax, bx), min(a[1], b[1])
        size = f'width="{tenths(abs(bx - ax))}" height="{tenths(abs(b[1] - a[1]))}"'
        soft = f' rx="{tenths(round_px)}"' if round_px else ""
        self.raw(f'<rect class="{kind}" x="{tenths(x)}" y="{tenths(y)}" {size}{soft}/>')

    def text(self, kind: str, at: Point, words: str, anchor: str = "middle", upright: bool = False) -> None:
        """Lettering; `anchor` as on the unmirrored picture, `upright` runs it from bottom to top."""
        self.lettered.append(self._room_of(at, words, anchor, upright))
        if self.mirrored:
            anchor = {"start": "end", "end": "start"}.get(anchor, anchor)
        x, y = tenths(self.across(at[0])), tenths(at[1])
        turn = f' transform="rotate(-90 {x} {y})"' if upright else ""
        where = f'x="{x}" y="{y}" text-anchor="{anchor}"{turn}'
        self.raw(f'<text class="{kind}" {where}>{escape(words)}</text>')

    def _room_of(
        self, at: Point, words: str, anchor: str, upright: bool
    ) -> tuple[float, float, float, float]:
        """About where the words stand on the unmirrored picture: left, top, right, bottom. [px]"""
        x, y = at
        long = letters_px(words)
        if upright:
            left = x - (3 if self.mirrored else 12)
            return left, y - long / 2, left + 15, y + long / 2
        left = x - {"start": 0.0, "middle": long / 2, "end": long}[anchor]
        return left, y - 12, left + long, y + 3


def letters_px(words: str, size: float = 14) -> float:
    """About how wide the words are, for keeping room. [px]"""
    return len(words) * size * 0.56
