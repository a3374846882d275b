"""A smooth curve through points that never swings past them. Twin: static/js/geometry/curve.js."""

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise

from .errors import OutOfRange
from .ranges import refuse_unless_finite


class Curve:
    """Monotone piecewise cubic through points, flat beyond its ends [PCHIP].

    Parameters
    ----------
    places : (n,) float, n >= 1
        Strictly increasing.
    values : (n,) float

    Notes
    -----
    Through two points it is their line. The slopes inside are the weighted harmonic means of the
    neighbouring chords' slopes, and none where these differ in sign.
    """

    def __init__(self, places: Sequence[float], values: Sequence[float]) -> None:
        for place, value in zip(places, values, strict=False):
            refuse_unless_finite(places=place, values=value)
        steps = [after - before for before, after in pairwise(places)]
        if not places or len(places) != len(values) or any(not step > 0 for step in steps):
            raise OutOfRange("places", list(places), "strictly increasing, with a value each")
        self._places = list(places)
        self._values = list(values)
        rises = [after - before for before, after in pairwise(values)]
        self._slopes = _slopes(steps, [rise / step for rise, step in zip(rises, steps, strict=True)])

    def __call__(self, place: float) -> float:
        """The curve's value there; beyond the ends, that of the end. Refused for what is no finite number."""
        refuse_unless_finite(place=place)
        places, values = self._places, self._values
        if place <= places[0]:
            return values[0]
        if place >= places[-1]:
            return values[-1]
        at = bisect_right(places, place) - 1
        step = places[at + 1] - places[at]
        u = (place - places[at]) / step
        v = 1 - u
        from_values = values[at] * (1 + 2 * u) * v * v + values[at + 1] * (1 + 2 * v) * u * u
        from_slopes = self._slopes[at] * u * v * v - self._slopes[at + 1] * v * u * u
        return from_values + from_slopes * step

    def cubics(self) -> list[tuple[float, float, float, float]]:
        """Each piece as a polynomial of how far past its start: constant, linear, square and cube."""
        pieces = []
        for at, (before, after) in enumerate(pairwise(self._places)):
            step = after - before
            chord = (self._values[at + 1] - self._values[at]) / step
            start, end = self._slopes[at], self._slopes[at + 1]
            square = (3 * chord - 2 * start - end) / step
            pieces.append((self._values[at], start, square, (start + end - 2 * chord) / step**2))
        return pieces


def _slopes(steps: list[float], chords: list[float]) -> list[float]:
    if len(chords) < 2:
        return chords * 2 if chords else [0.0]
    inside = [
        _inside_slope(steps[at], steps[at + 1], chords[at], chords[at + 1]) for at in range(len(chords) - 1)
    ]
    first = _end_slope(steps[0], steps[1], chords[0], chords[1])
    last = _end_slope(steps[-1], steps[-2], chords[-1], chords[-2])
    return [first, *inside, last]


def _inside_slope(before: float, after: float, chord_before: float, chord_after: float) -> float:
    if chord_before * chord_after <= 0:
        return 0.0
    weight_before, weight_after = 2 * after + before, after + 2 * before
    return (weight_before + weight_after) / (weight_before / chord_before + weight_after / chord_after)


def _end_slope(near: float, far: float, chord_near: float, chord_far: float) -> float:
    """The three-point slope, kept from turning back or from swinging past."""
    slope = ((2 * near + far) * chord_near - near * chord_far) / (near + far)
    if slope * chord_near <= 0:
        return 0.0
    if chord_near * chord_far <= 0 and abs(slope) > 3 * abs(chord_near):
        return 3 * chord_near
    return slope
