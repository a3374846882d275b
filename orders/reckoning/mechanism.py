"""A polycentric knee as a four-bar linkage: where it turns about, and where its front pivot goes.

    front upper C ------- D rear upper      thigh link, turns counter-clockwise as the knee bends
               |           \\
    front lower A --------- B rear lower    shank link, stays

Axes: x forward, y up. [mm, deg] Plain complex numbers inside: x + iy.
"""

from cmath import rect
from math import ceil, hypot, radians, sqrt
from typing import Literal, NamedTuple

from .errors import OutOfRange
from .ranges import refuse_unless_finite, refuse_unless_within

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


class Motion(NamedTuple):
    """A knee's way from straight to bent.

    Attributes
    ----------
    bends_deg : float
        How far it bends: as far as was asked, or less where the links lock before. [deg]
    angles_deg : (n,) float
        Even steps from straight to there. [deg]
    pivots : (n,) Pivots
        As they stand at each angle.
    centres : (n,) Point or "translating"
        What the thigh side turns about at each.
    most_forward_mm : float
        The furthest forward that a pivot of the thigh side comes. [mm]
    lowest_mm : float
        The lowest that one comes. [mm]
    """

    bends_deg: float
    angles_deg: tuple[float, ...]
    pivots: tuple[Pivots, ...]
    centres: tuple[Point | Literal["translating"], ...]
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
    a, b, c, d = _points(pivots)
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
    """The pivots with the knee bent so far from full extension. [deg] -180 to 180.

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
    a, b, c, d = _points(pivots)
    refuse_unless_within(-180, 180, flexion_deg=flexion_deg)
    thigh = (d - c) * rect(1.0, radians(flexion_deg))
    base = (b - thigh) - a
    side = _cross(base_straight := b - (d - c) - a, c - a)
    if abs(side) <= _PARALLEL_SINE * abs(base_straight) * abs(c - a):
        raise OutOfRange("pivots", tuple(pivots), "a linkage that can turn, not at a dead point")
    front, rear, span = abs(c - a), abs(d - b), abs(base)
    along = (front**2 - rear**2 + span**2) / (2 * span)
    if (height_squared := front**2 - along**2) < 0:
        raise OutOfRange("flexion_deg", flexion_deg, "an angle that these links reach")
    height = sqrt(height_squared) * (1 if side > 0 else -1)
    front_upper = a + base / span * complex(along, height)
    rear_upper = front_upper + thigh
    upper = ((front_upper.real, front_upper.imag), (rear_upper.real, rear_upper.imag))
    return Pivots(pivots[0], pivots[1], *upper)


def motion(pivots: Pivots, flexion_deg: float, step_deg: float = 1.0) -> Motion:
    """How the knee goes from straight to bent, as far as its links let it.

    Parameters
    ----------
    pivots : Pivots
        At full extension. [mm]
    flexion_deg : float
        How far it is to bend. [deg] 1 to 180.
    step_deg : float
        At most so far from one angle to the next. [deg] 0.01 to 90.

    Raises
    ------
    OutOfRange
        Also for links that can't turn at all (`bent`).

    Notes
    -----
    The extremes are those of the steps. A pivot 100 mm from what it turns about goes past two steps of one
    degree by less than 100 · (0.5 · pi / 180)² / 2 = 0.004 mm.
    """
    refuse_unless_within(1, 180, flexion_deg=flexion_deg)
    refuse_unless_within(0.01, 90, step_deg=step_deg)
    steps = ceil(flexion_deg / step_deg)
    angles, stands = [0.0], [bent(pivots, 0.0)]
    for at in range(1, steps + 1):
        angle = flexion_deg * at / steps
        try:
            stands.append(bent(pivots, angle))
        except OutOfRange:
            break
        angles.append(angle)
    upper = [pivot for stand in stands for pivot in stand[2:]]
    return Motion(
        angles[-1],
        tuple(angles),
        tuple(stands),
        tuple(instant_centre(stand) for stand in stands),
        max(x for x, _ in upper),
        min(y for _, y in upper),
    )


def link_lengths_mm(pivots: Pivots) -> tuple[float, float, float, float]:
    """Shank link, front link, rear link, thigh link. [mm]"""
    _points(pivots)
    a, b, c, d = pivots
    return tuple(hypot(q[0] - p[0], q[1] - p[1]) for p, q in ((a, b), (a, c), (b, d), (c, d)))


def _points(pivots: Pivots) -> list[complex]:
    for name, pivot in zip(Pivots._fields, pivots, strict=True):
        for coordinate in pivot:
            refuse_unless_finite(**{name: coordinate})
    return [complex(*pivot) for pivot in pivots]


def _cross(u: complex, v: complex) -> float:
    return u.real * v.imag - u.imag * v.real
