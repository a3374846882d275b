"""What the shell weighs, and how it is felt in swing. On the server only."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import pi

import numpy as np

from .constants import KNEE_AXIS_X_MM, LARGEST
from .errors import OutOfRange
from .outline import Station
from .ranges import refuse_unless_finite, refuse_unless_positive, refuse_unless_within
from .section import inside_girth_mm

#: Angles round a section. The sums are of smooth periodic functions, so that they converge very fast.
_ANGLES = 72
#: Simpson's rule over a panel: exact for cubics, and what a panel holds is nearly quadratic.
_PLACES = np.array([0.0, 0.5, 1.0])
_WEIGHTS = np.array([1.0, 4.0, 1.0]) / 6


@dataclass(frozen=True)
class Mass:
    """Mass of shell and straps, and of the bare shell with nothing open [g]; inertia about the knee's axis [kg m²]."""

    mass_g: float
    closed_mass_g: float
    inertia_kg_m2: float


def shell_mass(
    outline: Sequence[Station],
    wall_mm: float,
    density_kg_m3: float,
    open_share: float,
    strap_mass_g: float = 0.0,
    straps_below_top_mm: Iterable[float] = (),
    axis_below_apex_mm: float = 0.0,
    axis_x_mm: float = KNEE_AXIS_X_MM,
) -> Mass:
    """Mass and moment of inertia of a shell with its straps.

    Parameters
    ----------
    outline : (n,) Station, n >= 2
    wall_mm : float
        Thickness, square to the surface. [mm] Above zero.
    density_kg_m3 : float
        [kg/m³] Above zero.
    open_share : float
        The rear's open share, by which the closed shell's mass is reduced. [unitless] 0 to 0.9.
    strap_mass_g : float
        Each strap. [g]
    straps_below_top_mm : iterable of float
        Where the straps are. [mm] They lie round the pylon's axis.
    axis_below_apex_mm, axis_x_mm : float
        The knee's axis: below the apex (by default level with it), in front of the pylon's axis. [mm]

    Notes
    -----
    Area half-way through the wall times wall times density, less the open share [DEFAULTS]. Exact for a
    cone, whose ends are cut level; elsewhere between stations the surface is taken as ruled.
    """
    straps = tuple(straps_below_top_mm)
    refuse_unless_positive(wall_mm=wall_mm, density_kg_m3=density_kg_m3)
    refuse_unless_within(0, 0.9, open_share=open_share)
    refuse_unless_within(0, LARGEST, strap_mass_g=strap_mass_g)
    refuse_unless_finite(axis_below_apex_mm=axis_below_apex_mm, axis_x_mm=axis_x_mm)
    for place in straps:
        refuse_unless_finite(straps_below_top_mm=place)
    if len(outline) < 2:
        raise OutOfRange("outline", len(outline), "two stations or more")
    inside_girth_mm(min(station.girth_mm for station in outline), wall_mm)
    axis = (axis_x_mm, axis_below_apex_mm)
    volume_mm3, second_mm5 = _wall_moments(outline, wall_mm, axis)
    grams = density_kg_m3 * 1e-6 * (1 - open_share)
    mass_g, inertia_g_mm2 = grams * volume_mm3, grams * second_mm5
    for below_top_mm in straps:
        mass_g += strap_mass_g
        inertia_g_mm2 += strap_mass_g * ((below_top_mm - axis_below_apex_mm) ** 2 + axis_x_mm**2)
    return Mass(mass_g, density_kg_m3 * 1e-6 * volume_mm3, inertia_g_mm2 * 1e-9)


def _wall_moments(
    outline: Sequence[Station], wall_mm: float, axis: tuple[float, float]
) -> tuple[float, float]:
    """Volume of the closed wall, and its second moment about a sideways axis. [mm³, mm⁵]"""
    rows = np.array(
        [[s.below_top_mm, s.depth_mm / 2, s.breadth_mm / 2, (s.front_mm + s.rear_mm) / 2] for s in outline]
    )
    heights = np.diff(rows[:, 0])
    slopes = np.diff(rows[:, 1:], axis=0) / heights[:, None]
    # (panels, places, quantity): straight between two stations
    here = rows[:-1, None, :] + np.diff(rows, axis=0)[:, None, :] * _PLACES[None, :, None]
    below, areas, x = _sections(here, slopes, wall_mm)
    second = ((x - axis[0]) ** 2 + (below - axis[1])[..., None] ** 2) * areas
    over_places = heights[:, None] * _WEIGHTS[None, :]
    return float((areas.sum(-1) * over_places).sum()), float((second.sum(-1) * over_places).sum())


def _sections(here: np.ndarray, slopes: np.ndarray, wall_mm: float):
    """Level sections of the wall: below the top (p, 3), area (p, 3, angles), x half-way through it.

    A level cut through a wall that leans is longer than the wall is thick, by the secant of its lean. The
    area of a strip of the cut is that length times the strip's length half-way through.
    """
    below, half_depth, half_breadth, centre = (here[..., k, None] for k in range(4))
    depth_slope, breadth_slope, centre_slope = (slopes[:, None, k, None] for k in range(3))
    angle = np.arange(_ANGLES) * (2 * pi / _ANGLES)
    ahead, aside = np.cos(angle), np.sin(angle)
    length = np.hypot(half_depth * aside, half_breadth * ahead)
    normal_x, normal_y = half_breadth * ahead / length, half_depth * aside / length
    lean = normal_x * (centre_slope + depth_slope * ahead) + normal_y * breadth_slope * aside
    cut = wall_mm * np.sqrt(1 + lean**2)
    turned = half_depth * half_breadth / length**2
    areas = (cut * length - cut**2 * turned / 2) * (2 * pi / _ANGLES)
    x = centre + half_depth * ahead - normal_x * cut / 2
    return below[..., 0], areas, x
