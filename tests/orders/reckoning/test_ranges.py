from decimal import Decimal
from fractions import Fraction

import numpy as np
import pytest

from orders.reckoning.errors import OutOfRange
from orders.reckoning.ranges import refuse_unless_finite, refuse_unless_positive, refuse_unless_within

NOT_NUMBERS = [
    None,
    True,
    "3",
    b"3",
    [3],
    3j,
    Decimal(3),
    float("nan"),
    float("inf"),
    -float("inf"),
    1e300,
    10**400,
]


@pytest.mark.parametrize("value", [1e-6, 1, 400.5, 1e6, Fraction(1, 3), np.float64(3), np.int64(3)])
def test_plain_numbers_pass(value):
    refuse_unless_positive(length_mm=value)
    refuse_unless_finite(length_mm=value)


@pytest.mark.parametrize("value", [*NOT_NUMBERS, 0, -1, -0.0, 9.9e-7, 1.0000001e6])
def test_what_is_not_above_nought_is_refused_by_name(value):
    with pytest.raises(OutOfRange, match=r"^girth_mm is .*; it must be a number above 0$"):
        refuse_unless_positive(length_mm=1, girth_mm=value)


@pytest.mark.parametrize("value", [*NOT_NUMBERS, -1.0000001e6, 1.0000001e6])
def test_what_is_not_finite_is_refused_by_name(value):
    with pytest.raises(OutOfRange, match=r"^lean_deg is"):
        refuse_unless_finite(lean_deg=value)


def test_both_ends_of_a_range_are_in_it():
    refuse_unless_within(-30, 30, lean_deg=-30, other_deg=30)
    for beyond in (-30.001, 30.001):
        with pytest.raises(OutOfRange, match="a number from -30 to 30"):
            refuse_unless_within(-30, 30, lean_deg=beyond)
