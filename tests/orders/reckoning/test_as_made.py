"""Expected numbers are worked by hand from the tolerances of the two demo catalogues (length +0/-2 and +1/-3 mm)."""

import json
from fractions import Fraction
from pathlib import Path

import pytest

from orders.reckoning.as_made import (
    Limits,
    held_against,
    limits_as_made,
    mass_apart,
    meant_unit,
    wants_third,
)
from orders.reckoning.errors import OutOfRange
from orders.reckoning.typed import read_length

CATALOGUES = Path(__file__).resolve().parents[3] / "fixtures_demo" / "catalogues"
RESULT = {"finished_length_mm": 401, "girth_mm": 384.5, "upper_strap_mm": 130.45, "lower_strap_mm": 79.65}


def catalogue(name, **changes):
    return {**json.loads((CATALOGUES / f"{name}.json").read_text()), **changes}


def test_limits_are_the_order_and_the_catalogues_tolerances():
    limits = limits_as_made(RESULT, catalogue("tarn-street-moulding-room"))

    assert limits["length"] == (401, 399, 401)
    assert limits["girth"] == (384.5, 379.5, 389.5)
    assert limits["upper_strap"] == pytest.approx((130.45, 127.45, 133.45))
    assert limits["lower_strap"] == pytest.approx((79.65, 76.65, 82.65))


def test_a_marked_trim_line_is_where_the_shell_ends():
    limits = limits_as_made(RESULT, catalogue("quayside-forming"))

    assert limits["length"] == (401, 398, 402)


def test_what_is_left_to_trim_without_a_line_is_part_of_the_length():
    limits = limits_as_made(RESULT, catalogue("quayside-forming", trim_line_marked=False))

    assert limits["length"] == (411, 408, 412)
    assert limits["lower_strap"] == pytest.approx((89.65, 85.65, 93.65))
    assert limits["upper_strap"] == pytest.approx((130.45, 126.45, 134.45))


@pytest.mark.parametrize(
    ("mm", "within", "close"),
    [
        ("398.9", False, True),
        ("399", True, True),
        ("400", True, True),
        ("401", True, True),
        ("401.1", False, True),
        ("396", False, False),
        ("410", False, False),
    ],
)
def test_a_length_within_its_limits_is_good_ends_included(mm, within, close):
    held = held_against([Fraction(mm)], Limits(401, 399, 401))

    assert (held.within, held.close) == (within, close)
    # u^2 = 0.5^2 + 0.5^2, U = 2u, by hand
    assert held.U_mm == pytest.approx(1.41421356, abs=1e-6)


def test_a_limit_that_a_double_can_not_hold_is_still_within():
    assert held_against([Fraction("127.45")], Limits(130.45, 130.45 - 3, 130.45 + 3)).within


def test_repeats_are_combined_and_narrow_the_uncertainty():
    held = held_against([Fraction(384), Fraction(386)], Limits(384.5, 379.5, 389.5), girth=True)

    # mean 385; u^2 = 1 + 1/2, U = 2.449, by hand; nearest limit 4.5 away
    assert (held.measured_mm, held.within, held.close) == (385, True, False)
    assert held.U_mm == pytest.approx(2.449490, abs=1e-5)
    assert held_against([Fraction(n) for n in (380, 386, 387)], held_limits(), girth=True).measured_mm == 386


def held_limits():
    return Limits(384.5, 379.5, 389.5)


def test_no_reading_is_refused():
    with pytest.raises(OutOfRange):
        held_against([], held_limits())


@pytest.mark.parametrize(("apart", "third"), [("2", False), ("2.01", True)])
def test_two_readings_far_apart_want_a_third(apart, third):
    assert wants_third([Fraction(400), 400 + Fraction(apart)]) is third


@pytest.mark.parametrize(
    ("text", "unit", "ordered", "meant"),
    [
        ("40.1", "mm", 401, "cm"),
        ("15 3/4", "mm", 401, "in"),
        ("401", "cm", 401, "mm"),
        ("40.1 mm", "mm", 401, None),
        ("396", "mm", 401, None),
        ("20", "mm", 401, None),
        ("5", "mm", 130.45, "in"),
    ],
)
def test_a_number_in_the_wrong_unit_is_noticed(text, unit, ordered, meant):
    assert meant_unit(read_length(text, unit), ordered) == meant


@pytest.mark.parametrize(("weighed", "much"), [(689.5, False), (690.5, True), (510.5, False), (509.5, True)])
def test_a_shell_much_heavier_or_lighter_than_reckoned_is_noticed(weighed, much):
    share, apart = mass_apart(weighed, 600)

    assert share == pytest.approx(weighed / 600 - 1)
    assert apart is much


def test_a_mass_of_nothing_is_refused():
    with pytest.raises(OutOfRange):
        mass_apart(0, 600)


def test_another_unit_is_meant_up_to_fifteen_hundredths_of_what_was_ordered():
    # 400 ordered: 46 cm is exactly 60 too long, 46.05 cm a little more
    assert meant_unit(read_length("46", "in"), 400) == "cm"
    assert meant_unit(read_length("46.05", "in"), 400) is None


def test_the_lightest_masses_are_compared_and_fifteen_hundredths_is_not_a_lot():
    assert mass_apart(0.5, 0.5) == (0.0, False)
    # exact in doubles: 1.125 is within the share, 1.25 beyond it
    assert [mass_apart(mass, 1)[1] for mass in (1.125, 1.25, 0.875, 0.75)] == [False, True, False, True]
