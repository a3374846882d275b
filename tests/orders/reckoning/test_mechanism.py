"""Held to the textbook linkages and the worked knee of the published values, 5.3 to 5.6."""

from math import atan2, cos, degrees, dist, hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from orders.reckoning.errors import OutOfRange
from orders.reckoning.mechanism import (
    TRANSLATING,
    Pivots,
    bent,
    instant_centre,
    link_lengths_mm,
    motion,
)

from .published import rows

KNEE = Pivots((16, 0), (-16, 0), (2, 60), (-17, 45))
KNEE_ROWS = rows("knee_linkage")

# A textbook linkage: ground 6, crank 2 at 30 deg, coupler 7, rocker 9; A and B are the coupler's ends.
TEXTBOOK = {
    "open": (
        (1.732051, 1),
        (1.874099, 7.998559),
        (4.623155, 2.669180),
        88.8372,
        117.2861,
        -0.599097,
        -0.399173,
    ),
    "crossed": (
        (1.732051, 1),
        (-1.249599, -5.333227),
        (27.882056, 16.097712),
        -115.2108,
        -143.6596,
        -0.066235,
        -0.266158,
    ),
}


@pytest.mark.parametrize("assembly", TEXTBOOK)
def test_textbook_linkage_turns_about_the_printed_centre(assembly):
    a, b, centre, *_ = TEXTBOOK[assembly]

    found = instant_centre(Pivots((0, 0), (6, 0), a, b))

    # A and B are printed to six decimals; the crossed side links meet at 3 deg, which costs two digits
    assert found == pytest.approx(centre, abs=2e-6 if assembly == "open" else 5e-4)


@pytest.mark.parametrize("assembly", TEXTBOOK)
def test_textbook_linkage_has_the_printed_speeds(assembly):
    a, b, _, _, _, coupler, rocker = TEXTBOOK[assembly]
    ix, iy = instant_centre(Pivots((0, 0), (6, 0), a, b))

    # the coupler's ends move about the centre as they do about their pivots
    coupler_speed = (a[0] * (a[0] - ix) + a[1] * (a[1] - iy)) / ((a[0] - ix) ** 2 + (a[1] - iy) ** 2)
    ratio = ((b[0] - ix) * (b[0] - 6) + (b[1] - iy) * b[1]) / ((b[0] - 6) ** 2 + b[1] ** 2)

    assert coupler_speed == pytest.approx(coupler, abs=2e-6)
    assert coupler_speed * ratio == pytest.approx(rocker, abs=2e-6)


@pytest.mark.parametrize("assembly", TEXTBOOK)
def test_textbook_linkage_closes_again_when_turned(assembly):
    a, b, _, coupler_deg, rocker_deg, *_ = TEXTBOOK[assembly]
    start = Pivots((0, 0), (6, 0), a, b)
    assert degrees(atan2(b[1] - a[1], b[0] - a[0])) == pytest.approx(coupler_deg, abs=1e-4)
    assert degrees(atan2(b[1], b[0] - 6)) == pytest.approx(rocker_deg, abs=1e-4)

    turned = bent(start, 8)

    assert link_lengths_mm(turned) == pytest.approx((6, 2, 9, 7), abs=1e-5)
    assert bent(turned, -8).front_upper == pytest.approx(a, abs=1e-9)


def test_textbook_problem_of_a_driven_crank():
    # AB 300 at 60 deg turning at 100 rpm, BC = CD = 360, AD 600 fixed. Exact values, printed to four decimals;
    # the book scales off its drawing and prints 6.282 rad/s, within 0.5 %.
    b, c = (150, 259.80762), (499.5994, 345.7162)

    centre = instant_centre(Pivots((0, 0), (600, 0), b, c))

    assert centre == pytest.approx((399.1987, 691.4325), abs=1e-3)
    assert dist(centre, b) == pytest.approx(498.3974, abs=1e-3)
    assert 10.471976 * 300 / dist(centre, b) == pytest.approx(6.303389, abs=2e-5)
    assert 10.471976 * 300 / dist(centre, b) == pytest.approx(6.282, rel=5e-3)


@pytest.mark.parametrize("row", KNEE_ROWS, ids=lambda row: f"{row['flexion']:g} deg")
def test_knee_stands_and_turns_as_printed(row):
    now = bent(KNEE, row["flexion"])

    # printed to three decimals
    assert now.front_upper == pytest.approx((row["cx"], row["cy"]), abs=6e-4)
    assert now.rear_upper == pytest.approx((row["dx"], row["dy"]), abs=6e-4)
    assert instant_centre(now) == pytest.approx((row["icx"], row["icy"]), abs=6e-4)


def test_knee_has_the_printed_links():
    # printed to six decimals
    assert link_lengths_mm(KNEE) == pytest.approx((32, 61.611687, 45.011110, 24.207437), abs=6e-7)


@given(st.floats(0, 140))
def test_links_keep_their_lengths(flexion_deg):
    assert link_lengths_mm(bent(KNEE, flexion_deg)) == pytest.approx(link_lengths_mm(KNEE), rel=1e-12)


@given(st.floats(1, 139))
def test_centre_is_where_the_thigh_stands_still(flexion_deg):
    centre = instant_centre(bent(KNEE, flexion_deg))
    back = carried(bent(KNEE, flexion_deg), centre, -0.01)
    forth = carried(bent(KNEE, flexion_deg), centre, 0.01)

    # a point 1 mm from the centre would move 3.5e-4 mm in these 0.02 deg; the centre moves in the second order
    assert dist(back, forth) < 1e-6


def test_front_pivot_reaches_forward_as_printed():
    # (15.5501, 61.6100) at 24.6 deg is the furthest forward and highest; 17.8 mm lower by 140 deg
    found = motion(KNEE, 140, step_deg=0.1)
    path = [stand.front_upper for stand in found.pivots]

    furthest = max(path)
    assert furthest == pytest.approx((15.5501, 61.6100), abs=1e-3)
    assert found.angles_deg[path.index(furthest)] == pytest.approx(24.6, abs=0.15)
    assert furthest[1] - path[-1][1] == pytest.approx(17.8, abs=0.05)
    assert (path[0], len(path)) == (pytest.approx(KNEE.front_upper), 1401)


def test_reach_of_the_thigh_side():
    found = motion(KNEE, 140)

    # C is the furthest forward (printed 15.5501), found in steps of 1 deg within the 0.004 mm that they may miss;
    # D the lowest, 36.889 at 60 deg among the printed rows
    assert found.most_forward_mm == pytest.approx(15.5501, abs=4e-3)
    assert 36.85 < found.lowest_mm <= 36.889
    assert found.bends_deg == 140


@pytest.mark.parametrize("row", KNEE_ROWS, ids=lambda row: f"{row['flexion']:g} deg")
def test_motion_passes_the_printed_centres(row):
    found = motion(KNEE, 140, step_deg=5)

    at = found.angles_deg.index(pytest.approx(row["flexion"]))
    # printed to three decimals
    assert found.centres[at] == pytest.approx((row["icx"], row["icy"]), abs=6e-4)


def test_steps_are_even_and_end_at_the_angle_asked():
    assert motion(KNEE, 95, step_deg=10).angles_deg == pytest.approx([9.5 * at for at in range(11)])


def carried(pivots, point, flexion_deg):
    """Where a point fixed to the thigh side, given as it stands at full extension, comes to lie. [mm]"""
    after = bent(pivots, flexion_deg)
    turn = radians(flexion_deg)
    x, y = point[0] - pivots.front_upper[0], point[1] - pivots.front_upper[1]
    return (
        after.front_upper[0] + x * cos(turn) - y * sin(turn),
        after.front_upper[1] + x * sin(turn) + y * cos(turn),
    )


def test_hip_and_ankle_come_as_near_as_printed():
    # published values 5.5: hip (0, 450) on the thigh, ankle (0, -400): 733.747 at 60 deg, 311.607 at 140
    for flexion_deg, apart in ((0, 850), (30, 818.730), (60, 733.747), (140, 311.607)):
        assert dist(carried(KNEE, (0, 450), flexion_deg), (0, -400)) == pytest.approx(apart, abs=6e-4)


def test_single_pin_is_its_own_centre():
    pin = Pivots((0, 45), (-16, 0), (0, 45), (-17, 60))

    assert instant_centre(pin) == (0, 45)


def test_parallelogram_is_told_as_translating():
    parallelogram = Pivots((16, 0), (-16, 0), (20, 60), (-12, 60))

    assert instant_centre(parallelogram) == TRANSLATING
    with pytest.raises(OutOfRange, match="linkage that can turn"):
        bent(parallelogram, 5)


@pytest.mark.parametrize(("sine", "parallel"), [(0.995e-9, True), (1.005e-9, False)])
def test_links_are_parallel_up_to_their_limit(sine, parallel):
    found = instant_centre(Pivots((0, 0), (-1, 0), (0, 1), (-1 + sine, 1)))

    assert (found == TRANSLATING) is parallel


@pytest.mark.parametrize("row", KNEE_ROWS, ids=lambda row: f"{row['flexion']:g} deg")
def test_knee_a_thousandth_of_the_size_goes_the_same_way(row):
    small = Pivots(*((x / 1000, y / 1000) for x, y in KNEE))

    # printed to three decimals of the large one
    assert bent(small, row["flexion"]).front_upper == pytest.approx(
        (row["cx"] / 1000, row["cy"] / 1000), abs=6e-7
    )


def test_trapezoid_turns_about_the_tip_of_its_triangle():
    # base 40, top 20, height 30: on the axis, 30·40/(40 − 20) = 60 above the base
    assert instant_centre(Pivots((20, 0), (-20, 0), (10, 30), (-10, 30))) == pytest.approx((0, 60), abs=1e-12)


def test_crossed_equal_links_turn_on_an_ellipse():
    # sides 40, crossing links 60; the link from B at 60 deg to AB meets the other at (27.5, 21.6506) from A,
    # and everywhere the distances to A and B add up to the crossing link (an ellipse with foci A and B)
    a, b = (0.0, 0.0), (40.0, 0.0)
    d = (40 - 60 * 0.5, 60 * 3**0.5 / 2)
    c = _where_circles_meet(a, 60, d, 40)
    crossed = Pivots(a, b, c, d)

    assert instant_centre(crossed) == pytest.approx((27.5, 21.6506), abs=6e-5)
    for flexion_deg in (-15, 0, 15):
        centre = instant_centre(bent(crossed, flexion_deg))
        assert dist(centre, a) + dist(centre, b) == pytest.approx(60, rel=1e-9)


def _where_circles_meet(p, p_radius, q, q_radius):
    """The meeting point to the right of the way from p to q."""
    span = dist(p, q)
    along = (p_radius**2 - q_radius**2 + span**2) / (2 * span)
    aside = (p_radius**2 - along**2) ** 0.5
    ux, uy = (q[0] - p[0]) / span, (q[1] - p[1]) / span
    assert hypot(ux, uy) == pytest.approx(1)
    return p[0] + along * ux + aside * uy, p[1] + along * uy - aside * ux


def told(moved):
    return [[angle, [list(pivot) for pivot in stand], None if centre == TRANSLATING else list(centre)]
            for angle, stand, centre in zip(moved.angles_deg, moved.pivots, moved.centres, strict=True)]  # fmt: skip


@pytest.mark.parametrize("flexion_deg", [30, 92.5, 140, 180])
def test_twin_goes_the_same_way(js, flexion_deg):
    knees = [
        KNEE,
        Pivots((20, -36), (-26, -48), (21, 26), (-17, 24)),
        Pivots((0, 0), (-40, 0), (-10, 20), (-30, 20)),
    ]

    ways = js("geometry/mechanism.js").map("motion", [[knee, flexion_deg] for knee in knees])

    for knee, way in zip(knees, ways, strict=True):
        for ours, theirs in zip(told(motion(knee, flexion_deg)), way, strict=True):
            assert theirs["angle"] == pytest.approx(ours[0], rel=1e-12)
            for pivot, other in zip(ours[1], theirs["stand"], strict=True):
                assert other == pytest.approx(pivot, rel=1e-9, abs=1e-9)
            # where the side links are all but parallel the centre flies off, and the last bits with it
            assert theirs["centre"] == (ours[2] and pytest.approx(ours[2], rel=1e-6, abs=1e-6))


def test_twin_refuses_what_cannot_turn(js):
    with pytest.raises(Exception, match="linkage that can turn"):
        js("geometry/mechanism.js").call("motion", [[16, 0], [-16, 0], [20, 60], [-12, 60]], 90)


def test_knee_that_locks_says_so():
    stiff = Pivots((16, 0), (-16, 0), (10, 30), (-60, 30))

    with pytest.raises(OutOfRange, match="flexion_deg"):
        bent(stiff, 120)
    # by hand: links 30.6 and 53.3 between pivots 32 apart and a thigh link of 70 lie in line, the front one and the
    # thigh one against the rear one and the ground, before 120 deg
    locks = motion(stiff, 120)
    assert 0 < locks.bends_deg < 120
    assert len(locks.pivots) == len(locks.centres) == round(locks.bends_deg) + 1


@pytest.mark.parametrize("scale", [0.01, 100])
def test_a_linkage_bends_alike_at_any_size(scale):
    scaled = Pivots(*((scale * x, scale * y) for x, y in KNEE))

    for flexion_deg in (10, 45, 90):
        found, plain = bent(scaled, flexion_deg), bent(KNEE, flexion_deg)
        for pivot, same in zip(found, plain, strict=True):
            assert pivot == pytest.approx([scale * x for x in same], rel=1e-9)


@pytest.mark.parametrize("scale", [0.01, 1])
def test_a_linkage_bends_alike_in_the_mirror(scale):
    mirrored = Pivots(*((-scale * x, scale * y) for x, y in KNEE))

    for flexion_deg in (10, 45, 90):
        found, plain = bent(mirrored, -flexion_deg), bent(KNEE, flexion_deg)
        for pivot, (x, y) in zip(found, plain, strict=True):
            assert pivot == pytest.approx((-scale * x, scale * y), rel=1e-9)
