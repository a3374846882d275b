from math import acos, pi

import numpy as np
import pytest

from orders.figure.lengths import SHELL
from orders.reckoning import constants
from orders.reckoning.edges import Cut, Edges
from orders.reckoning.errors import OutOfRange
from orders.reckoning.loft import Loft
from orders.reckoning.outline import stations

LOFT = Loft(stations(400, 385))
SHORT = Cut(relief_mm=18, rear_trim_mm=76, reach=0.62, open_share=0.32)
ROUND = np.linspace(-pi, pi, 721)


def test_edges_run_as_the_figure_draws_them():
    assert list(constants.TOP_LINE) == [(0, 0), *(tuple(pair) for pair in SHELL["top_s"]), (1, 1)]
    assert list(constants.SWEEP_LINE) == [(0, 0), *(tuple(pair) for pair in SHELL["sweep"])]
    assert SHELL["sweep_mm"] == constants.SWEEP_MM


def test_rear_edge_starts_at_its_trim_and_the_front_at_its_relief():
    top = Edges(LOFT, SHORT).top(np.array([0.0, pi]))

    assert top == pytest.approx([18, 76])


@pytest.mark.parametrize(
    ("girth_mm", "level_to"),
    [
        (385, 38),  # the front stands at 46 there: level as far as 8 behind it
        (462, 40),  # it stands at 46 · 462 / 385, which is 55.2
    ],
)
def test_top_is_level_back_to_40_mm_before_the_axis_and_then_falls(girth_mm, level_to):
    loft = Loft(stations(400, girth_mm))
    edges = Edges(loft, Cut(rear_trim_mm=76))
    centre, depth, _ = loft.axes(np.array(0.0))

    assert edges.top(np.array([acos((level_to + 0.01 - centre) / depth)])) == pytest.approx([0])
    assert edges.top(np.array([acos((level_to - 0.01 - centre) / depth)]))[0] > 0
    falling = edges.top(np.linspace(acos((level_to - 1 - centre) / depth), pi, 200))
    assert (np.diff(falling) > 0).all()


def test_relief_takes_the_middle_third_of_the_front():
    edges = Edges(LOFT, Cut(relief_mm=18))
    _, _, half = LOFT.axes(np.array(0.0))
    across = np.array([0, half / 3 - 6.01, half / 3, half / 3 + 6.01, half])

    in_front = edges.top(np.arcsin(across / half))

    assert in_front == pytest.approx([18, 18, 9, 0, 0])
    assert edges.top(pi - np.arcsin(across / half)) == pytest.approx([0] * 5, abs=1e-9)


def test_rear_ends_at_its_reach_and_sweeps_to_the_side_edge():
    edges = Edges(LOFT, SHORT)

    low = edges.low(np.array([pi, edges.side_angle, 0.0]))

    # 0.62 of 400; the sweep of 90 fits into 0.72 of the 152 below it
    assert low == pytest.approx([248, 338, 338])
    assert edges.side_angle == pytest.approx(pi * 0.68)
    behind = edges.low(np.linspace(edges.side_angle, pi, 200))
    assert (np.diff(behind) < 0).all()


def test_sweep_of_a_long_rear_keeps_to_its_share_of_what_is_left():
    edges = Edges(LOFT, Cut(reach=0.94, open_share=0.2))

    assert (edges.end_mm, edges.sweep_mm) == pytest.approx((376, 0.72 * 24))


@pytest.mark.parametrize("cut", [Cut(reach=0.991, open_share=0.3), Cut(reach=0.6, open_share=0.0099), Cut()])
def test_nothing_is_open_without_a_share_or_below_a_rear_that_reaches_the_bottom(cut):
    edges = Edges(LOFT, cut)

    assert edges.low(ROUND) == pytest.approx(np.full(ROUND.shape, 400))
    assert edges.side_angle == pi


def test_a_hundredth_is_open():
    assert Edges(LOFT, Cut(reach=0.99, open_share=0.01)).side_angle == pytest.approx(pi * 0.99)


def test_steps_along_the_low_edge_are_even_and_the_same_to_either_side():
    edges = Edges(LOFT, SHORT)
    angles = edges.angles_behind(34)

    _, depth, breadth = LOFT.axes(np.array(248.0))
    steps = np.hypot(np.diff(angles) * (depth + breadth) / 2, np.diff(edges.low(angles)))
    assert angles[[0, -1]] == pytest.approx([edges.side_angle, 2 * pi - edges.side_angle])
    assert (angles + angles[::-1]) / 2 == pytest.approx(np.full(35, pi))
    # chords of a bent line are a little shorter than the line
    assert steps == pytest.approx(np.full(34, steps.mean()), rel=0.03)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        (name, value)
        for name in ("relief_mm", "rear_trim_mm", "reach", "open_share")
        for value in (-1, float("nan"), float("inf"), 1e300, "1", None, True, 10**400)
    ]
    + [("reach", 0), ("reach", 1.01), ("open_share", 0.91)],
)
def test_a_cut_of_odd_numbers_is_refused_by_name(name, value):
    with pytest.raises(OutOfRange, match=f"^{name} is"):
        Cut(**{name: value})


@pytest.mark.parametrize("name", ["relief_mm", "rear_trim_mm"])
def test_edges_that_would_meet_are_refused(name):
    Edges(LOFT, Cut(**{name: 247.9, "reach": 0.62, "open_share": 0.32}))
    with pytest.raises(OutOfRange, match=name):
        Edges(LOFT, Cut(**{name: 248, "reach": 0.62, "open_share": 0.32}))


def test_nothing_is_open_where_no_share_is_said():
    assert Cut(reach=0.6) == Cut(relief_mm=0, rear_trim_mm=0, reach=0.6, open_share=0)
    assert not Cut(reach=0.6).is_open
    assert not Cut(open_share=0.3).is_open
