"""The result: which figures it holds, and how its numbers are rounded. Twin: static/js/book/reckon.js.

Two keys stand in it only where there is something to say:

mechanism     of a knee whose four pivots are entered, straight to bent: ``[{"flexion_deg", "front_pivot": {"forward_mm",
              "below_apex_mm"}, "centre": the same, or null where the side links are parallel}, ...]``
suggestions   ``{"girth": {"girth_mm", "least_mm", "most_mm", "says"}}``: what such a person's calf most likely
              measures, where there is none to measure
"""

import math

from .ranges import refuse_unless_within

SCHEMA = "shankline-result-1"

# The result's figures, in its order; each is a figure of the rule book.
FIGURES = (
    "length_taken_mm",
    "length_U_mm",
    "gap_mm",
    "gap_advised_mm",
    "finished_length_mm",
    "girth_mm",
    "girth_U_mm",
    "upper_strap_mm",
    "lower_strap_mm",
    "strap_spacing_mm",
    "foam_pad",
    "rim_rise_mm",
    "margin_mm",
    "inside_girth_mm",
    "rear_end_above_rim_mm",
    "rear_trim_mm",
    "mass_g",
    "inertia_kg_m2",
)

# What else is explained, where it is known; the figures themselves are told by `mechanism`.
EXPLAINED = (*FIGURES, "hcpcs", "centre_above_apex_mm", "pivots_stay_above_mm", "pivots_past_front_mm")


def rounded(value: float, decimals: int = 3) -> float:
    """A number as the result holds it: halves up, looked for in the double's product with 10^decimals."""
    refuse_unless_within(-1e12, 1e12, value=value)
    refuse_unless_within(0, 9, decimals=decimals)
    scale = 10.0**decimals
    return math.floor(value * scale + 0.5) / scale
