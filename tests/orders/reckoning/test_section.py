from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ellipe
from shapely import Point, Polygon

from orders.reckoning.errors import OutOfRange
from orders.reckoning.section import (
    area_mm2,
    axes_mm,
    depth_inside_mm,
    inside_girth_mm,
    midwall_girth_mm,
    perimeter_mm,
    wall_area_mm2,
)

from .published import rows

HALVES = st.floats(1, 200)
GIRTHS = st.floats(100, 800)
RATIOS = st.floats(0.5, 2)


@pytest.mark.parametrize("row", rows("ellipse_perimeter"), ids=lambda row: f"{row['a']}x{row['b']}")
def test_perimeter_is_as_printed(row):
    # printed to nine decimals
    assert perimeter_mm(row["a"], row["b"]) == pytest.approx(row["perimeter"], abs=6e-10)


@given(HALVES, HALVES)
def test_perimeter_is_the_elliptic_integral(a, b):
    # scipy.special.ellipe is good to a few bits; so is the mean
    a, b = max(a, b), min(a, b)
    assert perimeter_mm(b, a) == pytest.approx(4 * a * ellipe(1 - (b / a) ** 2), rel=1e-13)


@pytest.mark.parametrize(
    "row", rows("girth_axes"), ids=lambda row: f"{row['girth']}/{row['depth_over_breadth']}"
)
def test_axes_and_area_are_as_printed(row):
    breadth, depth = axes_mm(row["girth"], row["depth_over_breadth"])

    # axes are printed to four decimals, the area to two
    assert (breadth, depth) == pytest.approx((row["breadth"], row["depth"]), abs=6e-5)
    assert area_mm2(breadth, depth) == pytest.approx(row["area"], abs=6e-3)


@given(GIRTHS, RATIOS)
def test_axes_give_the_girth_back(girth_mm, ratio):
    breadth, depth = axes_mm(girth_mm, ratio)

    assert perimeter_mm(breadth / 2, depth / 2) == pytest.approx(girth_mm, rel=1e-13)
    assert depth / breadth == pytest.approx(ratio, rel=1e-15)


@pytest.mark.parametrize("row", rows("wall_girths"), ids=lambda row: f"wall {row['wall']}")
def test_wall_girths_are_as_printed(row):
    # printed to six decimals
    assert midwall_girth_mm(row["girth"], row["wall"]) == pytest.approx(row["midwall"], abs=6e-7)
    assert inside_girth_mm(row["girth"], row["wall"]) == pytest.approx(row["inside"], abs=6e-7)
    assert wall_area_mm2(row["girth"], row["wall"]) == pytest.approx(row["area"], abs=6e-7)


@pytest.mark.parametrize("wall_mm", [2.0, 4.0, 7.5])
def test_inside_girth_is_that_of_the_curve_moved_inward(wall_mm):
    breadth, depth = axes_mm(385, 1.07)
    inside = _ellipse(breadth, depth).buffer(-wall_mm, quad_segs=64)

    # shapely works on a polygon of 7200 corners, whose perimeter is short by about 1e-7 of itself
    assert inside.length == pytest.approx(inside_girth_mm(385, wall_mm), rel=1e-6)


@given(st.floats(-70, 70), st.floats(-70, 70), st.floats(60, 130), st.floats(60, 130))
def test_depth_inside_is_the_distance_to_the_edge(x_mm, y_mm, breadth_mm, depth_mm):
    edge, point = _ellipse(breadth_mm, depth_mm), Point(x_mm, y_mm)
    distance = edge.exterior.distance(point)
    signed = distance if edge.contains(point) else -distance

    # the polygon's 7200 chords lie within 2.5e-5 mm of an ellipse of this size
    assert depth_inside_mm(x_mm, y_mm, breadth_mm, depth_mm) == pytest.approx(signed, abs=5e-5)


@pytest.mark.parametrize(
    ("x", "y", "breadth", "depth", "inside"),
    [
        (0, 0, 118, 127, 59),
        (0, 0, 127, 118, 59),
        (63.5, 0, 118, 127, 0),
        (70, 0, 118, 127, -6.5),
        (0, 50, 118, 127, 9),
        (3, 4, 120, 120, 55),
        (0, 0, 120, 120, 60),
        (0, 70, 120, 120, -10),
        (1e-101, 1e-122, 60, 60, 30),
        (10, 1e-14, 118, 127, None),  # as on the axis
    ],
)
def test_depth_inside_on_the_axes(x, y, breadth, depth, inside):
    on_axis = depth_inside_mm(x, 0, breadth, depth) if inside is None else inside

    assert depth_inside_mm(x, y, breadth, depth) == pytest.approx(on_axis, abs=1e-12)


def test_wall_thicker_than_the_section_is_refused():
    with pytest.raises(OutOfRange, match="wall_mm"):
        inside_girth_mm(100, 16)
    with pytest.raises(OutOfRange, match="wall_mm"):
        inside_girth_mm(100, -1)


@pytest.mark.parametrize("value", [0, -1, float("nan"), float("inf")])
def test_axes_of_no_girth_are_refused(value):
    with pytest.raises(OutOfRange, match="girth_mm"):
        axes_mm(value, 1.07)


def test_twin_gives_the_same(js):
    section = js("geometry/section.js")
    sizes = [[a, b] for a in (1.0, 42.5, 59.0, 63.3, 180.0) for b in (1.5, 59.0, 64.0)]
    points = [
        [x, y, 118.2, 126.5] for x in (-70.0, -3.0, 0.0, 10.0, 63.25) for y in (0.0, 5.0, 40.0, 59.1, 80.0)
    ]
    points += [[y, x, d, b] for x, y, b, d in points]

    assert section.map("perimeterMm", sizes) == pytest.approx([perimeter_mm(*row) for row in sizes], rel=1e-9)
    girths = [[380.0, 1.07], [231.4, 1.357], [100.0, 0.5]]
    assert np.array(section.map("axesMm", girths)) == pytest.approx(
        np.array([axes_mm(*r) for r in girths]), rel=1e-9
    )
    depths = [depth_inside_mm(*row) for row in points]
    assert section.map("depthInsideMm", points) == pytest.approx(depths, rel=1e-9, abs=1e-9)
    assert section.call("insideGirthMm", 384.5, 4.0) == pytest.approx(384.5 - 8 * pi, rel=1e-12)


def _ellipse(breadth_mm, depth_mm):
    angle = np.linspace(0, 2 * pi, 7200, endpoint=False)
    return Polygon(np.column_stack([depth_mm / 2 * np.cos(angle), breadth_mm / 2 * np.sin(angle)]))


def test_a_wall_that_leaves_anything_inside_is_taken():
    # 2 pi times a wall of 4
    assert inside_girth_mm(2 * pi * 4 + 0.5, 4) == pytest.approx(0.5, abs=1e-12)
    with pytest.raises(OutOfRange, match="wall"):
        inside_girth_mm(2 * pi * 4, 4)


@pytest.mark.parametrize("x", [-2, -1, 0, 1, 2])
@pytest.mark.parametrize("y", [0, 1, 20])
def test_depth_near_the_axes_is_shapely_s(x, y):
    angle = np.arange(200_000) * (2 * pi / 200_000)
    ring = Polygon(np.column_stack([63 * np.cos(angle), 59 * np.sin(angle)])).exterior

    # chords of 2e-3 mm lie 1e-8 within the ellipse
    assert depth_inside_mm(x, y, 118, 126) == pytest.approx(ring.distance(Point(x, y)), abs=1e-6)
