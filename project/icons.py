"""The app's icons, drawn from the leg figure: the shank shell from the outside, a tape round its widest place."""

import io

from PIL import Image, ImageDraw

from orders.figure.form import Point
from orders.figure.leg import complete
from orders.figure.lengths import front_at, lengths_of, rear_at, stations_of
from orders.figure.shell import side_outline

# As in static/css/tokens.css; the shell's tint is its colour at 13 % on paper.
PAPER, INK, TINT, TUBE, TAPE = "#f3f5f1", "#16212a", "#d7e3e5", "#c9d0cf", "#f2c230"
SHARE = 0.8  # of the icon's height that the shell takes
SHARE_MASKED = 0.64  # within the circle of 80 % that is safe of a mask (W3C manifest, "maskable")
FINER = 4  # drawn so many times larger, then made smaller: smooth edges
PIECES = 12
FORMS = {"180": (180, SHARE), "192": (192, SHARE), "512": (512, SHARE), "maskable-512": (512, SHARE_MASKED)}
"""Name: edge in px, and the share."""


class Drawing:
    """The shell's lines as points. [mm, x forward, y down from the apex]"""

    def __init__(self) -> None:
        scene = complete({"purpose": "mark"})
        lengths = lengths_of(scene)
        stations = stations_of(scene, lengths["f"], 385 * lengths["g"])
        self.length = lengths["f"]
        self.outline = flattened(side_outline(scene["shell"], lengths, stations).path())
        low = 2 * self.length  # beyond the icon's edge
        self.pylon = [(-15, lengths["q"]), (15, lengths["q"]), (15, low), (-15, low)]
        upper, lower = lengths["cy"] - 22, lengths["cy"] + 22
        ends = [(upper, front_at), (lower, front_at), (lower, rear_at), (upper, rear_at)]
        self.tape = [(at(stations, y), y) for y, at in ends]
        left, right = self.tape[2][0], self.tape[1][0]
        xs = [left + (right - left) * share / 5 for share in range(1, 5)]
        self.ticks = [[(x, lower), (x, lower - (26 if n == 1 else 17))] for n, x in enumerate(xs)]

    def placed(self, points: list[Point], edge: float, share: float) -> list[Point]:
        """The points in an icon of this edge. [px]"""
        scale = edge * share / self.length
        low, high = min(x for x, _y in self.outline), max(x for x, _y in self.outline)
        return [
            (edge / 2 + (x - (low + high) / 2) * scale, edge / 2 + (y - self.length / 2) * scale)
            for x, y in points
        ]


def flattened(path: list) -> list[Point]:
    """A path of M, C and Z as the corners of a polygon."""
    points: list[Point] = []
    for letter, given in path:
        if letter == "M":
            points.append(given[0])
        elif letter == "C":
            start = points[-1]
            points += [cubic(start, *given, step / PIECES) for step in range(1, PIECES + 1)]
    return points


def cubic(a: Point, b: Point, c: Point, d: Point, t: float) -> Point:
    """The point at share t of a cubic Bézier curve."""
    u = 1 - t
    shares = (u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t)
    return (
        sum(share * point[0] for share, point in zip(shares, (a, b, c, d), strict=True)),
        sum(share * point[1] for share, point in zip(shares, (a, b, c, d), strict=True)),
    )


def png(name: str) -> bytes:
    """One of `FORMS`, as the bytes of a PNG without transparency."""
    edge, share = FORMS[name]
    drawing, fine = Drawing(), edge * FINER
    picture = Image.new("RGB", (fine, fine), PAPER)
    pen = ImageDraw.Draw(picture)
    stroke = fine * share * 0.026
    for points, fill in ((drawing.pylon, TUBE), (drawing.outline, TINT), (drawing.tape, TAPE)):
        placed = drawing.placed(points, fine, share)
        pen.polygon(placed, fill=fill)
        line_round(pen, placed, stroke)
    for tick in drawing.ticks:
        pen.line(drawing.placed(tick, fine, share), fill=INK, width=round(stroke * 0.6))
    kept = io.BytesIO()
    picture.resize((edge, edge), Image.Resampling.LANCZOS).quantize(64).save(kept, "PNG", optimize=True)
    return kept.getvalue()


def line_round(pen: ImageDraw.ImageDraw, points: list[Point], width: float) -> None:
    """The closed line with round joins, which Pillow's own line doesn't draw well."""
    pen.line([*points, points[0]], fill=INK, width=round(width))
    for x, y in points:
        pen.circle((x, y), width / 2, fill=INK)


def svg() -> str:
    """The same for a browser's tab, where it is small."""
    drawing = Drawing()

    def path(points: list[Point], more: str) -> str:
        corners = " ".join(f"{x:.1f} {y:.1f}" for x, y in drawing.placed(points, 64, 0.84))
        return f'<path d="M{corners}{more}/>'

    shapes = [
        path(drawing.pylon, f'z" fill="{TUBE}" stroke="{INK}" stroke-width="2.5"'),
        path(drawing.outline[::4], f'z" fill="{TINT}" stroke="{INK}" stroke-width="2.5"'),
        path(drawing.tape, f'z" fill="{TAPE}" stroke="{INK}" stroke-width="1.5"'),
    ]
    ground = f'<rect width="64" height="64" rx="12" fill="{PAPER}"/>'
    lines = "".join(shapes)
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 64 64" stroke-linejoin="round">{ground}{lines}</svg>\n'
