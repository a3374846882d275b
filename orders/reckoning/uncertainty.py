"""How well a length or a girth is known, by [GUM]."""

from collections.abc import Mapping, Sequence
from math import sqrt

from .constants import (
    APEX_PLACE_U_MM,
    COVERAGE_FACTOR,
    GIRTH_PLACE_U_MM,
    GIRTH_READING_U_MM,
    LENGTH_READING_U_MM,
    RIM_PLACE_U_MM,
)
from .errors import OutOfRange


def combined_standard_uncertainty(
    uncertainties: Sequence[float],
    sensitivities: Sequence[float] | None = None,
    correlations: Mapping[tuple[int, int], float] | None = None,
) -> float:
    """Standard uncertainty of a result from those of its inputs.

    Parameters
    ----------
    uncertainties : (n,) float
        Standard uncertainty of each input, in the input's own unit. 0 or more.
    sensitivities : (n,) float, optional
        How much the result changes by, per unit of each input. By default 1: a plain sum.
    correlations : mapping of (i, j) to float, optional
        Correlation of inputs i and j, i != j, each pair once. [unitless] By default none.

    Returns
    -------
    float
        In the result's unit.

    Notes
    -----
    [GUM] equations 10 and 16: u² = sum (c u)² + 2 sum c_i c_j u_i u_j r_ij. First order: it holds where the
    result is nearly linear over the inputs' uncertainties.
    """
    weights = [1.0] * len(uncertainties) if sensitivities is None else sensitivities
    if any(u < 0 for u in uncertainties):
        raise OutOfRange("uncertainties", list(uncertainties), "0 or more")
    parts = [c * u for c, u in zip(weights, uncertainties, strict=True)]
    variance = sum(part * part for part in parts)
    variance += sum(2 * r * parts[i] * parts[j] for (i, j), r in (correlations or {}).items())
    return sqrt(max(0.0, variance))


def length_U_mm(readings: int) -> float:
    """Expanded uncertainty of a length kept from so many readings of the tape. [mm]

    Notes
    -----
    The places of apex and rim are shared by all readings, so repeats don't shrink their part. [DEFAULTS]
    """
    tape = LENGTH_READING_U_MM / sqrt(_count(readings))
    return COVERAGE_FACTOR * combined_standard_uncertainty([APEX_PLACE_U_MM, RIM_PLACE_U_MM, tape])


def girth_U_mm(readings: int) -> float:
    """Expanded uncertainty of a girth kept from so many readings of the tape. [mm] [TUNC2007]"""
    tape = GIRTH_READING_U_MM / sqrt(_count(readings))
    return COVERAGE_FACTOR * combined_standard_uncertainty([GIRTH_PLACE_U_MM, tape])


def _count(readings: int) -> int:
    if readings < 1:
        raise OutOfRange("readings", readings, "1 or more")
    return readings
