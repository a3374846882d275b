"""Where the shell's edges run on its outside: top with its relief, rear trim, rear's end, side edges. Server only.

front     |          | rear        Laid flat, half of the shell: angle to the right, down the shank.
----.     |          |             The top falls to the relief over the front's middle third, and behind
     '----+-.        |             the level part in a soft S to the rear trim. The rear's end sweeps
          |   '------|  trim       down to the side edge, which runs straight on to the bottom edge.
          |          |
          |     _.---|  end = reach x length
          |  .-'
          | | side edge
----------+-'            bottom edge
"""

from dataclasses import dataclass
from functools import cache
from math import cos, pi

import numpy as np

from .constants import (
    RELIEF_EASED_MM,
    SWEEP_LINE,
    SWEEP_MM,
    SWEEP_MOST_SHARE,
    TOP_LEVEL_LEAST_MM,
    TOP_LEVEL_TO_X_MM,
    TOP_LINE,
)
from .curve import Curve
from .errors import OutOfRange
from .loft import Loft
from .ranges import refuse_unless_within

#: Places at which the low edge is walked off.
_SAMPLES = 401
#: Less of the length, or of the round, than this is no opening. [unitless] [DEFAULTS]
_LEAST_OPEN = 0.01


@dataclass(frozen=True)
class Cut:
    """How the shell is cut, in the catalogue's words.

    Attributes
    ----------
    relief_mm : float
        How much lower the front edge lies over its middle third. [mm] 0 or more.
    rear_trim_mm : float
        Where the rear edge starts, below the top. [mm] 0 or more, above the rear's end.
    reach : float
        How far the rear goes down, as a share of the length. [unitless] Above 0; at 1 nothing is open.
    open_share : float
        How much of the round is open below the rear's end, as a share of the ellipse's parameter. [unitless]
        0 or more, at most 0.9.
    """

    relief_mm: float = 0.0
    rear_trim_mm: float = 0.0
    reach: float = 1.0
    open_share: float = 0.0

    def __post_init__(self) -> None:
        refuse_unless_within(0, 10_000, relief_mm=self.relief_mm, rear_trim_mm=self.rear_trim_mm)
        refuse_unless_within(0.01, 1, reach=self.reach)
        refuse_unless_within(0, 0.9, open_share=self.open_share)

    @property
    def is_open(self) -> bool:
        """Whether anything is open below the rear's end: a slit of under a hundredth, some 4 mm, isn't cut."""
        return self.reach <= 1 - _LEAST_OPEN and self.open_share >= _LEAST_OPEN


class Edges:
    """The edges of one shell, as places below the top for each angle. Measured from the first station.

    Parameters
    ----------
    loft : Loft
        Its first station is the top.
    cut : Cut
    """

    def __init__(self, loft: Loft, cut: Cut) -> None:
        self._loft, self._cut = loft, cut
        self.bottom_mm = loft.length_mm
        self.end_mm = self.bottom_mm * (cut.reach if cut.is_open else 1.0)
        self.sweep_mm = min(SWEEP_MM, SWEEP_MOST_SHARE * (self.bottom_mm - self.end_mm))
        #: Angle of the side edges, either way from the front. [rad]
        self.side_angle = pi * (1 - cut.open_share) if cut.is_open else pi
        for name in ("relief_mm", "rear_trim_mm"):
            if getattr(cut, name) >= self.end_mm:
                raise OutOfRange(name, getattr(cut, name), f"less than the rear's end, {self.end_mm:.1f} mm")

    def top(self, angle: np.ndarray) -> np.ndarray:
        """The top edge. (n,) float [rad] gives (n,) float [mm]"""
        centre, depth, breadth = self._loft.axes(self._loft.places[0])
        x, y = centre + depth * np.cos(angle), breadth * np.sin(angle)
        front, rear = centre + depth, centre - depth
        level_to = max(min(TOP_LEVEL_TO_X_MM, front - TOP_LEVEL_LEAST_MM), rear + depth)
        behind = np.clip((level_to - x) / (level_to - rear), 0, 1)
        falls = self._cut.rear_trim_mm * _along(TOP_LINE, behind)
        return np.maximum(falls, self._cut.relief_mm * _middle_third(x - centre, y, breadth))

    def low(self, angle: np.ndarray) -> np.ndarray:
        """The rear's end in its sweep; in front of the side edges the place where that starts. As top."""
        if not self._cut.is_open:
            return np.full_like(angle, self.end_mm)
        way = np.clip((1 + np.cos(angle)) / (1 + cos(self.side_angle)), 0, 1)
        return self.end_mm + self.sweep_mm * _along(SWEEP_LINE, way)

    def angles_behind(self, flats: int) -> np.ndarray:
        """Angles from one side edge round the rear to the other, so that their steps along the low edge are even.

        In even angles the steepest part of the sweep would fall between two of them. (flats + 1,) float [rad]
        """
        angle = np.linspace(self.side_angle, 2 * pi - self.side_angle, _SAMPLES)
        _, depth, breadth = self._loft.axes(self._loft.places[0] + self.end_mm)
        round_mm = np.diff(angle) * (depth + breadth) / 2
        walked = np.concatenate([[0.0], np.cumsum(np.hypot(round_mm, np.diff(self.low(angle))))])
        even = np.interp(np.linspace(0, walked[-1], flats + 1), walked, angle)
        return (even + (2 * pi - even[::-1])) / 2


@cache
def _line(points: tuple[tuple[float, float], ...]) -> Curve:
    return Curve(*zip(*points, strict=True))


def _along(points: tuple[tuple[float, float], ...], share: np.ndarray) -> np.ndarray:
    line = _line(points)
    return np.array([line(place) for place in share.tolist()])


def _middle_third(ahead: np.ndarray, y: np.ndarray, half_breadth: float) -> np.ndarray:
    """1 over the front's middle third, 0 beside it and behind, eased where it ends."""
    third = half_breadth / 3
    eased = min(RELIEF_EASED_MM, third)
    inward = np.clip((third + eased - np.abs(y)) / (2 * eased), 0, 1)
    return np.where(ahead > 0, inward * inward * (3 - 2 * inward), 0.0)
