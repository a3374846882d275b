"""What isn't scalar, as quantities: on shells that can be worked by hand, and where something isn't known.

The shells are round, and grow or shrink evenly on the way down: a circle's girth is 2π times its radius.
"""

from math import hypot, pi

import pytest

from orders.reckon import reckon
from orders.rulebook.geometry import Worked, worked
from orders.rulebook.readings import Read
from tests.orders.entries import catalogue, entry_with

TARN = catalogue()
SHELL = {"wall": "thin"}
LENGTH, WALL, AXIS = 360.0, 4.0, 35.0
# Widest girth of a circle of 60 mm; the shares below are of it.
GIRTH = 2 * pi * 60.0
KNOWN = {
    "finished_length_mm": LENGTH,
    "girth_mm": GIRTH,
    "gap_mm": 19.0,
    "wall_mm": WALL,
    "reach": 0.62,
    "open_share": 0.32,
    "upper_strap_mm": 60.0,
    "lower_strap_mm": 60.0,
    "flexion_used_deg": 130.0,
    "knee_axis_used_mm": AXIS,
    "rear_trim_usual_mm": 90.0,
}


def cone(at_top_mm: float, at_bottom_mm: float) -> dict:
    """The catalogue of a workshop whose shells are round, with these radii at their ends."""
    radii = [at_top_mm + (at_bottom_mm - at_top_mm) * at / 18 for at in range(19)]
    profile = {"girth_shares": [radius / 60.0 for radius in radii], "depth_over_breadth": [1.0] * 19}
    return TARN | {"profile": profile}


def found(known: dict, workshop: dict = TARN, *points: dict) -> Worked:
    return worked(KNOWN | known, Read(service_points=list(points)), workshop, SHELL)


def test_the_inside_s_breadth_is_told_at_the_very_top():
    # a circle of 50 less the wall on either side; a hundredth of a millimetre down it is 0.0006 wider
    known = found({}, cone(50.0, 60.0)).known

    assert known["inside_breadth_at_top_mm"] == pytest.approx(2 * (50 - WALL), abs=1e-6)


# Side to side 60 and without depth, on the axis of a shell whose top is centred there.
KNEE = {"knee_width_mm": 60.0, "knee_depth_mm": 0.0, "hardware_length_mm": 20.0}
FOOT = {"foot_width_mm": 60.0, "foot_depth_mm": 0.0, "hardware_above_rim_mm": LENGTH + 19.0 + 10.0}


@pytest.mark.parametrize(("hardware", "name"), [(KNEE, "knee"), (FOOT, "foot")])
def test_what_stands_up_to_the_top_is_tightest_there_where_the_shell_widens_downwards(hardware, name):
    """Also a foot's mechanism that reaches out above the shell: what is above it is nobody's room."""
    room = found(hardware | {"behind_front_at_apex_mm": 50.0}, cone(50.0, 90.0)).known[f"{name}_clearance_mm"]

    assert room == pytest.approx(50 - 30 - WALL, abs=1e-6)


def test_a_pylon_of_which_no_lean_is_known_stands_straight():
    """As where the lean was typed and can't be read: a hundredth of a degree would be 0.03 mm at the ankle."""
    hardware = KNEE | {"knee_depth_mm": 40.0, "hardware_length_mm": LENGTH}
    room = found(hardware | {"behind_front_at_apex_mm": 60.0}, cone(60.0, 40.0)).known["knee_clearance_mm"]

    # the front line stands 46/385 of the girth before the axis at the top, 43/385 at the bottom
    centre = 60 - 3 * GIRTH / 385 - 40
    assert room == pytest.approx(40 - hypot(centre + 20, 30) - WALL, abs=1e-6)


def test_a_lower_strap_is_felt_where_it_lies():
    """Twenty millimetres nearer to the knee: its mass times the difference of the distances' squares."""
    inertia = [
        found({"lower_strap_mm": up}, cone(60.0, 60.0)).known["shell_inertia_kg_m2"] for up in (60.0, 80.0)
    ]

    away = [(LENGTH - up - AXIS) / 1000 for up in (60.0, 80.0)]
    assert inertia[0] - inertia[1] == pytest.approx(0.015 * (away[0] ** 2 - away[1] ** 2), rel=1e-6)


def test_a_wall_as_thick_as_the_thickest_has_nothing_to_add():
    walls = [
        {"key": "dense", "label": "Dense", "wall_mm": 4.0, "density_kg_m3": 1400},
        {"key": "thin", "label": "Thin", "wall_mm": 4.0, "density_kg_m3": 1270},
    ]

    assert found({}, TARN | {"walls": walls}).known["thickest_adds_g"] == 0


def point(side: str, below_apex_mm: float | None) -> dict:
    return {"what": "port", "side": side, "below_apex_mm": below_apex_mm, "stays_open": True}


@pytest.mark.parametrize(
    ("side", "place", "covered"),
    [
        ("front", 0.001, True),
        ("front", 0.0, False),
        ("rear", LENGTH - 0.001, True),
        ("rear", LENGTH, False),
        ("rear", LENGTH + 1, False),
    ],
)
def test_as_long_as_no_top_and_no_rear_is_chosen_the_shell_covers_all_of_its_length(side, place, covered):
    known = {name: value for name, value in KNOWN.items() if name != "reach"}

    of = worked(known, Read(service_points=[point(side, place)]), TARN, SHELL).known
    assert of["service_covered"] is covered


def test_where_no_trim_lets_the_knee_bend_the_rear_counts_from_the_top():
    """Its thigh's rear surface lies further behind the axis than any of the shell's: even the bottom edge is met."""
    known = {"thigh_behind_axis_given": True, "thigh_behind_axis_mm": 2000.0}
    of = found(known, TARN, point("rear", 0.001)).known

    assert "rear_trim_start_mm" not in of
    assert of["rear_left"] is False
    assert of["service_covered"] is True


def pivots(*places: tuple[float, float]) -> dict:
    """Lower front and rear, upper front and rear, each in front of the axis and above the apex."""
    names = ("front_lower", "rear_lower", "front_upper", "rear_upper")
    pairs = zip(names, places, strict=True)
    return {
        f"{name}_{way}_mm": value
        for name, (forward, above) in pairs
        for way, value in (("forward", forward), ("below_apex", -above))
    }


PRINTED = (16.0, 0.0), (-16.0, 0.0), (2.0, 60.0), (-17.0, 45.0)  # published values 5.5


@pytest.mark.parametrize("most", [129, 130])
def test_a_knee_s_way_is_told_every_ten_degrees_and_at_its_end(most):
    way = found(pivots(*PRINTED) | {"flexion_used_deg": float(most)}).mechanism

    assert [place["flexion_deg"] for place in way] == [*range(0, most, 10), most]


def entered(**places: tuple[str, str]) -> dict:
    """An entry with these pivots, and a thigh side wider than any shell."""
    knee = {
        "named": "polycentric",
        "pivots_seen": "several",
        "control": "mechanical",
        "hardware_length": "60",
    }
    return entry_with(
        {
            "knee": knee | {"thigh_side_width": "200"},
            "pivots": {name: {"forward": x, "below_apex": y} for name, (x, y) in places.items()},
        }
    )


# Neither turns a whole degree. A parallelogram only swings over: its thigh link never turns. Of the other, half a
# degree on, the side links would stand upright, 40 and 60 long: parallel, and then the thigh link turns no further.
LOWER = {"lower_front": ("16", "0"), "lower_rear": ("-16", "0")}
STUCK = {
    "parallelogram": LOWER | {"upper_front": ("16", "-50"), "upper_rear": ("-16", "-50")},
    "nearly parallel": LOWER
    | {"upper_front": ("8.2426", "-39.2406"), "upper_rear": ("-23.5817", "-59.5191")},
}


@pytest.mark.parametrize("knee", STUCK)
def test_a_knee_that_cannot_turn_is_told_as_such_and_hides_no_other_flag(knee):
    says = {flag["id"]: flag["says"] for flag in reckon(entered(**STUCK[knee]), TARN)["flags"]}

    assert says["knee.pivots_lock"].endswith("It can't turn at all.")
    assert "200\u00a0mm wide" in says["knee.thigh_side_low"]


def test_the_way_of_a_knee_that_locks_at_once_is_where_it_stands():
    way = reckon(entered(**STUCK["nearly parallel"]), TARN)["mechanism"]

    assert [(place["flexion_deg"], place["front_pivot"]) for place in way] == [
        (0, {"forward_mm": 8.243, "below_apex_mm": -39.241})
    ]
