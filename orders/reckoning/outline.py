"""The shell's outline: its girth, section and place at each station. Twin: static/js/geometry/outline.js.

       front
         |   x forward from the pylon's axis, as it stands at the apex
  top  --+--  below_top = 0, t = 1
         |
         |   t runs down to 0.10 at the bottom edge; the widest place is t = 0.70
         |
bottom --+--  below_top = finished length
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from math import radians, tan

from .constants import BOTTOM_EDGE_T, FRONT_LINE, FRONT_LINE_GIRTH_MM, GIRTH_PROFILE, LARGEST, WIDEST_T
from .curve import Curve
from .errors import OutOfRange
from .ranges import refuse_unless_finite, refuse_unless_positive, refuse_unless_within
from .section import axes_mm, depth_inside_mm, inside_girth_mm


@dataclass(frozen=True)
class Station:
    """One section of the outside, square to the shank. All in mm; x is forward of the pylon's axis."""

    below_top_mm: float
    girth_mm: float
    breadth_mm: float
    depth_mm: float
    front_mm: float
    rear_mm: float


#: Rows of (t, girth as a share of the widest, depth over breadth), from the bottom up. [unitless]
Profile = tuple[tuple[float, float, float], ...]
_SAME_PLACE_T = 1e-9


@lru_cache(maxsize=32)
def _girths(profile: Profile) -> Curve:
    places, shares, _ = zip(*profile, strict=True)
    return Curve(places, shares)


def house_profile(girth_shares: Sequence[float], depth_over_breadth: Sequence[float]) -> Profile:
    """A workshop's own profile in the place of the common one.

    Parameters
    ----------
    girth_shares, depth_over_breadth : (19,) float
        At each station, from the top down: girth as a share of the widest, the section's depth over its breadth.
        [unitless] Above zero.

    Raises
    ------
    OutOfRange
    """
    for share, ratio in zip(girth_shares, depth_over_breadth, strict=True):
        refuse_unless_positive(girth_shares=share, depth_over_breadth=ratio)
    places = [t for t, _, _ in GIRTH_PROFILE if t >= BOTTOM_EDGE_T]
    return tuple(zip(places, reversed(girth_shares), reversed(depth_over_breadth), strict=True))


@cache
def _front_line() -> Curve:
    return Curve(*zip(*FRONT_LINE, strict=True))


@cache
def _unit_axes(depth_over_breadth: float) -> tuple[float, float]:
    return axes_mm(1.0, depth_over_breadth)


def place_t(below_top_mm: float, finished_length_mm: float) -> float:
    """Where a place lies along the profile: 1 at the apex, 0.10 at the bottom edge. [unitless]"""
    refuse_unless_finite(below_top_mm=below_top_mm)
    refuse_unless_positive(finished_length_mm=finished_length_mm)
    return 1 - (1 - BOTTOM_EDGE_T) * below_top_mm / finished_length_mm


def stations(
    finished_length_mm: float,
    girth_mm: float,
    extra: Iterable[tuple[float, float]] = (),
    front_at_apex_mm: float | None = None,
    profile: Profile = GIRTH_PROFILE,
) -> list[Station]:
    """The 19 stations of the outside, apex first.

    Parameters
    ----------
    finished_length_mm, girth_mm : float
        Length that is made, widest girth. [mm] Above zero.
    extra : iterable of (below_top_mm, girth_mm)
        Girths measured elsewhere. [mm] One that lies outside the profile (above the apex, or further below
        the bottom edge than the profile goes) says nothing about the shell and is left out.
    front_at_apex_mm : float, optional
        How far the front stands in front of the pylon's axis at the apex, where it was measured. [mm] By
        default the front line's own, scaled with the girth.
    profile : Profile, optional
        A workshop's own, from house_profile.

    Returns
    -------
    list of Station, t = 1.00, 0.95 ... 0.10

    Notes
    -----
    Girths by the profile of [CC0MESH] scaled to the widest; where extra girths were taken, the ratio of
    measured to profile is interpolated between them, and is 1 at the widest place. Sections are ellipses of
    that girth with the profile's depth over breadth.
    """
    refuse_unless_positive(finished_length_mm=finished_length_mm, girth_mm=girth_mm)
    if front_at_apex_mm is not None:
        refuse_unless_finite(front_at_apex_mm=front_at_apex_mm)
    ratio = _ratio(finished_length_mm, girth_mm, extra, profile)
    scale = girth_mm / FRONT_LINE_GIRTH_MM
    shift = 0.0 if front_at_apex_mm is None else front_at_apex_mm - FRONT_LINE[0][1] * scale
    made = []
    for t, share, depth_over_breadth in reversed(profile):
        if t < BOTTOM_EDGE_T:
            continue
        down = (1 - t) / (1 - BOTTOM_EDGE_T)
        here_mm = girth_mm * share * ratio(t)
        breadth, depth = (here_mm * axis for axis in _unit_axes(depth_over_breadth))
        front = _front_line()(down) * scale + shift
        made.append(Station(finished_length_mm * down, here_mm, breadth, depth, front, front - depth))
    return made


def _ratio(
    finished_length_mm: float, girth_mm: float, extra: Iterable[tuple[float, float]], profile: Profile
) -> Curve:
    """Measured over profile along t; flat beyond the outermost measured places."""
    knots: dict[float, list[float]] = {}
    for below_top_mm, measured_mm in extra:
        refuse_unless_finite(extra_below_top_mm=below_top_mm)
        refuse_unless_positive(extra_girth_mm=measured_mm)
        t = place_t(below_top_mm, finished_length_mm)
        # a workshop's profile ends at the bottom edge, whose t isn't a double's difference
        within = profile[0][0] - _SAME_PLACE_T <= t <= profile[-1][0] + _SAME_PLACE_T
        if within and abs(t - WIDEST_T) > _SAME_PLACE_T:
            place = next((known for known in knots if abs(known - t) <= _SAME_PLACE_T), t)
            knots.setdefault(place, []).append(measured_mm / (girth_mm * _girths(profile)(t)))
    points = {place: sum(ratios) / len(ratios) for place, ratios in knots.items()} | {WIDEST_T: 1.0}
    places = sorted(points)
    return Curve(places, [points[place] for place in places])


def station_at(outline: Sequence[Station], below_top_mm: float) -> Station:
    """The section at any place, on the straight line between its neighbours.

    Parameters
    ----------
    outline : (n,) Station, n >= 2
    below_top_mm : float
        [mm] From 0 to the finished length.
    """
    refuse_unless_finite(below_top_mm=below_top_mm)
    if len(outline) < 2:
        raise OutOfRange("outline", len(outline), "two stations or more")
    if not outline[0].below_top_mm <= below_top_mm <= outline[-1].below_top_mm:
        allowed = f"from {outline[0].below_top_mm} to {outline[-1].below_top_mm}"
        raise OutOfRange("below_top_mm", below_top_mm, allowed)
    at = next(at for at in range(1, len(outline)) if below_top_mm <= outline[at].below_top_mm)
    above, below = outline[at - 1], outline[at]
    share = (below_top_mm - above.below_top_mm) / (below.below_top_mm - above.below_top_mm)

    def between(name: str) -> float:
        start = getattr(above, name)
        return start + (getattr(below, name) - start) * share

    names = ("girth_mm", "breadth_mm", "depth_mm", "front_mm", "rear_mm")
    return Station(below_top_mm, *(between(name) for name in names))


def inside_girths_mm(outline: Sequence[Station], wall_mm: float) -> list[float]:
    """Girth of the inside at each station. [mm]"""
    return [inside_girth_mm(station.girth_mm, wall_mm) for station in outline]


def inside_breadth_mm(outline: Sequence[Station], wall_mm: float, below_top_mm: float) -> float:
    """How wide the inside is at a place. [mm]"""
    refuse_unless_within(0, LARGEST, wall_mm=wall_mm)
    return station_at(outline, below_top_mm).breadth_mm - 2 * wall_mm


def hardware_clearance_mm(
    outline: Sequence[Station],
    wall_mm: float,
    width_mm: float,
    depth_mm: float,
    from_mm: float,
    to_mm: float,
    lean_forward_deg: float = 0.0,
    lean_outward_deg: float = 0.0,
) -> float:
    """The least room between a mechanism and the inside of the shell, over the part that it occupies.

    Parameters
    ----------
    outline : (n,) Station
    wall_mm : float
    width_mm, depth_mm : float
        The mechanism's rectangle: side to side, front to back, on the pylon's axis. [mm] 0 or more.
    from_mm, to_mm : float
        Where it begins and ends, below the top. [mm] Inside the outline.
    lean_forward_deg, lean_outward_deg : float
        How far the pylon's top leans forward, and outward. [deg] -80 to 80. The shell hangs straight from the apex, so
        the mechanism moves back, and inward, the further down it is: 3 deg over 400 mm is 21 mm.

    Returns
    -------
    float
        [mm] Square to the wall; negative where the two overlap.

    Notes
    -----
    Looked at in the stations within and at both ends. In a section the room is least at a corner: how far
    inside a convex section a point lies is a concave function, so no point between corners has less.
    """
    refuse_unless_within(0, LARGEST, wall_mm=wall_mm, width_mm=width_mm, depth_mm=depth_mm)
    refuse_unless_finite(from_mm=from_mm, to_mm=to_mm)
    refuse_unless_within(-80, 80, lean_forward_deg=lean_forward_deg, lean_outward_deg=lean_outward_deg)
    if from_mm > to_mm:
        raise OutOfRange("to_mm", to_mm, f"at or below its start, {from_mm}")
    inside = [station for station in outline if from_mm < station.below_top_mm < to_mm]
    sections = [station_at(outline, from_mm), *inside, station_at(outline, to_mm)]
    back, inward = tan(radians(lean_forward_deg)), tan(radians(lean_outward_deg))
    return min(
        _rectangle_room_mm(section, width_mm, depth_mm, back, inward) - wall_mm for section in sections
    )


def _rectangle_room_mm(
    section: Station, width_mm: float, depth_mm: float, back: float, inward: float
) -> float:
    """From the rectangle's nearest corner to the outside of the section. [mm]"""
    centre = (section.front_mm + section.rear_mm) / 2
    x, y = -back * section.below_top_mm - centre, abs(inward) * section.below_top_mm
    return min(
        depth_inside_mm(x + way * depth_mm / 2, y + width_mm / 2, section.breadth_mm, section.depth_mm)
        for way in (-1, 1)
    )


def stop_clearance_mm(
    outline: Sequence[Station], wall_mm: float, stop_below_apex_mm: float, stop_projection_mm: float
) -> float:
    """What an extension stop leaves inside the front of the shell. [mm]

    Parameters
    ----------
    stop_below_apex_mm : float
        Where it is, below the top. [mm]
    stop_projection_mm : float
        How far it stands out in front of the pylon's axis, knee fully extended. [mm]
    """
    refuse_unless_within(0, LARGEST, wall_mm=wall_mm)
    refuse_unless_finite(stop_below_apex_mm=stop_below_apex_mm, stop_projection_mm=stop_projection_mm)
    return station_at(outline, stop_below_apex_mm).front_mm - wall_mm - stop_projection_mm
