"""A polycentric knee as a four-bar linkage: where it turns about, and where its front pivot goes.

    front upper C ------- D rear upper      thigh link, turns counter-clockwise as the knee bends
               |           \\
    front lower A --------- B rear lower    shank link, stays

Axes: x forward, y up. [mm, deg] Plain complex numbers inside: x + iy.
"""

from cmath import rect
from collections.abc import Iterable
from math import ceil, hypot, radians, sqrt
from typing import Literal, NamedTuple

from .errors import OutOfRange

Point = tuple[float, float]
TRANSLATING: Literal["translating"] = "translating"

#: Side links count as parallel below this sine of the angle between them. [unitless]
_PARALLEL_SINE = 1e-9


class Pivots(NamedTuple):
    """The four pivots at full extension, (x, y) each. [mm]"""

    front_lower: Point
    rear_lower: Point
    front_upper: Point
    rear_upper: Point


class Reach(NamedTuple):
    """The extremes of what the thigh side passes through: [mm]"""

    most_forward_mm: float
    lowest_mm: float


def instant_centre(pivots: Pivots) -> Point | Literal["translating"]:
    """The point about which the thigh link turns against the shank, as the pivots stand.

    Returns
    -------
    (x, y) or "translating"
        [mm] "translating" where the side links are parallel: there is no such point.

    Notes
    -----
    Where the side links meet, produced [FOURBAR]. A link of no length is a pin, and the centre is there.
    """
    a, b, c, d = (complex(*pivot) for pivot in pivots)
    front, rear = c - a, d - b
    for pin, link in ((a, front), (b, rear)):
        if link == 0:
            return pin.real, pin.imag
    turn = _cross(front, rear)
    if abs(turn) <= _PARALLEL_SINE * abs(front) * abs(rear):
        return TRANSLATING
    centre = a + front * (_cross(b - a, rear) / turn)
    return centre.real, centre.imag


def bent(pivots: Pivots, flexion_deg: float) -> Pivots:
    """The pivots with the knee bent so far from full extension.

    Raises
    ------
    OutOfRange
        If the links don't reach: the knee locks before that angle. Also for a parallelogram, whose thigh
        link can't turn at all but only swing over.

    Notes
    -----
    The front upper pivot lies on a circle about the front lower one, and, carried by the turned thigh link,
    on a circle about a shifted rear one. Of the two places where they cross, the knee is at the one on the
    side that it was on when straight: to change sides it would have to pass a dead point.
    """
    a, b, c, d = (complex(*pivot) for pivot in pivots)
    thigh = (d - c) * rect(1.0, radians(flexion_deg))
    base = (b - thigh) - a
    side = _cross(base_straight := b - (d - c) - a, c - a)
    if abs(side) <= _PARALLEL_SINE * abs(base_straight) * abs(c - a) or base == 0:
        raise OutOfRange("pivots", tuple(pivots), "a linkage that can turn, not at a dead point")
    front, rear, span = abs(c - a), abs(d - b), abs(base)
    along = (front**2 - rear**2 + span**2) / (2 * span)
    if (height_squared := front**2 - along**2) < 0:
        raise OutOfRange("flexion_deg", flexion_deg, "an angle that these links reach")
    height = sqrt(height_squared) * (1 if side > 0 else -1)
    front_upper = a + base / span * complex(along, height)
    rear_upper = front_upper + thigh
    upper = ((front_upper.real, front_upper.imag), (rear_upper.real, rear_upper.imag))
    return Pivots(pivots.front_lower, pivots.rear_lower, *upper)


def front_pivot_path(pivots: Pivots, flexion_deg: float, step_deg: float = 1.0) -> list[Point]:
    """Where the front upper pivot goes, from straight to bent, in even steps of at most `step_deg`. [mm]"""
    steps = max(1, ceil(flexion_deg / step_deg))
    return [bent(pivots, flexion_deg * at / steps).front_upper for at in range(steps + 1)]


def carried(pivots: Pivots, point: Point, flexion_deg: float) -> Point:
    """Where a point fixed to the thigh side comes to lie. [mm]

    Parameters
    ----------
    point : (x, y)
        As it stands at full extension. [mm]
    """
    after = bent(pivots, flexion_deg)
    offset = complex(*point) - complex(*pivots.front_upper)
    moved = complex(*after.front_upper) + offset * rect(1.0, radians(flexion_deg))
    return moved.real, moved.imag


def thigh_side_reach(
    pivots: Pivots, points: Iterable[Point], flexion_deg: float, step_deg: float = 0.25
) -> Reach:
    """The most that anything of the thigh side reaches forward, and how low, from straight to bent.

    Parameters
    ----------
    points : iterable of (x, y)
        What is fixed to the thigh side and could get in the way, as it stands at full extension. [mm]
    flexion_deg : float
        How far the knee bends. [deg] Above 0.
    step_deg : float
        [deg] A point 100 mm from the centre turns 0.44 mm in a quarter of a degree; between two steps it
        goes past both by less than 0.001 mm.
    """
    steps = max(1, ceil(flexion_deg / step_deg))
    angles = [flexion_deg * at / steps for at in range(steps + 1)]
    places = [carried(pivots, point, angle) for point in points for angle in angles]
    return Reach(max(x for x, _ in places), min(y for _, y in places))


def link_lengths_mm(pivots: Pivots) -> tuple[float, float, float, float]:
    """Shank link, front link, rear link, thigh link. [mm]"""
    a, b, c, d = pivots
    return tuple(hypot(q[0] - p[0], q[1] - p[1]) for p, q in ((a, b), (a, c), (b, d), (c, d)))


def _cross(u: complex, v: complex) -> float:
    return u.real * v.imag - u.imag * v.real
