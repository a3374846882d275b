"""The smooth surface through the stations: where it lies, and which way is out. On the server only.

z up, the apex's height at 0        angle 0 at the front, a quarter turn at the person's left
|
|   / x forward of the pylon's axis      x = centre + half depth · cos(angle)
|  /                                     y = half breadth · sin(angle)
+------ y to the person's left           z = -below the top
"""

from collections.abc import Sequence

import numpy as np

from .curve import Curve
from .errors import OutOfRange
from .outline import Station
from .ranges import refuse_unless_finite, refuse_unless_positive

#: Steps of the search for the place of a point of the inside; each gains two digits or more.
_STEPS = 12


class Loft:
    """Ellipses between the stations' own, each axis a monotone cubic [PCHIP]; straight on beyond the ends.

    Parameters
    ----------
    outline : (n,) Station, n >= 2
        From the top down.
    """

    def __init__(self, outline: Sequence[Station]) -> None:
        _check(outline)
        self.places = np.array([station.below_top_mm for station in outline])
        #: (3, 4, n - 1): of centre, half depth and half breadth the cubic below each station
        self._cubics = _cubics(outline)
        self._rates = self._cubics[:, 1:] * np.array([1.0, 2.0, 3.0])[:, None]

    @property
    def length_mm(self) -> float:
        """From the first station to the last. [mm]"""
        return float(self.places[-1] - self.places[0])

    def axes(self, below_top_mm: np.ndarray) -> np.ndarray:
        """Centre, half depth and half breadth there. (...) float [mm] gives (3, ...) float [mm]"""
        return self._at(below_top_mm)[0]

    def points(self, angle: np.ndarray, below_top_mm: np.ndarray) -> np.ndarray:
        """Points of the outside.

        Parameters
        ----------
        angle, below_top_mm : (...) float, to be broadcast
            [rad] 0 in front; [mm].

        Returns
        -------
        (..., 3) float
            [mm]
        """
        centre, depth, breadth = self.axes(below_top_mm)
        return _stacked(centre + depth * np.cos(angle), breadth * np.sin(angle), -below_top_mm)

    def normals(self, angle: np.ndarray, below_top_mm: np.ndarray) -> np.ndarray:
        """Unit normals of the outside, outward. Arguments as for points; (..., 3) float [unitless]"""
        (_, depth, breadth), (centre_rate, depth_rate, breadth_rate) = self._at(below_top_mm)
        ahead, aside = np.cos(angle), np.sin(angle)
        up = depth * breadth_rate * aside**2 + breadth * ahead * (centre_rate + depth_rate * ahead)
        normal = _stacked(breadth * ahead, depth * aside, up)
        return normal / np.linalg.norm(normal, axis=-1, keepdims=True)

    def inside(self, angle: np.ndarray, below_top_mm: np.ndarray, wall_mm: float) -> np.ndarray:
        """Points of the inside of a wall, at the same angles and as far below the top.

        Each lies square to the outside, the wall's thickness in from it; from another place of the outside,
        a little higher or lower, so that an edge which is level outside is level inside too.

        Parameters
        ----------
        angle, below_top_mm : as for points
        wall_mm : float
            Thickness, square to the surface. [mm] Less than the outside's least radius.

        Returns
        -------
        (..., 3) float
            [mm]
        """
        refuse_unless_positive(wall_mm=wall_mm)
        least_mm = self.least_radius_mm()
        if wall_mm >= least_mm:
            raise OutOfRange("wall_mm", wall_mm, f"less than the least radius of the outside, {least_mm:.1f}")
        angle, wanted = np.broadcast_arrays(angle, below_top_mm)
        place = wanted
        for _ in range(_STEPS):
            before, place = place, wanted - wall_mm * self.normals(angle, place)[..., 2]
            if np.abs(place - before).max(initial=0) < 1e-10:
                break
        return self.points(angle, place) - wall_mm * self.normals(angle, place)

    def least_radius_mm(self) -> float:
        """The least radius of curvature of the stations' ellipses: short half axis squared over the long. [mm]"""
        _, depth, breadth = self.axes(self.places)
        return float((np.minimum(depth, breadth) ** 2 / np.maximum(depth, breadth)).min())

    def _at(self, below_top_mm: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """The three quantities there, and their rates: (3, ...) each. [mm], [mm/mm]"""
        inside = np.clip(below_top_mm, self.places[0], self.places[-1])
        piece = np.clip(np.searchsorted(self.places, inside, side="right") - 1, 0, len(self.places) - 2)
        down = inside - self.places[piece]
        c0, c1, c2, c3 = (self._cubics[:, power][:, piece] for power in range(4))
        r0, r1, r2 = (self._rates[:, power][:, piece] for power in range(3))
        rates = r0 + down * (r1 + down * r2)
        return c0 + down * (c1 + down * (c2 + down * c3)) + rates * (below_top_mm - inside), rates


def _cubics(outline: Sequence[Station]) -> np.ndarray:
    places = [station.below_top_mm for station in outline]
    front, depth, breadth = (
        np.array(Curve(places, [getattr(station, name) for station in outline]).cubics())
        for name in ("front_mm", "depth_mm", "breadth_mm")
    )
    return np.stack([front - depth / 2, depth / 2, breadth / 2]).swapaxes(1, 2)


def _stacked(x: np.ndarray, y: np.ndarray, z: np.ndarray) -> np.ndarray:
    return np.stack(np.broadcast_arrays(x, y, z), axis=-1)


def _check(outline: Sequence[Station]) -> None:
    if len(outline) < 2:
        raise OutOfRange("outline", len(outline), "two stations or more")
    for station in outline:
        refuse_unless_positive(breadth_mm=station.breadth_mm, depth_mm=station.depth_mm)
        refuse_unless_finite(below_top_mm=station.below_top_mm, front_mm=station.front_mm)
