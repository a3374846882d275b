from math import pi

import numpy as np
import pytest
from scipy.special import ellipe, ellipeinc
from shapely.geometry import Polygon

from orders.reckoning.edges import Cut, Edges
from orders.reckoning.errors import OutOfRange
from orders.reckoning.loft import Loft
from orders.reckoning.outline import stations
from orders.reckoning.unrolled import arc_mm, slot_angle, unrolled

from .bodies import cone

LEG = stations(401, 384.5)
SHORT = Cut(relief_mm=18, rear_trim_mm=76, reach=0.62, open_share=0.32)
CUTS = {"tube": Cut(), "top only": Cut(rear_trim_mm=76), "short": SHORT}


def flat(outline=LEG, cut=SHORT):
    loft = Loft(outline)
    return unrolled(loft, Edges(loft, cut))


@pytest.mark.parametrize("angle", [0.0, 0.3, 1.2, pi / 2, 2.9, pi, -0.7])
def test_arc_is_the_incomplete_elliptic_integral(angle):
    # scipy's ellipeinc is of sqrt(1 - m sin²); the arc from the front along an ellipse whose longer half axis is
    # its depth a is b·E(angle | 1 - (a/b)²). Both are good to about 1e-14 of the length
    station = LEG[6]
    a, b = station.depth_mm / 2, station.breadth_mm / 2

    arc = arc_mm(Loft(LEG), np.array(angle), np.array(station.below_top_mm))

    assert float(arc) == pytest.approx(b * ellipeinc(angle, 1 - (a / b) ** 2), abs=1e-9)


def test_half_of_the_round_is_half_of_the_girth_at_every_station():
    loft = Loft(LEG)
    for station in LEG:
        half = float(arc_mm(loft, np.array(pi), np.array(station.below_top_mm)))
        assert half == pytest.approx(station.girth_mm / 2, abs=1e-6)


def test_cylinder_laid_flat_is_a_rectangle_of_its_girth_and_length():
    laid = flat(cone(380, 380), Cut())

    box = Polygon(laid.outline)
    assert box.bounds == pytest.approx((-190, -300, 190, 0), abs=1e-9)
    assert box.area == pytest.approx(380 * 300, rel=1e-9)


def test_cone_laid_flat_tapers_from_girth_to_girth():
    # published values 6.2: girths 380 and 230 over 300 mm; across each place the flat is the girth there
    laid = Polygon(flat(cone(), Cut()).outline)

    assert laid.area == pytest.approx(300 * (380 + 230) / 2, rel=1e-6)


@pytest.mark.parametrize("cut", CUTS.values(), ids=CUTS)
def test_outline_is_one_simple_line_the_same_to_left_and_right(cut):
    outline = flat(LEG, cut).outline
    shape = Polygon(outline)

    assert shape.is_valid
    assert shape.exterior.is_ccw
    mirrored = Polygon(outline * [-1, 1])
    assert shape.symmetric_difference(mirrored).area == pytest.approx(0, abs=1e-6)
    assert shape.bounds[1] == pytest.approx(-401, abs=1e-9)


def test_bottom_edge_is_open_by_the_open_share():
    # the open part, by the ellipse's parameter, from the complete integral of scipy
    last = LEG[-1]
    a, b = last.depth_mm / 2, last.breadth_mm / 2
    m = 1 - (a / b) ** 2
    kept = 2 * b * ellipeinc(pi * (1 - 0.32), m)

    outline = flat().outline

    bottom = outline[np.abs(outline[:, 1] + 401) < 1e-6]
    assert np.ptp(bottom[:, 0]) == pytest.approx(kept, abs=1e-6)
    assert kept < 4 * b * ellipe(m)


def test_relief_lowers_the_middle_of_the_top_alone():
    outline = flat().outline

    assert max(outline[np.abs(outline[:, 0]) < 5][:, 1]) == pytest.approx(-18, abs=1e-9)
    assert max(outline[:, 1]) == pytest.approx(0, abs=1e-6)


def test_seams_are_the_rear_middle_from_trim_to_end():
    left, right = flat().seams

    for seam, way in ((left, 1), (right, -1)):
        assert seam[0, 1] == pytest.approx(-76, abs=1e-9)
        assert seam[-1, 1] == pytest.approx(-0.62 * 401, abs=1e-9)
        assert (way * seam[:, 0] > 100).all()


def test_slot_lies_24_mm_before_the_axis():
    loft = Loft(LEG)
    angle = slot_angle(loft, 60.0)

    assert loft.points(np.array(angle), np.array(60.0))[0] == pytest.approx(24, abs=1e-9)
    assert 0 < angle < pi / 2


def test_slot_of_a_narrow_shell_keeps_off_its_front():
    loft = Loft(stations(250, 200))
    angle = slot_angle(loft, 60.0)
    centre, depth, _ = loft.axes(np.array(60.0))

    assert loft.points(np.array(angle), np.array(60.0))[0] <= centre + 0.8 * depth + 1e-9


def test_slot_outside_the_shell_is_refused():
    with pytest.raises(OutOfRange, match="below_top_mm"):
        slot_angle(Loft(LEG), 402)


@pytest.mark.parametrize("cut", CUTS.values(), ids=CUTS)
def test_no_corner_stands_there_twice_and_both_seams_have_as_many(cut):
    found = flat(cut=cut)
    steps = np.linalg.norm(np.diff(found.outline, axis=0, append=found.outline[:1]), axis=1)

    assert (steps > 1e-6).all()
    assert found.seams[0].shape == found.seams[1].shape == (61, 2)
    # 60 steps of each seam, 180 of the top; below, 120 of the closed bottom edge or 60 + 60 + 120 + 60 + 60
    assert len(found.outline) == 60 + 60 + 180 + (360 if cut.is_open else 120)


def test_slots_lie_from_the_very_top_to_the_very_bottom():
    loft = Loft(LEG)

    assert 0 < slot_angle(loft, 0) < pi / 2
    assert 0 < slot_angle(loft, 401) < pi / 2
    with pytest.raises(OutOfRange, match="from 0 to 401"):
        slot_angle(loft, 401.001)
