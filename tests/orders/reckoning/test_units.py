from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from orders.reckoning.units import INCHES_PER_FOOT, MM_PER, decimal_text, inches_text


def test_units_are_those_of_pint():
    exact = pint.UnitRegistry(non_int_type=Fraction)

    for unit, mm in MM_PER.items():
        assert exact.Quantity(Fraction(1), unit).to("mm").magnitude == mm
    assert exact.Quantity(Fraction(1), "foot").to("inch").magnitude == INCHES_PER_FOOT


@pytest.mark.parametrize(
    ("mm", "inches"),
    [
        (419.1, "16 1/2"),
        (0, "0"),
        (0.79, "0"),
        (12.7, "1/2"),
        (25.4, "1"),
        (25.3, "1"),
        (380, "14 15/16"),  # 14.9606 in: 14 15/16 is 14.9375, 15 is 0.0394 away
        (Fraction(254, 320), "1/16"),  # half a mark goes up
        (Fraction(254, 320) - Fraction(1, 10**9), "0"),
        (-12.7, "-1/2"),
        (-0.1, "0"),
    ],
)
def test_inches_are_told_to_a_sixteenth(mm, inches):
    assert inches_text(mm) == inches


@given(st.integers(0, 16 * 40))
def test_a_mark_of_the_tape_is_told_as_it_stands(marks):
    told = inches_text(Fraction(marks, 16) * MM_PER["in"])

    assert sum(Fraction(part) for part in told.split()) == Fraction(marks, 16)


def test_twin_tells_the_same_inches(js):
    lengths = [n * 0.1 for n in range(0, 6000, 7)] + [0.79375, 2.38125, 384.96875, -12.7, 1e-9]

    told = js("reading/typed.js").map("inchesText", [[mm] for mm in lengths])

    assert told == [inches_text(mm) for mm in lengths]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("4191/10", "419.1"),
        ("394", "394"),
        ("422275/1000", "422.3"),
        ("1/20", "0.1"),
        ("49/1000", "0"),
        ("-1/20", "-0.1"),
        ("-49/1000", "0"),
        ("39996/100", "400"),
    ],
)
def test_decimals_are_rounded_half_up_and_bare(value, text):
    assert decimal_text(Fraction(value)) == text
