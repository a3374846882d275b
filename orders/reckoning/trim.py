"""How low the shell's rear edge must start for the knee to bend. Twin: static/js/geometry/trim.js.

   thigh, straight          The knee's axis is o. The thigh's rear surface lies a behind it and turns
        | |                 with the knee; the edge of the shell stays, b behind and s below the axis.
   --a--o                   They meet at  atan2(s, b) + arccos(a / hypot(s, b)).
        |
-----b--+ s
edge
"""

from collections.abc import Sequence
from math import acos, atan2, cos, degrees, hypot, radians, sin, tan

from .constants import KNEE_AXIS_X_MM
from .errors import OutOfRange
from .outline import Station, station_at
from .ranges import refuse_unless_finite, refuse_unless_positive


def flexion_at_contact_deg(below_axis_mm: float, thigh_behind_mm: float, edge_behind_mm: float) -> float:
    """Flexion at which the thigh's rear surface meets an edge of the shell, single axis.

    Parameters
    ----------
    below_axis_mm, edge_behind_mm : float
        Where the edge is, below and behind the knee's axis. [mm] Behind: above zero.
    thigh_behind_mm : float
        How far behind the axis the thigh's or socket's surface lies. [mm] Above zero.

    Returns
    -------
    float
        [deg]

    Notes
    -----
    Published values 5.7, by the right triangle from the axis square to the surface. An edge nearer to the
    axis than the surface lies in the way of the thigh's lower end, as soon as that comes round to it.
    """
    refuse_unless_finite(below_axis_mm=below_axis_mm)
    refuse_unless_positive(thigh_behind_mm=thigh_behind_mm, edge_behind_mm=edge_behind_mm)
    reach = hypot(below_axis_mm, edge_behind_mm)
    return degrees(atan2(below_axis_mm, edge_behind_mm) + acos(min(1.0, thigh_behind_mm / reach)))


def least_below_axis_mm(thigh_behind_mm: float, edge_behind_mm: float, flexion_deg: float) -> float:
    """The least depth of an edge below the axis that lets the knee bend so far.

    Parameters
    ----------
    thigh_behind_mm, edge_behind_mm : float
        As in flexion_at_contact_deg. [mm]
    flexion_deg : float
        [deg] Above 0, less than 180.

    Returns
    -------
    float
        [mm] 0 where even an edge level with the axis lets it; never above the axis.

    Notes
    -----
    Solved in closed form: s sin(f) + b cos(f) = a at contact.
    """
    refuse_unless_positive(thigh_behind_mm=thigh_behind_mm, edge_behind_mm=edge_behind_mm)
    _refuse_unless_bent(flexion_deg)
    turned = radians(flexion_deg)
    below = (thigh_behind_mm - edge_behind_mm * cos(turned)) / sin(turned)
    if flexion_deg < 90:
        below = min(below, edge_behind_mm * tan(turned))
    return max(0.0, below)


def rear_trim_mm(
    outline: Sequence[Station],
    thigh_behind_axis_mm: float,
    flexion_deg: float,
    axis_below_apex_mm: float,
    axis_x_mm: float = KNEE_AXIS_X_MM,
) -> float | None:
    """How far below the top the rear edge must start, so that all of the rear below it is clear.

    Parameters
    ----------
    outline : (n,) Station
        The rear lies where the outline says, so b changes on the way down.
    thigh_behind_axis_mm : float
        [mm] Above zero.
    flexion_deg : float
        How far the knee can bend. [deg] Above 0, less than 180.
    axis_below_apex_mm, axis_x_mm : float
        The knee's axis: below the apex, in front of the pylon's axis. [mm]

    Returns
    -------
    float or None
        [mm] Not above the axis. None where even the bottom edge would be met.

    Notes
    -----
    Between stations the rear is a straight line, along which both conditions of contact are linear.
    For a polycentric knee this is an estimate: its axis moves.
    """
    refuse_unless_positive(thigh_behind_axis_mm=thigh_behind_axis_mm)
    refuse_unless_finite(axis_below_apex_mm=axis_below_apex_mm, axis_x_mm=axis_x_mm)
    _refuse_unless_bent(flexion_deg)
    start = station_at(outline, axis_below_apex_mm)
    line = [start, *(station for station in outline if station.below_top_mm > axis_below_apex_mm)]
    edges = [(station.below_top_mm - axis_below_apex_mm, axis_x_mm - station.rear_mm) for station in line]
    for _, behind in edges:
        refuse_unless_positive(edge_behind_mm=behind)
    for lower in range(len(edges) - 1, 0, -1):
        share = _met_until(edges[lower - 1], edges[lower], thigh_behind_axis_mm, radians(flexion_deg))
        if share is not None:
            (above, _), (below, _) = edges[lower - 1], edges[lower]
            at_bottom = lower == len(edges) - 1 and share == 1
            return None if at_bottom else axis_below_apex_mm + above + (below - above) * share
    return axis_below_apex_mm


def _met_until(
    above: tuple[float, float], below: tuple[float, float], thigh_behind_mm: float, turned: float
) -> float | None:
    """How far down the line from one edge to the next the thigh still meets it, as a share; None if nowhere.

    A point s below and b behind is clear if s sin + b cos >= a (beyond the thigh's surface) or if
    s cos >= b sin (the thigh has not yet come round to it).
    """
    beyond = [s * sin(turned) + b * cos(turned) - thigh_behind_mm for s, b in (above, below)]
    ahead = [s * cos(turned) - b * sin(turned) for s, b in (above, below)]
    start, end = 0.0, 1.0
    for first, last in (beyond, ahead):
        if first >= 0 and last >= 0:
            return None
        if first < 0 <= last:
            end = min(end, first / (first - last))
        elif last < 0 <= first:
            start = max(start, first / (first - last))
    return end if start < end else None


def _refuse_unless_bent(flexion_deg: float) -> None:
    refuse_unless_finite(flexion_deg=flexion_deg)
    if not 0 < flexion_deg < 180:
        raise OutOfRange("flexion_deg", flexion_deg, "above 0 and less than 180")
