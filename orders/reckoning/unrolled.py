"""The shell's outside laid flat, as seen from outside: girth across, length down. On the server only.

y = -below the top          The rear's middle line is cut open, so that it stands at both sides, the front's
^                           middle line at x = 0. Every girth is true at its place; lengths are true along
|                           the shank, and a little short where the surface leans. A shell is curved both
+--> x to the person's      ways: no flat sheet becomes one without being stretched.
     left
"""

from typing import NamedTuple

import numpy as np

from .constants import SLOT_LEAST_COSINE, SLOT_X_MM
from .edges import Edges
from .errors import OutOfRange
from .loft import Loft

#: Gauss's rule for the length of an arc: of a leg's sections exact to 1e-9 mm over half of the round.
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(24)
_TOP_STEPS = 181
_EDGE_STEPS = 61


class Unrolled(NamedTuple):
    """Lines on the flat. Each (n, 2) float [mm]

    Attributes
    ----------
    outline : closed without repeating its first point, anticlockwise, from the rear's middle at the top.
    seams : the rear's middle line at the person's left and at the right, from the top down.
    front : the front's middle line, from the top down.
    """

    outline: np.ndarray
    seams: tuple[np.ndarray, np.ndarray]
    front: np.ndarray


def arc_mm(loft: Loft, angle: np.ndarray, below_top_mm: np.ndarray) -> np.ndarray:
    """Length along a section from the front's middle to an angle, positive to the person's left.

    Parameters
    ----------
    angle, below_top_mm : (...) float, to be broadcast
        [rad] -pi to pi; [mm].

    Returns
    -------
    (...) float
        [mm] At pi it is half of the section's girth.

    Notes
    -----
    An incomplete elliptic integral of the second kind, by Gauss's rule of 24 points.
    """
    angle, below = np.broadcast_arrays(np.asarray(angle, float), np.asarray(below_top_mm, float))
    _, depth, breadth = loft.axes(below)
    half = angle / 2
    places = half[..., None] * (1 + _NODES)
    speed = np.hypot(depth[..., None] * np.sin(places), breadth[..., None] * np.cos(places))
    return half * (speed @ _WEIGHTS)


def unrolled(loft: Loft, edges: Edges) -> Unrolled:
    """The cut outside, laid flat.

    Parameters
    ----------
    loft : Loft
    edges : Edges
        Of the same loft.
    """
    start = float(loft.places[0])
    front_way = np.linspace(-np.pi, np.pi, _TOP_STEPS)
    top = edges.top(front_way)
    end_rear = float(edges.low(np.array([np.pi]))[0])
    seam = np.linspace(float(top[-1]), end_rear, _EDGE_STEPS)
    lower = _lower_edge(edges)
    rims = [
        (np.full_like(seam, -np.pi), seam),
        lower,
        (np.full_like(seam, np.pi), seam[::-1]),
        (front_way[::-1], top[::-1]),
    ]
    points = [_flat(loft, start, angle, below) for angle, below in rims]
    outline = np.concatenate([line[:-1] for line in points])
    middle = np.linspace(float(edges.top(np.zeros(1))[0]), edges.bottom_mm, 2)
    return Unrolled(outline, (points[2][::-1], points[0]), _flat(loft, start, np.zeros(2), middle))


def _lower_edge(edges: Edges) -> tuple[np.ndarray, np.ndarray]:
    """From the rear's middle at the person's right, by the bottom edge, to that at the left: angles, places."""
    side, bottom = edges.side_angle, edges.bottom_mm
    if side >= np.pi:
        angle = np.linspace(-np.pi, np.pi, 2 * _EDGE_STEPS - 1)
        return angle, edges.low(angle)
    behind = edges.angles_behind(2 * (_EDGE_STEPS - 1))
    to_side = behind[_EDGE_STEPS - 1 :] - 2 * np.pi  # from -pi to the side edge at the right
    sweep = edges.low(behind[_EDGE_STEPS - 1 :])
    across = np.linspace(-side, side, 2 * _EDGE_STEPS - 1)
    down = np.linspace(sweep[-1], bottom, _EDGE_STEPS)
    return (
        np.concatenate(
            [
                to_side,
                np.full(_EDGE_STEPS - 1, -side),
                across[1:-1],
                np.full(_EDGE_STEPS - 1, side),
                -to_side[::-1],
            ]
        ),
        np.concatenate([sweep, down[1:], np.full(len(across) - 2, bottom), down[:0:-1], sweep[::-1]]),
    )


def _flat(loft: Loft, start: float, angle: np.ndarray, below_edge: np.ndarray) -> np.ndarray:
    """Points on the flat of places below the top edge. (n, 2) float [mm]"""
    angle, below_edge = np.broadcast_arrays(angle, below_edge)
    return np.column_stack([arc_mm(loft, angle, start + below_edge), -below_edge])


def slot_angle(loft: Loft, below_top_mm: float) -> float:
    """Where round the section a strap's slot lies, to either side of the front. [rad]

    As far in front of the pylon's axis as the figure draws it; on a narrow section not so near its front.

    Raises
    ------
    OutOfRange
        For a place outside the shell.
    """
    first, last = float(loft.places[0]), float(loft.places[-1])
    if not first <= below_top_mm <= last:
        raise OutOfRange("below_top_mm", below_top_mm, f"from {first:g} to {last:g}")
    centre, depth, _ = (float(axis) for axis in loft.axes(np.array(below_top_mm)))
    return float(np.arccos(np.clip((SLOT_X_MM - centre) / depth, -SLOT_LEAST_COSINE, SLOT_LEAST_COSINE)))
