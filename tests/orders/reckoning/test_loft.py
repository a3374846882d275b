from math import pi

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator
from scipy.spatial import cKDTree

from orders.reckoning.errors import OutOfRange
from orders.reckoning.loft import Loft
from orders.reckoning.outline import Station, stations

from .bodies import cone

LEG = stations(401, 384.5)


def test_surface_goes_through_the_stations():
    centre, depth, breadth = Loft(LEG).axes(np.array([s.below_top_mm for s in LEG]))

    assert centre + depth == pytest.approx([s.front_mm for s in LEG], abs=1e-9)
    assert centre - depth == pytest.approx([s.rear_mm for s in LEG], abs=1e-9)
    assert 2 * breadth == pytest.approx([s.breadth_mm for s in LEG], abs=1e-9)


def test_axes_between_are_scipys_monotone_cubic():
    below = np.linspace(0, 401, 777)
    centre, depth, breadth = Loft(LEG).axes(below)

    places = [s.below_top_mm for s in LEG]
    for ours, name in ((2 * depth, "depth_mm"), (2 * breadth, "breadth_mm"), (centre + depth, "front_mm")):
        expected = PchipInterpolator(places, [getattr(s, name) for s in LEG])(below)
        assert ours == pytest.approx(expected, rel=1e-9)


def test_beyond_its_ends_a_cone_goes_on_as_one():
    _, depth, _ = Loft(cone()).axes(np.array([-10.0, 310.0]))

    # girth falls by half a millimetre for each of height
    assert 2 * pi * depth == pytest.approx([385, 225], rel=1e-12)


def test_normals_are_square_to_the_surface_and_point_out():
    loft, step = Loft(LEG), 1e-5
    angle, below = np.meshgrid(np.linspace(-3, 3, 13), np.linspace(3, 397, 11))
    normal = loft.normals(angle, below)

    # differences over 1e-5 of smooth functions whose third derivatives are small: right to 1e-7
    for other in ((angle + step, below), (angle, below + step)):
        back = (2 * angle - other[0], 2 * below - other[1])
        tangent = loft.points(*other) - loft.points(*back)
        tangent /= np.linalg.norm(tangent, axis=-1, keepdims=True)
        assert np.abs((tangent * normal).sum(-1)).max() < 1e-6
    outward = np.stack([np.cos(angle), np.sin(angle)], -1)
    assert (normal[..., :2] * outward).sum(-1).min() > 0.5
    assert np.linalg.norm(normal, axis=-1) == pytest.approx(np.ones(angle.shape))


@pytest.mark.parametrize("wall_mm", [4.0, 7.5])
def test_inside_lies_the_wall_s_thickness_within_and_as_far_down(wall_mm):
    loft = Loft(LEG)
    angle, below = np.meshgrid(np.linspace(-pi, pi, 30), np.linspace(20, 380, 20))

    inside = loft.inside(angle, below, wall_mm)

    dense = loft.points(*np.meshgrid(np.linspace(-pi, pi, 1801), np.linspace(0, 401, 1601))).reshape(-1, 3)
    # cut anywhere: a balanced tree takes longer to make than it saves for so few questions
    tree = cKDTree(dense, balanced_tree=False, compact_nodes=False)
    distance, _ = tree.query(inside.reshape(-1, 3))
    # the nearest sampled point is up to 0.17 mm off the foot of the square: 0.17² / (2 · 4) is 0.004 mm
    assert distance == pytest.approx(np.full(distance.shape, wall_mm), abs=5e-3)
    assert inside[..., 2] == pytest.approx(-below, abs=1e-9)


def test_inside_of_a_cone_is_the_cone_moved_in():
    angle, below = np.meshgrid(np.linspace(-pi, pi, 9), np.array([0.0, 150.0, 300.0]))
    inside = Loft(cone()).inside(angle, below, 3.0)

    # published values 6.2: slant 300.948387 over height 300; in a level cut the wall is longer by their ratio
    radius = (380 - below * 0.5) / (2 * pi) - 3 * 300.948387 / 300
    assert np.hypot(inside[..., 0], inside[..., 1]) == pytest.approx(radius, abs=1e-7)


def test_a_wall_thicker_than_the_least_radius_is_refused():
    loft = Loft(LEG)
    # the ellipse's least radius is the short half axis squared over the long one, at the long one's ends
    least = min((s.breadth_mm / 2) ** 2 / (s.depth_mm / 2) for s in LEG)

    assert loft.least_radius_mm() == pytest.approx(least)
    with pytest.raises(OutOfRange, match="wall_mm"):
        loft.inside(np.zeros(1), np.zeros(1), least)


@pytest.mark.parametrize("name", ["below_top_mm", "breadth_mm", "depth_mm", "front_mm"])
@pytest.mark.parametrize("value", [float("nan"), float("inf"), 1e300, "12", None])
def test_a_station_of_odd_numbers_is_refused_by_name(name, value):
    odd = Station(**(vars(LEG[3]) | {name: value}))

    with pytest.raises(OutOfRange, match=name):
        Loft([*LEG[:3], odd, *LEG[4:]])


def test_one_station_and_stations_out_of_order_are_refused():
    with pytest.raises(OutOfRange, match="outline"):
        Loft(LEG[:1])
    with pytest.raises(OutOfRange, match="strictly increasing"):
        Loft(LEG[::-1])


def test_two_stations_are_a_straight_loft_and_one_is_none():
    centre, depth, breadth = Loft(cone(380, 230, 300, panels=1)).axes(np.array([0.0, 150.0, 300.0]))

    assert centre == pytest.approx([0, 0, 0])
    assert depth == pytest.approx(breadth)
    assert depth * 2 * pi == pytest.approx([380, 305, 230])
    with pytest.raises(OutOfRange, match="two stations or more"):
        Loft(cone()[:1])
