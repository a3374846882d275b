from dataclasses import asdict
from math import pi, radians, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator
from shapely import Point, Polygon, box

from orders.reckoning.errors import OutOfRange
from orders.reckoning.outline import (
    Station,
    hardware_clearance_mm,
    house_profile,
    inside_breadth_mm,
    inside_girths_mm,
    place_t,
    station_at,
    stations,
    stop_clearance_mm,
)
from orders.reckoning.section import perimeter_mm

from .published import rows

LENGTHS = st.floats(200, 480)
GIRTHS = st.floats(230, 540)
PROFILE = [row for row in rows("girth_profile") if row["t"] >= 0.1][::-1]


def test_girths_follow_the_published_profile():
    made = stations(400, 385)

    assert len(made) == 19
    assert [s.girth_mm for s in made] == pytest.approx([385 * row["girth"] for row in PROFILE], rel=1e-12)


def test_stations_run_from_top_to_bottom_edge():
    made = stations(401, 385)

    # t falls by 0.05 from 1.00 to 0.10: eighteen even steps
    assert [s.below_top_mm for s in made] == pytest.approx([401 / 18 * n for n in range(19)], abs=1e-9)
    assert (made[0].below_top_mm, made[-1].below_top_mm) == (0, 401)


def test_sections_are_near_the_mesh_they_come_from():
    # published values 3: an ellipse of the girth stands in for the mesh's section; its axes differ from the
    # mesh's own by up to 2.1 % of their size (a calf is not an ellipse)
    for station, row in zip(stations(400, 385), PROFILE, strict=True):
        assert station.breadth_mm == pytest.approx(385 * row["ml"], rel=0.021)
        assert station.depth_mm == pytest.approx(385 * row["ap"], rel=0.021)


@given(LENGTHS, GIRTHS)
def test_each_section_has_its_girth(length_mm, girth_mm):
    for station in stations(length_mm, girth_mm):
        assert perimeter_mm(station.breadth_mm / 2, station.depth_mm / 2) == pytest.approx(
            station.girth_mm, rel=1e-12
        )
        assert station.front_mm - station.rear_mm == pytest.approx(station.depth_mm, rel=1e-12)


def test_depth_over_breadth_is_1_07_at_the_widest():
    widest = max(stations(400, 385), key=lambda s: s.girth_mm)

    assert widest.girth_mm == 385
    assert widest.below_top_mm == pytest.approx(400 / 3)
    assert widest.depth_mm / widest.breadth_mm == pytest.approx(1.07, rel=1e-12)


def test_front_line_is_the_drawings_and_scales_with_the_girth():
    # points of the drawing that fall on stations: the top, half-way down, the bottom edge
    for girth_mm in (385, 300):
        made = stations(400, girth_mm)
        fronts = [made[0].front_mm, made[9].front_mm, made[18].front_mm]
        assert fronts == pytest.approx([x * girth_mm / 385 for x in (46, 44.5, 43)], rel=1e-12)


def test_front_as_measured_moves_the_whole_line():
    plain, measured = stations(400, 385), stations(400, 385, front_at_apex_mm=52)

    assert measured[0].front_mm == pytest.approx(52)
    for a, b in zip(plain, measured, strict=True):
        assert (b.front_mm - a.front_mm, b.rear_mm - a.rear_mm) == pytest.approx((6, 6))
        assert (b.breadth_mm, b.depth_mm) == (a.breadth_mm, a.depth_mm)


def test_extra_girths_are_met_where_they_were_taken():
    # 20 % under the profile at two stations: t = 0.30 and 0.15
    plain = stations(400, 385)
    extra = [
        (plain[14].below_top_mm, plain[14].girth_mm * 0.8),
        (plain[17].below_top_mm, plain[17].girth_mm * 0.9),
    ]

    made = stations(400, 385, extra)

    ratios = [m.girth_mm / p.girth_mm for m, p in zip(made, plain, strict=True)]
    assert (ratios[14], ratios[17]) == pytest.approx((0.8, 0.9))
    assert ratios[:7] == pytest.approx([1] * 7)  # flat beyond the widest place
    assert ratios[18] == pytest.approx(0.9)  # flat beyond the lowest one taken
    expected = PchipInterpolator([0.15, 0.30, 0.70], [0.9, 0.8, 1.0])([0.5, 0.4, 0.2])
    assert [ratios[10], ratios[12], ratios[16]] == pytest.approx(list(expected), rel=1e-9)


def test_widest_place_keeps_its_girth_whatever_is_taken_there():
    made = stations(400, 385, [(400 / 3, 350), (300, 240)])

    assert max(s.girth_mm for s in made) == pytest.approx(385)


def test_girths_outside_the_profile_say_nothing_about_the_shell():
    assert stations(400, 385, [(-30, 400), (440, 200)]) == stations(400, 385)


def test_two_girths_at_one_place_count_as_their_mean():
    assert stations(400, 385, [(300, 230), (300, 250)]) == stations(400, 385, [(300, 240)])


@pytest.mark.parametrize("girth", [0, -3, float("nan")])
def test_extra_girth_of_nothing_is_refused(girth):
    with pytest.raises(OutOfRange, match="extra_girth_mm"):
        stations(400, 385, [(300, girth)])


@pytest.mark.parametrize(
    ("length", "girth", "name"), [(0, 385, "length"), (400, -1, "girth"), (400, float("nan"), "girth")]
)
def test_outline_of_nothing_is_refused(length, girth, name):
    with pytest.raises(OutOfRange, match=name):
        stations(length, girth)


def test_place_along_the_profile():
    assert [place_t(mm, 450) for mm in (0, 150, 450)] == pytest.approx([1, 0.7, 0.1])


def test_station_between_two_lies_on_their_line():
    made = stations(360, 385)

    middle = station_at(made, 30)

    assert middle.girth_mm == pytest.approx((made[1].girth_mm + made[2].girth_mm) / 2)
    assert station_at(made, 0) == made[0]
    assert asdict(station_at(made, 360)) == pytest.approx(asdict(made[-1]))
    with pytest.raises(OutOfRange, match="from 0"):
        station_at(made, 361)


def test_inside_is_the_wall_further_in():
    made = stations(400, 385)

    assert inside_girths_mm(made, 4) == pytest.approx([s.girth_mm - 8 * pi for s in made])
    assert inside_breadth_mm(made, 4, 0) == pytest.approx(made[0].breadth_mm - 8)


@pytest.mark.parametrize(
    ("width", "depth", "start", "end", "forward", "outward"),
    [
        (60, 70, 0, 100, 0, 0),
        (30, 30, 0, 400, 3, 0),
        (62, 57, 330, 400, 0, 2),
        (110, 100, 0, 60, 0, 0),
        (0, 0, 200, 200, 0, 0),
    ],
)
def test_hardware_clearance_is_the_distance_to_the_curve_moved_inward(
    width, depth, start, end, forward, outward
):
    made, wall = stations(400, 385), 4.0

    room = hardware_clearance_mm(made, wall, width, depth, start, end, forward, outward)

    places = sorted({start, end, *(s.below_top_mm for s in made if start < s.below_top_mm < end)})
    rooms = [_room_by_shapely(station_at(made, at), wall, width, depth, forward, outward) for at in places]
    # shapely's polygon of 3600 corners lies within 1e-4 mm of the curve
    assert room == pytest.approx(min(rooms), abs=2e-4)


def _room_by_shapely(section, wall, width, depth, forward, outward):
    angle = np.linspace(0, 2 * pi, 3600, endpoint=False)
    centre = (section.front_mm + section.rear_mm) / 2
    ring = np.column_stack(
        [centre + section.depth_mm / 2 * np.cos(angle), section.breadth_mm / 2 * np.sin(angle)]
    )
    inside = Polygon(ring).buffer(-wall, quad_segs=32)
    x, y = -tan(radians(forward)) * section.below_top_mm, tan(radians(outward)) * section.below_top_mm
    part = box(x - depth / 2, y - width / 2, x + depth / 2, y + width / 2)
    if inside.contains(part):
        return inside.exterior.distance(part)
    corners = [
        inside.exterior.distance(Point(p)) for p in part.exterior.coords if not inside.contains(Point(p))
    ]
    return -max(corners)


def test_leaning_pylon_shifts_the_hardware():
    # 3 deg over 400 mm is 21 mm: 400 tan 3 deg = 20.963. A round section, so that every way counts the same
    round_leg = [Station(at, 377, 120, 120, 60, -60) for at in (0, 200, 400)]

    upright = hardware_clearance_mm(round_leg, 4, 0, 0, 400, 400)
    leaning = [
        hardware_clearance_mm(round_leg, 4, 0, 0, 400, 400, *lean)
        for lean in ((3, 0), (-3, 0), (0, 3), (0, -3))
    ]

    assert upright == pytest.approx(56)
    assert leaning == pytest.approx([56 - 20.963] * 4, abs=1e-3)


def test_pylon_that_leans_forward_goes_back_on_the_way_down():
    # room behind, none in front: the top leaning forward takes the lower end away from the front
    made = [Station(at, 377, 120, 120, 20, -100) for at in (0, 200, 400)]

    assert hardware_clearance_mm(made, 4, 0, 0, 400, 400, 3) == pytest.approx(16 + 20.963, abs=1e-3)
    assert hardware_clearance_mm(made, 4, 0, 0, 400, 400, -3) == pytest.approx(16 - 20.963, abs=1e-3)


def test_stop_clearance_is_taken_from_the_inside_of_the_front():
    made = stations(400, 385)

    # the front is 46 mm in front of the axis at the apex; 46 - 4 - 33 = 9
    assert stop_clearance_mm(made, 4, 0, 33) == pytest.approx(9)


def test_hardware_that_ends_above_its_start_is_refused():
    with pytest.raises(OutOfRange, match="to_mm"):
        hardware_clearance_mm(stations(400, 385), 4, 60, 60, 100, 50)


CASES = [
    [401.0, 384.5],
    [274.0, 300.0, [[200.0, 190.0], [250.0, 180.0]]],
    [374.0, 392.3, [[330.0, 231.0], [-40.0, 300.0], [330.0, 235.0]], 52.5],
]


@pytest.mark.parametrize("case", CASES, ids=lambda case: str(case[0]))
def test_twin_makes_the_same_stations(js, case):
    made = js("geometry/outline.js").call("stations", *case)

    expected = stations(*case)
    assert len(made) == len(expected)
    for theirs, ours in zip(made, expected, strict=True):
        assert theirs == pytest.approx(asdict(ours), rel=1e-9)


# A workshop's own, fuller below and rounder than the common one; made up.
SHARES = [0.95] * 6 + [1] + [0.99 - 0.03 * n for n in range(12)]
ROUND = [1.0 + 0.01 * n for n in range(19)]


def test_house_profile_takes_the_place_of_the_common_one():
    made = stations(400, 385, profile=house_profile(SHARES, ROUND))

    assert [s.girth_mm for s in made] == pytest.approx([385 * share for share in SHARES], rel=1e-12)
    assert [s.depth_mm / s.breadth_mm for s in made] == pytest.approx(ROUND, rel=1e-12)
    common = ([row["girth"] for row in PROFILE], [s.depth_mm / s.breadth_mm for s in stations(400, 385)])
    for station, same in zip(
        stations(400, 385, profile=house_profile(*common)), stations(400, 385), strict=True
    ):
        assert asdict(station) == pytest.approx(asdict(same), rel=1e-12)


def test_house_profile_is_pulled_through_what_was_measured():
    # two thirds down, t = 0.40, the thirteenth station
    made = stations(400, 385, [(400 * 12 / 18, 300)], profile=house_profile(SHARES, ROUND))

    assert (made[6].girth_mm, made[12].girth_mm) == pytest.approx((385, 300), rel=1e-12)


def test_house_profile_is_pulled_through_a_girth_at_either_end_of_the_shell():
    for length_mm in (300, 374, 387, 401):
        made = stations(length_mm, 385, [(0, 350), (length_mm, 200)], profile=house_profile(SHARES, ROUND))

        assert (made[0].girth_mm, made[-1].girth_mm) == pytest.approx((350, 200), rel=1e-9)


def test_twin_makes_the_same_stations_by_a_house_profile(js):
    module = js("geometry/outline.js")
    profile, extra = house_profile(SHARES, ROUND), [[330.0, 231.0], [100.0, 380.0], [374.0, 210.0]]
    assert module.call("houseProfile", SHARES, ROUND) == [list(row) for row in profile]

    made = module.call("stations", 374.0, 392.3, extra, 52.5, [list(row) for row in profile])

    for theirs, ours in zip(made, stations(374.0, 392.3, extra, 52.5, profile), strict=True):
        assert theirs == pytest.approx(asdict(ours), rel=1e-9)


def test_twin_gives_the_same_clearances(js):
    made = stations(401, 384.5, front_at_apex_mm=50)
    plain = [asdict(s) for s in made]
    hardware = [
        [4.0, 60.0, 70.0, 0.0, 108.0, 0.0, 0.0],
        [7.5, 62.0, 57.0, 330.0, 401.0, 3.0, -2.0],
        [4.0, 150.0, 90.0, 10.0, 10.0],
    ]
    module = js("geometry/outline.js")

    assert module.map("hardwareClearanceMm", [[plain, *row] for row in hardware]) == pytest.approx(
        [hardware_clearance_mm(made, *row) for row in hardware], rel=1e-9
    )
    assert module.call("stopClearanceMm", plain, 4, 20, 31) == pytest.approx(
        stop_clearance_mm(made, 4, 20, 31), rel=1e-9
    )
    assert module.call("insideBreadthMm", plain, 4, 77) == pytest.approx(
        inside_breadth_mm(made, 4, 77), rel=1e-9
    )
    assert module.call("insideGirthsMm", plain, 4) == pytest.approx(inside_girths_mm(made, 4), rel=1e-9)
    assert module.call("placeT", 130, 401) == pytest.approx(place_t(130, 401), rel=1e-9)


def test_an_extra_girth_at_the_very_top_is_the_top_s():
    assert stations(400, 380, [(0, 350)])[0].girth_mm == pytest.approx(350, rel=1e-12)


@pytest.mark.parametrize("below_mm", [10, 410])
def test_an_extra_girth_near_an_end_pulls_that_end(below_mm):
    # 10 below the top, where t is 0.9775; and 10 below the bottom edge, t 0.0775, where the profile still goes on
    end = -1 if below_mm == 410 else 0
    plain, pulled = stations(400, 380)[end], stations(400, 380, [(below_mm, 300)])[end]

    assert abs(pulled.girth_mm - plain.girth_mm) > 10


def test_two_stations_are_an_outline_and_one_is_not():
    cut = [stations(400, 380)[0], stations(400, 380)[-1]]

    assert station_at(cut, 200).girth_mm == pytest.approx((cut[0].girth_mm + cut[1].girth_mm) / 2)
    with pytest.raises(OutOfRange, match="two stations or more"):
        station_at(cut[:1], 0)
    with pytest.raises(OutOfRange, match=r"from 0.* to 400"):
        station_at(cut, 401)
