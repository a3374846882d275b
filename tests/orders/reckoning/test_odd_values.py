"""Every public function of the core refuses every odd number by its argument's name, and takes the plain ones."""

import inspect
from decimal import Decimal
from fractions import Fraction
from importlib import import_module

import pytest

from orders.reckoning.curve import Curve
from orders.reckoning.edges import Cut
from orders.reckoning.errors import OutOfRange
from orders.reckoning.outline import stations

LEG = stations(401, 384.5)
KNEE = ((16, 0), (-16, 0), (2, 60), (-17, 45))

# By module and function: plain arguments; those that are numbers are each made odd in turn.
PLAIN = {
    "section.perimeter_mm": {"half_a_mm": 60, "half_b_mm": 58},
    "section.axes_mm": {"girth_mm": 380, "depth_over_breadth": 1.07},
    "section.area_mm2": {"breadth_mm": 118, "depth_mm": 126},
    "section.inside_girth_mm": {"girth_mm": 380, "wall_mm": 4},
    "section.midwall_girth_mm": {"girth_mm": 380, "wall_mm": 4},
    "section.wall_area_mm2": {"girth_mm": 380, "wall_mm": 4},
    "section.depth_inside_mm": {"x_mm": 3, "y_mm": -4, "breadth_mm": 118, "depth_mm": 126},
    "outline.place_t": {"below_top_mm": 30, "finished_length_mm": 400},
    "outline.stations": {"finished_length_mm": 400, "girth_mm": 380, "front_at_apex_mm": 50},
    "outline.house_profile": {"girth_shares": [1.0] * 19, "depth_over_breadth": [1.0] * 19},
    "outline.station_at": {"outline": LEG, "below_top_mm": 30},
    "outline.inside_girths_mm": {"outline": LEG, "wall_mm": 4},
    "outline.inside_breadth_mm": {"outline": LEG, "wall_mm": 4, "below_top_mm": 30},
    "outline.hardware_clearance_mm": {
        "outline": LEG, "wall_mm": 4, "width_mm": 60, "depth_mm": 70, "from_mm": 0, "to_mm": 100,
        "lean_forward_deg": 2, "lean_outward_deg": -1,
    },
    "outline.stop_clearance_mm": {
        "outline": LEG, "wall_mm": 4, "stop_below_apex_mm": 20, "stop_projection_mm": 33,
    },
    "trim.flexion_at_contact_deg": {"below_axis_mm": 60, "thigh_behind_mm": 60, "edge_behind_mm": 60},
    "trim.least_below_axis_mm": {"thigh_behind_mm": 60, "edge_behind_mm": 60, "flexion_deg": 110},
    "trim.rear_trim_mm": {
        "outline": LEG, "thigh_behind_axis_mm": 60, "flexion_deg": 110, "axis_below_apex_mm": 35, "axis_x_mm": -6,
    },
    "mass.shell_mass": {
        "outline": LEG, "wall_mm": 4, "density_kg_m3": 905, "open_share": 0.3, "strap_mass_g": 15,
        "axis_below_apex_mm": 35, "axis_x_mm": -6,
    },
    "mechanism.instant_centre": {"pivots": KNEE},
    "mechanism.bent": {"pivots": KNEE, "flexion_deg": 30},
    "mechanism.link_lengths_mm": {"pivots": KNEE},
    "mechanism.motion": {"pivots": KNEE, "flexion_deg": 90, "step_deg": 10},
    "uncertainty.combined_standard_uncertainty": {"uncertainties": [3, 2]},
    "surface.outside_surface": {"outline": LEG, "rings": 19, "around": 36},
    "surface.shell_mesh": {"outline": LEG, "wall_mm": 4, "cut": None, "rings": 19, "around": 36},
    "ordered.surfaces": {"outline": LEG, "cut": None, "wall_mm": 4, "rings": 19, "around": 36},
    "result.rounded": {"value": 3.2, "decimals": 3},
    "units.decimal_text": {"value": Fraction(3, 2), "places": 1},
    "units.inches_text": {"mm": 419.1, "parts": 16},
}  # fmt: skip
# What takes plain numbers. The other modules take texts, JSON, or what these gave, and are tried beside their own tests.
MODULES = (
    *("section", "outline", "trim", "mass", "mechanism", "uncertainty"),
    *("surface", "ordered", "loft", "edges", "curve", "result", "units"),
)

ODD = [
    float("nan"),
    float("inf"),
    -float("inf"),
    True,
    False,
    "3",
    b"3",
    None,
    [3],
    3j,
    Decimal(3),
    10**400,
    1e300,
]


def function(name: str):
    module, attribute = name.split(".")
    return getattr(import_module(f"orders.reckoning.{module}"), attribute)


def plain(name: str) -> dict:
    return {key: Cut(0, 70, 0.6, 0.3) if key == "cut" else value for key, value in PLAIN[name].items()}


NUMBERS = [
    (name, key)
    for name, arguments in PLAIN.items()
    for key, value in arguments.items()
    if isinstance(value, (int, float, Fraction))
]
# Told as they are, however large: what was typed is said back.
EXACT = {("units.decimal_text", "value"): [10**400], ("units.inches_text", "mm"): [10**400, 1e300]}
# None means that the front wasn't measured.
OPTIONAL = {("outline.stations", "front_at_apex_mm")}


@pytest.mark.parametrize("name", PLAIN)
def test_plain_values_pass(name):
    assert function(name)(**plain(name)) is not None


@pytest.mark.parametrize("odd", ODD, ids=lambda odd: repr(odd)[:12])
@pytest.mark.parametrize(("name", "key"), NUMBERS)
def test_an_odd_value_is_refused_by_its_argument_s_name(name, key, odd):
    if (odd is None and (name, key) in OPTIONAL) or odd in EXACT.get((name, key), []):
        assert function(name)(**(plain(name) | {key: odd}))
        return
    with pytest.raises(OutOfRange, match=rf"^{key} is"):
        function(name)(**(plain(name) | {key: odd}))


@pytest.mark.parametrize("odd", [*ODD, 0, -3])
def test_an_odd_extra_girth_is_refused(odd):
    with pytest.raises(OutOfRange, match=r"^extra_girth_mm is"):
        stations(400, 380, [(300, odd)])


@pytest.mark.parametrize("odd", ODD, ids=lambda odd: repr(odd)[:12])
def test_an_odd_place_of_an_extra_girth_is_refused(odd):
    with pytest.raises(OutOfRange, match=r"^extra_below_top_mm is"):
        stations(400, 380, [(odd, 240)])


@pytest.mark.parametrize("odd", [*ODD, 0, -3], ids=lambda odd: repr(odd)[:12])
@pytest.mark.parametrize("key", ["girth_shares", "depth_over_breadth"])
def test_an_odd_number_of_a_house_profile_is_refused(key, odd):
    with pytest.raises(OutOfRange, match=rf"^{key} is"):
        function("outline.house_profile")(**(plain("outline.house_profile") | {key: [*[1.0] * 18, odd]}))


@pytest.mark.parametrize("odd", ODD, ids=lambda odd: repr(odd)[:12])
def test_an_odd_pivot_is_refused_by_its_name(odd):
    for at, called in enumerate(("front_lower", "rear_lower", "front_upper", "rear_upper")):
        for way in (0, 1):
            pivots = [list(pivot) for pivot in KNEE]
            pivots[at][way] = odd
            with pytest.raises(OutOfRange, match=rf"^{called} is"):
                function("mechanism.instant_centre")(pivots)


@pytest.mark.parametrize("odd", ODD, ids=lambda odd: repr(odd)[:12])
def test_an_odd_place_of_a_strap_is_refused(odd):
    with pytest.raises(OutOfRange, match=r"^straps_below_top_mm is"):
        function("mass.shell_mass")(LEG, 4, 905, 0.3, 15, [60, odd])


@pytest.mark.parametrize("odd", ODD, ids=lambda odd: repr(odd)[:12])
def test_a_curve_refuses_odd_points_and_places(odd):
    with pytest.raises(OutOfRange, match=r"^places is"):
        Curve([0, odd, 2], [0, 1, 2])
    with pytest.raises(OutOfRange, match=r"^values is"):
        Curve([0, 1, 2], [0, odd, 2])
    with pytest.raises(OutOfRange, match=r"^place is"):
        Curve([0, 1, 2], [0, 1, 2])(odd)


@pytest.mark.parametrize("outline", [[], LEG[:1]])
@pytest.mark.parametrize("name", ["outline.station_at", "mass.shell_mass", "surface.outside_surface"])
def test_less_than_two_stations_are_no_outline(name, outline):
    with pytest.raises(OutOfRange, match=r"^outline is"):
        function(name)(**(plain(name) | {"outline": outline}))


def test_no_public_function_is_left_out():
    found = set()
    for module in MODULES:
        for name, value in vars(import_module(f"orders.reckoning.{module}")).items():
            own = getattr(value, "__module__", "") == f"orders.reckoning.{module}"
            if own and inspect.isfunction(value) and not name.startswith("_"):
                found.add(f"{module}.{name}")

    # takes JSON of the order, and names what can't be used of it: test_ordered.py
    assert found - {"ordered.ordered"} == PLAIN.keys()
