"""The shell as triangles: its closed outside, and its wall cut to its edges. On the server only.

Axes as in loft.py: x forward of the pylon's axis, y to the person's left, z up from the apex; mm. A section is
the same to its left and right, so that one mesh serves either side.
"""

from collections.abc import Sequence
from functools import lru_cache
from math import pi
from typing import NamedTuple

import numpy as np

from .edges import Cut, Edges
from .errors import OutOfRange
from .loft import Loft
from .outline import Station

#: Five steps to each of the 18 spaces between stations; with `AROUND`, 19,656 triangles of the outside.
RINGS = 91
#: Flats round a section: of a leg's 60 mm radius, a flat's middle lies 0.025 mm inside the ellipse.
AROUND = 108
_FEWEST, _MOST = 8, 2000


class Mesh(NamedTuple):
    """Triangles whose corners run anticlockwise as seen from outside.

    Attributes
    ----------
    vertices : (n, 3) float
        [mm]
    faces : (m, 3) int
        Three vertices each.
    """

    vertices: np.ndarray
    faces: np.ndarray


def outside_surface(outline: Sequence[Station], rings: int = RINGS, around: int = AROUND) -> Mesh:
    """The outside as a closed body: smooth between the stations, top and bottom level and closed, nothing cut.

    Parameters
    ----------
    outline : (n,) Station, n >= 2
        From the top down.
    rings, around : int
        Sections from top to bottom; flats round each. 8 to 2000.

    Returns
    -------
    Mesh
        2 · around · rings triangles, watertight, on rings · around + 2 vertices. With 18 k + 1 rings every
        station is one of them.

    Raises
    ------
    OutOfRange
        For a count outside the range, and for stations that no surface goes through.
    """
    _refuse_unless_count(rings=rings, around=around)
    loft = Loft(outline)
    below = np.linspace(loft.places[0], loft.places[-1], rings)
    centre, depth, breadth = loft.axes(below)
    angle = np.arange(around) * (2 * pi / around)
    vertices = np.empty((rings * around + 2, 3))
    grid = vertices[:-2].reshape(rings, around, 3)
    grid[..., 0] = centre[:, None] + depth[:, None] * np.cos(angle)
    grid[..., 1] = breadth[:, None] * np.sin(angle)
    grid[..., 2] = -below[:, None]
    vertices[-2:] = [(centre[0], 0.0, -below[0]), (centre[-1], 0.0, -below[-1])]
    return Mesh(vertices, _closed_faces(rings, around))


def shell_mesh(
    outline: Sequence[Station], wall_mm: float, cut: Cut, rings: int = RINGS, around: int = AROUND
) -> Mesh:
    """The shell with its wall, cut to its edges.

    Parameters
    ----------
    outline : (n,) Station, n >= 2
        From the top down.
    wall_mm : float
        Thickness, square to the outside. [mm] Above zero, less than the outside's least radius.
    cut : Cut
        Relief, rear trim, reach and open share.
    rings, around : int
        About how many rows and columns of corners each side of the wall has. 8 to 2000.

    Returns
    -------
    Mesh
        Watertight, in one piece. Every corner lies on the smooth outside, or exactly the wall's thickness in
        from it.

    Raises
    ------
    OutOfRange
        As outside_surface; also for a wall too thick for the curve, and for edges that would meet.

    Notes
    -----
    Edges are cut straight through the wall, level where the edge is level. The slots for the straps
    (no catalogue says how wide a slot is; their places are the result's), the rounding of corners and what is
    left to trim are the workshop's: they aren't cut here.
    """
    _refuse_unless_count(rings=rings, around=around)
    loft = Loft(outline)
    plan = _plan(Edges(loft, cut), float(loft.places[0]), rings, around)
    outside = loft.points(plan.angle, plan.below_top_mm)
    inside = loft.inside(plan.angle, plan.below_top_mm, wall_mm)
    count = len(outside)
    faces = [plan.faces, plan.faces[:, ::-1] + count, *(_rim(loop, count) for loop in plan.loops)]
    return Mesh(np.concatenate([outside, inside]), np.concatenate(faces))


class _Plan(NamedTuple):
    """The shell laid flat: where each corner lies, the triangles between, and the loops of its edges."""

    angle: np.ndarray
    below_top_mm: np.ndarray
    faces: np.ndarray
    loops: tuple[np.ndarray, ...]


def _plan(edges: Edges, start_mm: float, rings: int, around: int) -> _Plan:
    """Rows from the top edge to the rear's end all the way round; below it only between the side edges."""
    angle, side = _columns(edges, around)
    low = edges.low(angle)
    step = edges.bottom_mm / (rings - 1)
    share = np.linspace(0, 1, max(3, round(low.max() / step) + 1))[:, None]
    top = edges.top(angle)
    below = top + (low - top) * share
    index = np.arange(below.size).reshape(below.shape)
    upper = np.hstack([index, index[:, :1]])
    if side is None:
        flat = np.broadcast_to(angle, below.shape)
        return _Plan(flat.ravel(), start_mm + below.ravel(), _grid_faces(upper), (index[0], index[-1][::-1]))
    rows = max(1, round((edges.bottom_mm - low.max()) / step))
    lower_share = np.linspace(0, 1, rows + 1)[1:, None]
    lower = low[: side + 1] + (edges.bottom_mm - low[: side + 1]) * lower_share
    more = below.size + np.arange(lower.size).reshape(lower.shape)
    strip = np.vstack([index[-1, : side + 1], more])
    low_loop = np.concatenate([more[-1], strip[-2:0:-1, -1], index[-1, side:], index[-1, :1], more[:-1, 0]])
    return _Plan(
        np.concatenate([np.broadcast_to(angle, below.shape).ravel(), np.tile(angle[: side + 1], rows)]),
        start_mm + np.concatenate([below.ravel(), lower.ravel()]),
        np.concatenate([_grid_faces(upper), _grid_faces(strip)]),
        (index[0], low_loop[::-1]),
    )


def _columns(edges: Edges, around: int) -> tuple[np.ndarray, int | None]:
    """Angles of the columns, once round from one side edge by the front; and which one the other side edge is.

    Even to either side of the front, and along the low edge behind.
    """
    side = edges.side_angle
    if side >= pi:
        return np.arange(around) * (2 * pi / around) - pi, None
    before = max(4, 2 * round(around * side / (2 * pi)))
    behind = max(2, around - before)
    front = np.linspace(-side, side, before + 1)
    return np.concatenate([front, edges.angles_behind(behind)[1:-1]]), before


def _grid_faces(index: np.ndarray) -> np.ndarray:
    """Two triangles to each square of a grid of corners whose rows go down and whose columns go to the left."""
    a, b, c, d = index[:-1, :-1], index[:-1, 1:], index[1:, :-1], index[1:, 1:]
    faces = np.empty((*a.shape, 2, 3), dtype=np.int64)
    for at, corner in enumerate((a, c, b, b, c, d)):
        faces[..., at // 3, at % 3] = corner
    return faces.reshape(2 * a.size, 3)


@lru_cache(maxsize=4)
def _closed_faces(rings: int, around: int) -> np.ndarray:
    """Faces of the closed outside: the same for every leg, so they are made once and can't be written to."""
    index = np.arange(rings * around).reshape(rings, around)
    index = np.hstack([index, index[:, :1]])
    top, bottom = np.full(around, rings * around), np.full(around, rings * around + 1)
    caps = [
        np.column_stack([top, index[0, :-1], index[0, 1:]]),
        np.column_stack([bottom, index[-1, 1:], index[-1, :-1]]),
    ]
    faces = np.concatenate([_grid_faces(index), *caps])
    faces.flags.writeable = False
    return faces


def _rim(loop: np.ndarray, inside: int) -> np.ndarray:
    """The wall's edge along a closed loop of outer corners, their inner ones `inside` later.

    The loop runs against the outer triangles' own way.
    """
    after = np.roll(loop, -1)
    return np.concatenate(
        [
            np.column_stack([loop, after, after + inside]),
            np.column_stack([loop, after + inside, loop + inside]),
        ]
    )


def _refuse_unless_count(**counts: object) -> None:
    for name, value in counts.items():
        if not isinstance(value, int) or isinstance(value, bool) or not _FEWEST <= value <= _MOST:
            raise OutOfRange(name, value, f"a whole number from {_FEWEST} to {_MOST}")
