"""One section of the shell: an ellipse, its girth, and what lies inside it. Twin: static/js/geometry/section.js."""

from math import hypot, pi, sqrt

from .constants import LARGEST
from .errors import OutOfRange
from .ranges import refuse_unless_finite, refuse_unless_positive, refuse_unless_within

#: A point this near to the long axis, as a share of the short half, counts as on it: nearer ones leave the
#: bisection no digits to work with. Far below anything a tape can tell. [unitless]
_ON_AXIS = 1e-9


def perimeter_mm(half_a_mm: float, half_b_mm: float) -> float:
    """Perimeter of an ellipse, to the last few bits of a double.

    Parameters
    ----------
    half_a_mm, half_b_mm : float
        Half axes, in either order. [mm] Above zero.

    Notes
    -----
    2 pi (a² - sum of 2^(n-1) c_n²) / M(a, b), with M the arithmetic-geometric mean and c_n the half
    differences on the way to it [ELLIPSE]. The mean doubles its right digits at each step.
    """
    refuse_unless_positive(half_a_mm=half_a_mm, half_b_mm=half_b_mm)
    a, b = max(half_a_mm, half_b_mm), min(half_a_mm, half_b_mm)
    weight, total, c = 0.5, a * a, sqrt((a - b) * (a + b))
    total -= weight * c * c
    while a - b > 1e-15 * a:
        a, b, c = (a + b) / 2, sqrt(a * b), (a - b) / 2
        weight *= 2
        total -= weight * c * c
    return 2 * pi * total / a


def axes_mm(girth_mm: float, depth_over_breadth: float) -> tuple[float, float]:
    """Breadth and depth of the ellipse of that girth.

    Parameters
    ----------
    girth_mm : float
        [mm] Above zero.
    depth_over_breadth : float
        Front to back over side to side. [unitless] 0.01 to 100.

    Returns
    -------
    (2,) float
        Breadth and depth, whole axes. [mm]

    Notes
    -----
    A perimeter grows in proportion to its ellipse, so one evaluation inverts it exactly.
    """
    refuse_unless_positive(girth_mm=girth_mm)
    refuse_unless_within(0.01, 100, depth_over_breadth=depth_over_breadth)
    breadth_mm = girth_mm / perimeter_mm(0.5, depth_over_breadth / 2)
    return breadth_mm, breadth_mm * depth_over_breadth


def area_mm2(breadth_mm: float, depth_mm: float) -> float:
    """Area of an ellipse by its whole axes. [mm²]"""
    refuse_unless_positive(breadth_mm=breadth_mm, depth_mm=depth_mm)
    return pi * breadth_mm * depth_mm / 4


def inside_girth_mm(girth_mm: float, wall_mm: float) -> float:
    """Girth of the inside of a wall of even thickness. [mm]

    Notes
    -----
    girth - 2 pi wall, for any convex section whose least radius is above the wall [STEINER].
    """
    refuse_unless_positive(girth_mm=girth_mm)
    refuse_unless_within(0, LARGEST, wall_mm=wall_mm)
    inside = girth_mm - 2 * pi * wall_mm
    if inside <= 0:
        raise OutOfRange("wall_mm", wall_mm, f"0 or more, and less than {girth_mm} / 2 pi mm")
    return inside


def midwall_girth_mm(girth_mm: float, wall_mm: float) -> float:
    """Girth half-way through the wall: girth - pi wall. [mm] [STEINER]"""
    return (girth_mm + inside_girth_mm(girth_mm, wall_mm)) / 2


def wall_area_mm2(girth_mm: float, wall_mm: float) -> float:
    """Area of the wall in its section: the girth half-way through it times its thickness. [mm²] [STEINER]"""
    return midwall_girth_mm(girth_mm, wall_mm) * wall_mm


def depth_inside_mm(x_mm: float, y_mm: float, breadth_mm: float, depth_mm: float) -> float:
    """How far inside the ellipse a point lies, square to its edge; negative outside.

    Parameters
    ----------
    x_mm, y_mm : float
        The point from the ellipse's centre: forward, sideways. [mm]
    breadth_mm, depth_mm : float
        Whole axes, sideways and forward. [mm] Above zero.

    Returns
    -------
    float
        [mm] Less the wall, this is exactly how far it lies inside a wall of even thickness.

    Notes
    -----
    The foot of the perpendicular by bisection on its one parameter, which always converges [EBERLY].
    """
    refuse_unless_finite(x_mm=x_mm, y_mm=y_mm)
    refuse_unless_positive(breadth_mm=breadth_mm, depth_mm=depth_mm)
    along, across = abs(x_mm), abs(y_mm)
    long_half, short_half = depth_mm / 2, breadth_mm / 2
    if short_half > long_half:
        along, across, long_half, short_half = across, along, short_half, long_half
    distance = _distance_to_ellipse(long_half, short_half, along, across)
    outside = (along / long_half) ** 2 + (across / short_half) ** 2 > 1
    return -distance if outside else distance


def _distance_to_ellipse(long_half: float, short_half: float, along: float, across: float) -> float:
    """From a point of the first quadrant, by the halves of the axes."""
    if across <= _ON_AXIS * short_half:
        return _distance_on_long_axis(long_half, short_half, along)
    if along == 0:
        return abs(across - short_half)
    z0, z1 = along / long_half, across / short_half
    ratio = (long_half / short_half) ** 2
    s = _bisected(ratio, z0, z1)
    return hypot(ratio * along / (s + ratio) - along, across / (s + 1) - across)


def _distance_on_long_axis(long_half: float, short_half: float, along: float) -> float:
    spread = long_half**2 - short_half**2
    if long_half * along >= spread:
        return abs(along - long_half)
    share = long_half * along / spread
    return hypot(long_half * share - along, short_half * sqrt(1 - share * share))


def _bisected(ratio: float, z0: float, z1: float) -> float:
    """The s at which (ratio z0 / (s + ratio))² + (z1 / (s + 1))² is 1; it falls as s grows."""
    low, high = z1 - 1, hypot(ratio * z0, z1) - 1
    while low < (middle := (low + high) / 2) < high:
        if (ratio * z0 / (middle + ratio)) ** 2 + (z1 / (middle + 1)) ** 2 > 1:
            low = middle
        else:
            high = middle
    return (low + high) / 2
