import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from orders.reckoning.curve import Curve
from orders.reckoning.errors import OutOfRange

POINTS = st.lists(
    st.tuples(st.integers(0, 1000), st.floats(0.2, 2).map(lambda value: round(value, 3))),
    min_size=2,
    max_size=9,
    unique_by=lambda point: point[0],
).map(sorted)


@given(POINTS)
def test_curve_is_that_of_scipy(points):
    places, values = zip(*points, strict=True)
    between = np.linspace(places[0], places[-1], 41)

    # the same cubic in another arrangement: rounding only
    assert [Curve(places, values)(x) for x in between] == pytest.approx(
        list(PchipInterpolator(places, values)(between)), rel=1e-9
    )


@given(POINTS)
def test_curve_never_swings_past_its_points(points):
    places, values = zip(*points, strict=True)
    curve = Curve(places, values)

    for at in range(len(points) - 1):
        low, high = sorted(values[at : at + 2])
        for share in (0.1, 0.5, 0.9):
            here = curve(places[at] + (places[at + 1] - places[at]) * share)
            assert low - 1e-12 <= here <= high + 1e-12


def test_curve_is_flat_beyond_its_ends():
    curve = Curve([0.3, 0.7, 0.9], [1.1, 1.0, 0.8])

    assert (curve(0.0), curve(0.3), curve(0.9), curve(2.0)) == (1.1, 1.1, 0.8, 0.8)


def test_curve_through_one_point_is_level():
    assert Curve([0.7], [1.0])(0.2) == 1.0


def test_places_out_of_order_are_refused():
    with pytest.raises(OutOfRange, match="strictly increasing"):
        Curve([0.7, 0.7], [1.0, 1.1])


def test_twin_draws_the_same_curve(js):
    places, values = [0.1, 0.25, 0.3, 0.7, 0.9], [1.2, 0.9, 0.95, 1.0, 1.0]
    between = [float(x) for x in np.linspace(0, 1, 101)]

    drawn = js("geometry/curve.js").evaluate(
        "(m, [places, values, between]) => between.map(m.curveThrough(places, values))",
        [places, values, between],
    )

    assert drawn == pytest.approx([Curve(places, values)(x) for x in between], rel=1e-9)


def test_pieces_are_the_curve_s_own_polynomials():
    curve = Curve([0, 1, 3, 4], [2, 5, 4, 4.5])

    for start, (c0, c1, c2, c3) in zip([0, 1, 3], curve.cubics(), strict=True):
        for past in (0, 0.25, 0.9):
            assert c0 + past * (c1 + past * (c2 + past * c3)) == pytest.approx(curve(start + past), rel=1e-12)


@pytest.mark.parametrize("values", [(1, 1, 2), (1, 2, 2, 3), (0, 0, 0), (0, 1, 0), (2, 1, 1, 1)])
def test_curve_is_that_of_scipy_where_it_is_level(values):
    places = range(len(values))
    between = np.linspace(0, len(values) - 1, 31)

    expected = list(PchipInterpolator(places, values)(between))
    assert [Curve(places, values)(x) for x in between] == pytest.approx(expected, rel=1e-9, abs=1e-12)
