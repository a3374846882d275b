"""Sums of lengths and smooth lines, by hand: 0.5 x 420 - 76 + 12 = 146."""

import math
from itertools import pairwise

import pytest

from orders.figure.form import path_of, point_of, spline, turned, value_of

LENGTHS = {"L": 420.0, "har": 76.0, "g": 1.5}


@pytest.mark.parametrize(
    ("form", "value"),
    [("0.5L-har+12", 146), ("-L", -420), ("12", 12), (".25L", 105), ("+2g-3", 0), ("L+L", 840)],
)
def test_a_form_is_the_sum_of_its_terms(form, value):
    assert value_of(form, LENGTHS) == pytest.approx(value, abs=1e-12)


@pytest.mark.parametrize("form", ["2*L", "L--3", "L+", "(L)", "1,5", "L /2"])
def test_what_is_no_sum_is_refused(form):
    with pytest.raises(ValueError, match="not a sum"):
        value_of(form, LENGTHS)


def test_a_length_that_has_no_name_is_refused():
    with pytest.raises(KeyError, match="toe"):
        value_of("0.5toe", LENGTHS)


def test_a_point_is_two_forms():
    assert point_of("g,L-20", LENGTHS) == (1.5, 400)


def test_a_path_keeps_its_corners_and_smooths_only_what_follows_the_wave():
    assert path_of("M 0,0 L g,0 1.5,L Z", LENGTHS) == [
        ("M", [(0, 0)]),
        ("L", [(1.5, 0)]),
        ("L", [(1.5, 420)]),
        ("Z", []),
    ]

    smooth = path_of("M 0,0 ~ 3,1 6,0 L 9,0", LENGTHS)

    assert [letter for letter, _points in smooth] == ["M", "C", "C", "L"]
    assert [points[-1] for _letter, points in smooth] == [(0, 0), (3, 1), (6, 0), (9, 0)]


def test_a_smooth_line_goes_through_every_point_without_a_corner():
    points = [(0.0, 0.0), (10.0, 4.0), (12.0, 20.0), (40.0, 21.0)]

    pieces = spline(points)

    assert [end for _one, _two, end in pieces] == points[1:]
    for (_one, arriving, at), (leaving, _two, _end) in pairwise(pieces):
        before = math.atan2(at[1] - arriving[1], at[0] - arriving[0])
        after = math.atan2(leaving[1] - at[1], leaving[0] - at[0])
        assert before == pytest.approx(after, abs=1e-12)


def test_a_smooth_line_through_points_in_line_is_straight():
    for one, two, end in spline([(0.0, 0.0), (1.0, 2.0), (5.0, 10.0), (6.0, 12.0)]):
        assert [y for _x, y in (one, two, end)] == pytest.approx([2 * x for x, _y in (one, two, end)])


def test_two_points_are_joined_by_a_straight_piece_and_one_alone_by_none():
    assert spline([(0.0, 0.0), (4.0, 4.0)]) == [((0.0, 0.0), (4.0, 4.0), (4.0, 4.0))]
    assert spline([(3.0, 3.0)]) == []


def test_forward_turns_up_and_the_centre_stays():
    # y runs down: a quarter of a turn brings what lies 2 mm before the centre to 2 mm above it
    ((_letter, (ahead, centre)),) = turned([("L", [(7.0, 3.0), (5.0, 3.0)])], (5.0, 3.0), 90)

    assert ahead == pytest.approx((5, 1))
    assert centre == (5, 3)
