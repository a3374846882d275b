"""Coordinates that are sums of numbers and named lengths, and the smooth lines through them.

Points are (x, y) in mm; a path is a list of (letter, points) with the letters M, L, C and Z.
"""

import math
import re
from collections.abc import Mapping, Sequence
from functools import cache

Point = tuple[float, float]
Path = list[tuple[str, list[Point]]]

_TERM = re.compile(r"([+-]?)(\d*\.?\d*)([A-Za-z][A-Za-z0-9]*)?")


@cache
def _terms(form: str) -> tuple[tuple[float, str], ...]:
    terms: list[tuple[float, str]] = []
    at = 0
    while at < len(form):
        match = _TERM.match(form, at)
        if match is None or match.end() == at or not (match[2] or match[3]):
            raise ValueError(f"not a sum of numbers and named lengths: {form!r}")
        size = float(match[2]) if match[2] else 1.0
        terms.append((-size if match[1] == "-" else size, match[3] or ""))
        at = match.end()
    return tuple(terms)


def value_of(form: str, lengths: Mapping[str, float]) -> float:
    """Value of a form such as "0.5L-har+12". [mm]

    Raises KeyError for a length that has no name here, ValueError for anything that isn't a form.
    """
    total = 0.0
    for size, name in _terms(form):
        total += size * lengths[name] if name else size
    return total


def point_of(pair: str, lengths: Mapping[str, float]) -> Point:
    """The point "x,y" of two forms. [mm]"""
    x, y = pair.split(",")
    return value_of(x, lengths), value_of(y, lengths)


def path_of(text: str, lengths: Mapping[str, float]) -> Path:
    """The path written as M, L, Z and ~ (a smooth line through the points after it)."""
    path: Path = []
    letter = ""
    smooth: list[Point] = []
    here = (0.0, 0.0)
    for token in [*text.split(), "."]:
        if "," in token:
            here = point_of(token, lengths)
            if letter == "~":
                smooth.append(here)
            else:
                path.append((letter, [here]))
            continue
        if len(smooth) > 1:
            path.extend(("C", list(segment)) for segment in spline(smooth))
        smooth = [here] if token == "~" else []
        letter = token
        if token == "Z":
            path.append(("Z", []))
    return path


def spline(points: Sequence[Point]) -> list[tuple[Point, Point, Point]]:
    """Cubic pieces through the points: each leaves along the line between its neighbours.

    Handles are a third of the piece's chord long, so that unevenly spaced points make no loops. The first
    and the last piece bend like a parabola.
    """
    last = len(points) - 1
    if last == 1:
        return [(points[0], points[1], points[1])]
    ways = [_way(points[i - 1], points[i + 1]) if 0 < i < last else (0.0, 0.0) for i in range(last + 1)]
    pieces = []
    for i in range(last):
        (ax, ay), (bx, by) = points[i], points[i + 1]
        reach = math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay)) / 3
        one = (ax + ways[i][0] * reach, ay + ways[i][1] * reach)
        two = (bx - ways[i + 1][0] * reach, by - ways[i + 1][1] * reach)
        if i == 0:
            one = ((ax + two[0]) / 2, (ay + two[1]) / 2)
        if i == last - 1:
            two = ((bx + one[0]) / 2, (by + one[1]) / 2)
        pieces.append((one, two, (bx, by)))
    return pieces


def _way(a: Point, b: Point) -> Point:
    x, y = b[0] - a[0], b[1] - a[1]
    size = math.sqrt(x * x + y * y)
    return (x / size, y / size) if size > 0 else (0.0, 0.0)


def turned(path: Path, about: Point, degrees: float) -> Path:
    """The path turned about a point, positive from forward towards up."""
    angle = degrees * math.pi / 180
    c, s = math.cos(angle), math.sin(angle)

    def turn(point: Point) -> Point:
        x, y = point[0] - about[0], point[1] - about[1]
        return about[0] + x * c + y * s, about[1] - x * s + y * c

    return [(letter, [turn(point) for point in points]) for letter, points in path]
