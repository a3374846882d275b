"""The shank shell's outline, from its sections and the catalogue's reach, open share and relief."""

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

from orders.figure.data import FIGURE
from orders.figure.form import Path, Point, spline
from orders.figure.lengths import (
    DEFAULTS,
    SHELL,
    Station,
    front_at,
    given,
    half_breadth_at,
    rear_at,
)
from orders.figure.pen import Pen

TOP_S = SHELL["top_s"]
SWEEP = SHELL["sweep"]
CORNER = 5.0


class Outline(NamedTuple):
    """A closed line as points, and which of them make up each edge: name -> (first, last)."""

    points: list[Point]
    edges: dict[str, tuple[int, int]]

    def path(self) -> Path:
        pieces = spline(self.points)
        return [("M", [self.points[0]]), *(("C", list(piece)) for piece in pieces), ("Z", [])]

    def edge(self, name: str) -> Path:
        first, last = self.edges[name]
        pieces = spline(self.points)[first:last]
        return [("M", [self.points[first]]), *(("C", list(piece)) for piece in pieces)]


def side_outline(shell: Mapping[str, Any], lengths: Mapping[str, float], stations: list[Station]) -> Outline:
    """The shell from the outside: bottom edge, front line upwards, top, rear downwards. [mm]"""
    f, end, trim = lengths["f"], lengths["q"], lengths["rt"]
    relief = given(shell.get("relief_mm"), 0)
    front = _front_points(stations, f, relief)
    top = _top_points(stations, trim, relief)
    rear = _rear_points(stations, trim, end, f)
    low = _low_points(stations, end, f, given(shell.get("open_share"), DEFAULTS["open_share"]))
    start = (0.0, f)
    bottom_front = [(lengths["bx"] - CORNER, f), (lengths["bx"] - 1, f - 1.3)]
    bottom_rear = [(low[-1][0] + 1, f - 1.3), (low[-1][0] + CORNER, f)]
    groups = [[start], bottom_front, front, top, rear, low, bottom_rear, [start]]
    marks = [0]
    for group in groups:
        marks.append(marks[-1] + len(group))
    points = [point for group in groups for point in group]
    edges = {
        "bottom": (0, 2),
        "front": (marks[2], marks[3] - 1),
        "top": (marks[3], marks[4]),
        "rear": (marks[4], marks[5]),
        "rear_end": _near_end(points, marks[4], marks[6], end),
    }
    return Outline(points, edges)


def _near_end(points: list[Point], first: int, last: int, end: float) -> tuple[int, int]:
    """The points of the rear within 56 mm above its end."""
    near = [i for i in range(first, last) if end - 56 <= points[i][1] <= end]
    return (near[0], near[-1]) if len(near) > 1 else (first, last - 1)


def _front_points(stations: list[Station], f: float, relief: float) -> list[Point]:
    low, high = f - CORNER, relief + CORNER + 2
    shares = [share for share in SHELL["front_share"] if high + 6 < share * f < low - 6]
    middle = [(front_at(stations, share * f), share * f) for share in shares]
    points = [(front_at(stations, high), high), *middle, (front_at(stations, low), low)]
    return points[::-1]


def _top_points(stations: list[Station], trim: float, relief: float) -> list[Point]:
    x = front_at(stations, relief)
    corner = [(x - 1.2, relief + 1.5), (x - CORNER, relief)]
    level = min(40.0, x - 8)
    if relief > 0:
        level = x - 28
        corner += [(x - 14, relief * 0.72), (x - 22, relief * 0.16)]
    rear = rear_at(stations, trim)
    curve = [(level + u * (rear - level), v * trim) for u, v in TOP_S]
    return [*corner, (level, 0.0), *curve]


def _rear_points(stations: list[Station], trim: float, end: float, f: float) -> list[Point]:
    """From the shoulder under the trim down to where the rear ends."""
    shoulder = [(rear_at(stations, trim + 5) + 1.2, trim + 5), (rear_at(stations, trim + 15), trim + 15)]
    stop = min(end - 7, f - 16)
    middle = [(s.front - s.depth, s.y) for s in stations[::2] if trim + 30 < s.y < stop - 60]
    near = [(rear_at(stations, y), y) for y in (stop - 46, stop - 22) if y > trim + 30]
    return [*shoulder, *middle, *near, (rear_at(stations, stop), stop)]


def _low_points(stations: list[Station], end: float, f: float, open_share: float) -> list[Point]:
    """From the rear's end in a sweep to the side edge and on to the bottom corner."""
    if end > f - 8:
        return [(rear_at(stations, f - CORNER), f - CORNER)]
    sweep = min(SHELL["sweep_mm"], 0.72 * (f - end))
    ax, ay = rear_at(stations, end), end
    bx, by = _side_edge(stations, end + sweep, open_share), end + sweep
    points = [(ax + u * (bx - ax), ay + v * (by - ay)) for u, v in SWEEP]
    rows = [by + (f - CORNER - by) * share for share in (0.4, 0.7, 1)]
    return points + [(_side_edge(stations, y, open_share), y) for y in rows if y > by + 3]


def _side_edge(stations: list[Station], y: float, open_share: float) -> float:
    front, rear = front_at(stations, y), rear_at(stations, y)
    return (front + rear) / 2 - (front - rear) / 2 * math.cos(math.pi * open_share)


def front_outline(shell: Mapping[str, Any], lengths: Mapping[str, float], stations: list[Station]) -> Outline:
    """The shell as the person faces you; x runs outward. [mm]"""
    f = lengths["f"]
    relief = given(shell.get("relief_mm"), 0)
    outer = _flank(stations, f, SHELL["fullest"]["outer"])
    inner = [(-x, y) for x, y in _flank(stations, f, SHELL["fullest"]["inner"])][::-1]
    top = _front_top(outer[-1][0] - 7, relief)
    groups = [[(0.0, f)], outer, top, inner, [(0.0, f)]]
    points = [point for group in groups for point in group]
    a, b = 1, len(outer)
    c = b + len(top)
    edges = {
        "bottom": (0, 1),
        "outer": (a + 5, b - 4),
        "top": (b, c + 1),
        "inner": (c + 5, c + len(inner) - 4),
    }
    return Outline(points, edges)


def _flank(stations: list[Station], f: float, fullest: float) -> list[Point]:
    """One side from the bottom edge up to the top corner."""
    shares = (0.95, 0.86, 0.76, 0.66, 0.54, 0.42, 0.33, 0.24, 0.15, 0.07)
    low, high = half_breadth_at(stations, f, fullest), half_breadth_at(stations, 0, fullest)
    points = [(low - CORNER, f), (low - 1, f - 1.3), (low, f - CORNER)]
    points += [(half_breadth_at(stations, share * f, fullest), share * f) for share in shares]
    return [*points, (high - 0.6, 9.0), (high - 2.6, 3.4), (high - 7, 1.0)]


def _front_top(half: float, relief: float) -> list[Point]:
    """The top edge from the outer to the inner corner, the middle third lower by the relief."""
    if relief <= 0:
        return [(half - 7, 0.0), (7 - half, 0.0)]
    third = half / 3
    dip = [(third + 6, 0.0), (third + 2, relief * 0.2), (third - 2, relief * 0.8), (third - 6, relief)]
    return [(half - 7, 0.0), *dip, *[(-x, y) for x, y in dip[::-1]], (7 - half, 0.0)]


def draw_shell(pen: Pen, outline: Outline, state: str) -> None:
    """The shell over everything, in ink, or in pencil while it isn't made yet."""
    kind = "fg-shell" if state == "ink" else "fg-shell fg-pencilled"
    pen.path(kind, outline.path())


def draw_side_straps(pen: Pen, lengths: Mapping[str, float], shell: Mapping[str, Any]) -> None:
    """Both straps from the outside: slot, strap, buckle; a buckle on the inner side is dashed."""
    far = " fg-far" if shell.get("buckle_side") == "inner" else ""
    x, half = SHELL["slot_x_mm"], lengths["sw"]
    for name in ("u", "w"):
        y = lengths[name]
        pen.raw(f'<g class="fg-strap" data-strap="{"upper" if name == "u" else "lower"}">')
        pen.box("fg-band", (x, y - half), (-19.5, y + half), 3.5)
        pen.box("fg-slot", (x - 2, y - half - 3.5), (x + 2, y + half + 3.5), 1.5)
        pen.box("fg-buckle" + far, (-5, y - half - 3), (9, y + half + 3), 2.5)
        if not far:
            pen.box("fg-tongue", (-1, y - 10), (5, y + 10), 0.8)
        pen.raw("</g>")


def draw_front_straps(pen: Pen, lengths: Mapping[str, float], shell: Mapping[str, Any], close: bool) -> None:
    """Both straps from slot to slot, behind the shell's front and so dashed; the buckle if wanted close."""
    half = lengths["sw"]
    for name, across in (("u", lengths["ux"]), ("w", lengths["wx"])):
        y = lengths[name]
        pen.raw(f'<g class="fg-strap" data-strap="{"upper" if name == "u" else "lower"}">')
        pen.box("fg-behind", (-across, y - half), (across, y + half))
        for x in (-across, across):
            pen.box("fg-slot", (x - 2, y - half - 3.5), (x + 2, y + half + 3.5), 1.5)
        if close:
            out = -1 if shell.get("buckle_side") == "inner" else 1
            pen.box("fg-buckle", (out * (across + 4), y - half - 3), (out * (across + 15), y + half + 3), 2.5)
        pen.raw("</g>")


def draw_section(pen: Pen, wall_mm: float, girth: float) -> None:
    """The shell cut through at its widest, the wall to scale."""
    breadth, depth = FIGURE["shell"]["breadth"][6] * girth / 2, FIGURE["shell"]["depth"][6] * girth / 2
    outer, inner = _ring(breadth, depth), _ring(breadth - wall_mm, depth - wall_mm)
    pen.path("fg-wall", [*outer, *inner])


def _ring(a: float, b: float) -> Path:
    c = 0.5523
    quarters = [
        [(a, b * c), (a * c, b), (0.0, b)],
        [(-a * c, b), (-a, b * c), (-a, 0.0)],
        [(-a, -b * c), (-a * c, -b), (0.0, -b)],
        [(a * c, -b), (a, -b * c), (a, 0.0)],
    ]
    return [("M", [(a, 0.0)]), *(("C", quarter) for quarter in quarters), ("Z", [])]
