"""A slot's place by hand: on a tube about the axis it lies where the tube's circle is 24 mm before that."""

from math import acos, pi

import pytest

from orders.documents.shell import MadeShell
from orders.documents.slots import slots_of
from orders.reckoning.edges import Cut
from orders.reckoning.errors import OutOfRange
from orders.reckoning.ordered import Ordered
from orders.reckoning.outline import Station


def tube(
    radius_mm: float, upper_mm: float = 60.0, lower_mm: float = 320.0, strap_mm: float = 25.0
) -> MadeShell:
    """A round shell, 380 mm long, about the pylon's axis."""
    across = 2 * radius_mm
    outline = tuple(
        Station(below, pi * across, across, across, radius_mm, -radius_mm) for below in (0, 95, 190, 285, 380)
    )
    return MadeShell("T-0001", "left", 1, Ordered(outline, Cut(), 4.0), upper_mm, lower_mm, strap_mm, 0.0)


def test_a_slot_lies_as_far_round_a_tube_as_its_circle_says():
    for slots, below_mm in zip(slots_of(tube(60)), (60, 320), strict=True):
        assert slots.below_top_mm == below_mm
        assert slots.round_mm == pytest.approx(60 * acos(24 / 60), abs=1e-6)  # 69.56 mm


def test_on_a_narrow_tube_a_slot_keeps_away_from_the_front():
    # 24 mm before the axis a circle of 25 mm is nearly at its front: no nearer than where its cosine is 0.8
    for slots in slots_of(tube(25)):
        assert slots.round_mm == pytest.approx(25 * acos(0.8), abs=1e-6)  # 16.09 mm


def test_a_slot_is_longer_than_its_strap_is_wide():
    upper, lower = slots_of(tube(60, strap_mm=38))

    assert (upper.strap, lower.strap) == ("upper strap", "lower strap")
    assert {(slots.high_mm, slots.wide_mm) for slots in (upper, lower)} == {(45, 4)}


def test_no_slot_beyond_the_shell():
    with pytest.raises(OutOfRange, match="381"):
        slots_of(tube(60, lower_mm=381))
