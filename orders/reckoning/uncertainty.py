"""The law of propagation of uncertainty [GUM].

The book's formulas of length_U_mm and girth_U_mm are cases of it, with their standard uncertainties."""

from collections.abc import Mapping, Sequence
from math import sqrt

from .errors import OutOfRange
from .ranges import refuse_unless_within

#: Inputs have units of their own, and near a photo's horizon a millimetre is nothing: only what has no square is refused.
_MOST = 1e100


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

    Raises
    ------
    OutOfRange
        By the argument's name.

    Notes
    -----
    [GUM] equations 10 and 16: u² = sum (c u)² + 2 sum c_i c_j u_i u_j r_ij. First order: it holds where the
    result is nearly linear over the inputs' uncertainties.
    """
    weights = [1.0] * len(uncertainties) if sensitivities is None else list(sensitivities)
    if len(weights) != len(uncertainties):
        raise OutOfRange("sensitivities", weights, f"{len(uncertainties)} numbers, one for each uncertainty")
    for u, c in zip(uncertainties, weights, strict=True):
        refuse_unless_within(0, _MOST, uncertainties=u)
        refuse_unless_within(-_MOST, _MOST, sensitivities=c)
    parts = [c * u for c, u in zip(weights, uncertainties, strict=True)]
    variance = sum(part * part for part in parts)
    for (i, j), r in (correlations or {}).items():
        refuse_unless_within(-1, 1, correlations=r)
        if i == j or not {i, j} <= set(range(len(parts))):
            raise OutOfRange("correlations", (i, j), "of two different inputs, counted from 0")
        variance += 2 * r * parts[i] * parts[j]
    return sqrt(max(0.0, variance))
