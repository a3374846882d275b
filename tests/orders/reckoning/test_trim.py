from dataclasses import asdict
from math import cos, pi, radians, sin

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from orders.reckoning.errors import OutOfRange
from orders.reckoning.outline import Station, station_at, stations
from orders.reckoning.trim import (
    _met_until,
    flexion_at_contact_deg,
    least_below_axis_mm,
    rear_trim_mm,
)

from .published import rows

ROWS = rows("rear_edge")


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"a{row['a']:g} b{row['b']:g} s{row['s']:g}")
def test_contact_is_as_printed(row):
    # angles are printed to 1e-4 deg; the depths of the last four rows to 1e-4 mm, worth up to 1e-4 deg
    found = flexion_at_contact_deg(row["s"], row["a"], row["b"])

    assert found == pytest.approx(row["flexion"], abs=1.2e-4)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"a{row['a']:g} b{row['b']:g} to {row['flexion']:g}")
def test_least_depth_is_as_printed(row):
    # both s and the angle are printed to four decimals, worth up to 1.5e-4 mm here
    found = least_below_axis_mm(row["a"], row["b"], row["flexion"])

    assert found == pytest.approx(row["s"], abs=2e-4)


@given(st.floats(20, 120), st.floats(20, 120), st.floats(5, 170))
def test_least_depth_is_clear_and_no_less_is(thigh_mm, edge_mm, flexion_deg):
    least = least_below_axis_mm(thigh_mm, edge_mm, flexion_deg)

    # 1e-6 deg: the arc cosine loses half the digits where the edge touches square on
    assert flexion_at_contact_deg(least, thigh_mm, edge_mm) >= flexion_deg - 1e-5
    if least > 0.1:
        assert flexion_at_contact_deg(least - 0.1, thigh_mm, edge_mm) < flexion_deg


@given(st.floats(30, 90), st.floats(60, 150), st.floats(25, 60))
def test_trim_of_a_straight_rear_is_the_least_depth(thigh_mm, flexion_deg, axis_below_mm):
    straight = [Station(at, 380, 118, 126, 46, -80) for at in range(0, 2001, 20)]
    least = least_below_axis_mm(thigh_mm, 80 - 6, flexion_deg)
    assume(axis_below_mm + least < 1999)

    trim = rear_trim_mm(straight, thigh_mm, flexion_deg, axis_below_mm)

    assert trim == pytest.approx(axis_below_mm + least, rel=1e-9)


@pytest.mark.parametrize("flexion_deg", [60, 90, 110, 120, 130, 140])
@pytest.mark.parametrize("thigh_mm", [40, 60, 75])
def test_trim_of_an_outline_leaves_all_below_it_clear(thigh_mm, flexion_deg):
    outline = stations(401, 384.5)

    trim = rear_trim_mm(outline, thigh_mm, flexion_deg, 35)

    # the thigh as a half-plane turned about the axis: a plain search down the rear, in 0.05 mm
    met = [
        mm / 20 for mm in range(35 * 20, 401 * 20) if _thigh_covers(outline, mm / 20, thigh_mm, flexion_deg)
    ]
    expected = max(met, default=None)
    if trim is None:
        assert expected == pytest.approx(401, abs=0.06)
    else:
        assert trim == pytest.approx(35 if expected is None else expected, abs=0.06)


def _thigh_covers(outline, below_top_mm, thigh_mm, flexion_deg):
    """Whether the straight thigh, bent so far, would lie over this place of the rear."""
    behind, below = -6 - station_at(outline, below_top_mm).rear_mm, below_top_mm - 35
    f = radians(flexion_deg)
    back = behind * cos(f) + below * sin(f)  # in the thigh's own frame
    up = behind * sin(f) - below * cos(f)
    return back < thigh_mm and up > 0


def test_trim_is_not_above_the_axis():
    assert rear_trim_mm(stations(401, 384.5), 10, 20, 35) == 35


def test_no_trim_is_enough_for_a_thigh_that_stands_far_back():
    assert rear_trim_mm(stations(401, 384.5), 300, 160, 35) is None


@pytest.mark.parametrize(
    ("thigh", "flexion", "name"),
    [(0, 130, "thigh"), (60, 0, "flexion"), (60, 180, "flexion"), (60, float("nan"), "flexion")],
)
def test_what_cannot_be_is_refused(thigh, flexion, name):
    with pytest.raises(OutOfRange, match=name):
        rear_trim_mm(stations(401, 384.5), thigh, flexion, 35)


def test_twin_trims_the_same(js):
    outline = stations(401, 384.5, [(330, 220)])
    plain = [asdict(s) for s in outline]
    asked = [
        [60.0, 130.0, 35.0],
        [60.0, 90.0, 35.0],
        [45.0, 120.0, 40.0, 3.0],
        [10.0, 20.0, 35.0],
        [300.0, 160.0, 35.0],
    ]
    edges = [[a, b, f] for a in (40.0, 60.0, 80.0) for b in (50.0, 60.0, 85.0) for f in (30.0, 90.0, 130.0)]
    module = js("geometry/trim.js")

    assert module.map("rearTrimMm", [[plain, *row] for row in asked]) == [
        None if trim is None else pytest.approx(trim, rel=1e-9)
        for trim in (rear_trim_mm(outline, *row) for row in asked)
    ]
    least = [least_below_axis_mm(*row) for row in edges]
    assert module.map("leastBelowAxisMm", edges) == pytest.approx(least, rel=1e-9, abs=1e-9)
    contact = [[s, a, b] for a, b, s in edges]
    assert module.map("flexionAtContactDeg", contact) == pytest.approx(
        [flexion_at_contact_deg(*row) for row in contact], rel=1e-9
    )


def test_least_depth_just_past_a_right_angle_is_beyond_the_thigh_s_surface():
    # s sin(f) + b cos(f) = a, with a = b = 60 and f = 90.5: s = 60 (1 + sin 0.5) / cos 0.5
    expected = 60 * (1 + sin(radians(0.5))) / cos(radians(0.5))

    assert least_below_axis_mm(60, 60, 90.5) == pytest.approx(expected, rel=1e-12)


def edge(beyond_mm: float, ahead_mm: float, thigh_mm: float, turned: float) -> tuple[float, float]:
    """The point (s, b) so far beyond the thigh's surface, and ahead of where it comes round to: turned back."""
    along = beyond_mm + thigh_mm
    return along * sin(turned) + ahead_mm * cos(turned), along * cos(turned) - ahead_mm * sin(turned)


@pytest.mark.parametrize(
    ("above", "below", "share"),
    [
        # beyond and ahead of the thigh at both ends of a line, and where it is met along it, by similar triangles
        ((-6, -9), (4, -9), 0.6),
        ((-6, -9), (-6, 1), 0.9),
        ((-6, -9), (14, 1), 0.3),
        ((0.4, -9), (0.4, -9), None),
        ((5, -9), (0.4, -9), None),
        ((-6, 3), (-6, 0.4), None),
        ((0.5, -1), (-0.1, 9), None),
        ((5, -9), (-5, -9), 1),
        ((-6, 3), (-6, -3), 1),
        ((-6, -9), (-1, -9), 1),
    ],
)
def test_a_line_is_met_as_far_down_as_similar_triangles_say(above, below, share):
    turned = radians(30)
    ends = (edge(*end, 60, turned) for end in (above, below))

    assert _met_until(*ends, 60, turned) == (share if share is None else pytest.approx(share, abs=1e-9))


def test_an_edge_that_just_touches_is_clear():
    # at a right angle the thigh's surface lies level, 60 below the axis: exactly as low as the edge
    assert _met_until((60.0, 40.0), (165.0, 40.0), 60.0, pi / 2) is None
    assert _met_until((165.0, 40.0), (60.0, 40.0), 60.0, pi / 2) is None
