"""What was made, held against what was ordered, within the tolerances of the catalogue. Server only."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import sqrt
from typing import NamedTuple

from .constants import AS_MADE_APART_MM, AS_MADE_EDGE_MM, AS_MADE_GIRTH_MM, AS_MADE_READ_MM, MASS_APART_SHARE
from .errors import OutOfRange
from .typed import Reading, combine
from .uncertainty import combined_standard_uncertainty
from .units import MM_PER

_TINY_MM = 1e-6  # limits compare so far apart, as the rule book's less() and more() do
_UNIT_FITS = 0.15  # a number in another unit is taken to be meant when it comes so near to what was ordered
_FAR = 0.4  # and in its own unit is off by more than this, both as shares of what was ordered


class Limits(NamedTuple):
    """What was ordered of one figure, and from where to where it may come out. [mm]"""

    ordered_mm: float
    least_mm: float
    most_mm: float


class Held(NamedTuple):
    """A figure as it was made. `close` says that the measurement itself could lie on either side of a limit.

    Attributes
    ----------
    measured_mm, U_mm : float
        The value that is kept of the readings, and its expanded uncertainty, k = 2. [mm]
    within, close : bool
    """

    measured_mm: float
    U_mm: float
    within: bool
    close: bool


def limits_as_made(result: Mapping, catalogue: Mapping) -> dict[str, Limits]:
    """From where to where each figure of a shell may come out: length, girth, upper_strap, lower_strap.

    Parameters
    ----------
    result : mapping
        As orders/reckon.py gives it; lengths in mm.
    catalogue : mapping
        Its ``as_made`` tolerances. Where it leaves something to trim and marks no line, the length and the lower
        strap's place are measured to an edge that lies that much lower; to a marked line nothing is added.
    """
    allowed = catalogue["as_made"]
    trim = 0.0 if catalogue["trim_line_marked"] else catalogue["trim_mm"]
    length = result["finished_length_mm"] + trim
    return {
        "length": Limits(length, length - allowed["length_under_mm"], length + allowed["length_over_mm"]),
        "girth": _about(result["girth_mm"], allowed["girth_mm"]),
        "upper_strap": _about(result["upper_strap_mm"], allowed["strap_place_mm"]),
        "lower_strap": _about(result["lower_strap_mm"] + trim, allowed["strap_place_mm"]),
    }


def _about(ordered: float, allowed: float) -> Limits:
    return Limits(ordered, ordered - allowed, ordered + allowed)


def held_against(readings: Sequence[Fraction], limits: Limits, *, girth: bool = False) -> Held:
    """One figure's readings, held against its limits.

    Parameters
    ----------
    readings : (n,) Fraction, 1 <= n <= 3
        [mm]
    limits : Limits
    girth : bool
        Measured round the shell with a tape, not along it with a rule.

    Returns
    -------
    Held

    Raises
    ------
    OutOfRange
        If there are no readings, or more than three.

    Notes
    -----
    Simple acceptance [GUM106]: within the limits, as measured, is good. U = 2u by [GUM], from where the edge (or the
    widest place) is and n readings; a value nearer to a limit than U is `close`, and worth another reading.

    Examples
    --------
    >>> held_against([Fraction(400), Fraction(401)], Limits(401, 399, 401))
    Held(measured_mm=400.5, U_mm=1.224744871391589, within=True, close=True)
    """
    measured = float(combine(readings))
    place, read = (AS_MADE_GIRTH_MM, AS_MADE_GIRTH_MM) if girth else (AS_MADE_EDGE_MM, AS_MADE_READ_MM)
    U_mm = 2 * combined_standard_uncertainty([place, read / sqrt(len(readings))])
    nearest = min(abs(measured - limits.least_mm), abs(measured - limits.most_mm))
    within = limits.least_mm - _TINY_MM <= measured <= limits.most_mm + _TINY_MM
    return Held(measured, U_mm, within, nearest < U_mm)


def wants_third(readings: Sequence[Fraction]) -> bool:
    """Whether two readings lie so far apart that a third must settle it."""
    return len(readings) == 2 and abs(readings[0] - readings[1]) > AS_MADE_APART_MM


def meant_unit(reading: Reading, ordered_mm: float) -> str | None:
    """The unit in which a bare number comes to about what was ordered, when in its own it is far off; else None."""
    if reading.unit_typed or abs(reading.mm - ordered_mm) <= _FAR * ordered_mm:
        return None
    for unit in MM_PER:
        other = float(reading.mm_exact / MM_PER[reading.unit] * MM_PER[unit])
        if unit != reading.unit and abs(other - ordered_mm) <= _UNIT_FITS * ordered_mm:
            return unit
    return None


def mass_apart(weighed_g: float, reckoned_g: float) -> tuple[float, bool]:
    """By what share a finished shell is heavier than reckoned (negative: lighter), and whether that is a lot.

    Raises
    ------
    OutOfRange
        If either mass isn't above 0.
    """
    for name, value in (("weighed_g", weighed_g), ("reckoned_g", reckoned_g)):
        if not value > 0:
            raise OutOfRange(name, value, "above 0")
    share = weighed_g / reckoned_g - 1
    return share, abs(share) > MASS_APART_SHARE
