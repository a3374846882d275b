"""Each argument's range, at its very ends: the ends are taken, and what lies just beyond is refused by name.

The ends are this project's own, from the functions' descriptions.
"""

import pytest

from orders.reckoning.edges import Cut
from orders.reckoning.errors import OutOfRange
from orders.reckoning.uncertainty import combined_standard_uncertainty

from .test_odd_values import function, plain

# Function, argument, least, most, and how far beyond is still close; None where there is no such end.
ENDS = [
    ("outline.inside_breadth_mm", "wall_mm", 0, None, 0.001),
    ("outline.stop_clearance_mm", "wall_mm", 0, None, 0.001),
    ("outline.hardware_clearance_mm", "wall_mm", 0, None, 0.001),
    ("outline.hardware_clearance_mm", "lean_forward_deg", -80, 80, 0.001),
    ("outline.hardware_clearance_mm", "lean_outward_deg", -80, 80, 0.001),
    ("section.axes_mm", "depth_over_breadth", 0.01, 100, 0.00001),
    ("section.inside_girth_mm", "wall_mm", 0, None, 0.001),
    ("trim.rear_trim_mm", "flexion_deg", 0.5, 179.5, 0.501),
    ("trim.least_below_axis_mm", "flexion_deg", 0.5, 179.5, 0.501),
    ("mass.shell_mass", "open_share", 0, 0.9, 0.0001),
    ("mass.shell_mass", "strap_mass_g", 0, None, 0.001),
    ("mechanism.bent", "flexion_deg", -180, 180, 0.001),
    ("mechanism.motion", "flexion_deg", 1, 180, 0.001),
    ("mechanism.motion", "step_deg", 0.01, 90, 0.00001),
    ("result.rounded", "value", -1e12, 1e12, 1e9),
    ("result.rounded", "decimals", 0, 9, 1),
    ("units.decimal_text", "places", 0, 9, 1),
    ("units.inches_text", "parts", 1, 1024, 1),
    ("surface.outside_surface", "rings", 8, 2000, 1),
    ("surface.outside_surface", "around", 8, 2000, 1),
]  # fmt: skip


@pytest.mark.parametrize(("name", "key", "least", "most", "step"), ENDS)
def test_a_range_ends_where_it_says(name, key, least, most, step):
    for end, beyond in ((least, -step), (most, step)):
        if end is None:
            continue
        function(name)(**(plain(name) | {key: end}))
        with pytest.raises(OutOfRange, match=rf"^{key} is"):
            function(name)(**(plain(name) | {key: end + beyond}))


@pytest.mark.parametrize(
    ("key", "least", "most"),
    [("relief_mm", 0, 10_000), ("rear_trim_mm", 0, 10_000), ("reach", 0.01, 1), ("open_share", 0, 0.9)],
)
def test_a_cut_s_range_ends_where_it_says(key, least, most):
    cut = {"relief_mm": 0, "rear_trim_mm": 70, "reach": 0.6, "open_share": 0.3}

    for end, beyond in ((least, -0.00001), (most, 0.00001)):
        assert getattr(Cut(**(cut | {key: end})), key) == end
        with pytest.raises(OutOfRange, match=rf"^{key} is"):
            Cut(**(cut | {key: end + beyond}))


def test_a_sensitivity_s_range_ends_where_it_says():
    assert combined_standard_uncertainty([1e-100], [1e100]) == pytest.approx(1.0, rel=1e-12)
    assert combined_standard_uncertainty([1e-100], [-1e100]) == pytest.approx(1.0, rel=1e-12)
    for beyond in (1.005e100, -1.005e100):
        with pytest.raises(OutOfRange, match=r"^sensitivities is"):
            combined_standard_uncertainty([1e-12], [beyond])


@pytest.mark.parametrize("r", [-1, 1])
def test_a_correlation_s_range_ends_where_it_says(r):
    assert combined_standard_uncertainty([3, 4], correlations={(0, 1): r}) == pytest.approx(abs(3 * r + 4))
    with pytest.raises(OutOfRange, match=r"^correlations is"):
        combined_standard_uncertainty([3, 4], correlations={(0, 1): r * 1.001})
