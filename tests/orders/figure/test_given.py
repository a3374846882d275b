"""What an entry says about the leg; what can't be read is as good as not given."""

import pytest

from orders.figure.given import measured_mm, pins_of, shell_numbers, typed_of
from tests.orders.figure.scenes import TARN


@pytest.mark.parametrize(
    ("typed", "mm", "unit"),
    [
        (["394", "396"], 396, "mm"),  # the reading in hand
        (["394", "15 1/2 in"], 393.7, "in"),  # 1 in is 25.4 mm
        ("−2 cm", -20, "cm"),
        ("- 20", -20, "mm"),
        ("4oo", None, "mm"),
        ("", None, "mm"),
        ([], None, "mm"),
        (None, None, "mm"),
    ],
)
def test_a_measurement_is_the_last_reading_in_the_unit_it_was_typed_in(typed, mm, unit):
    found = typed_of({"units": "mm", "length": typed}, "length")

    assert found == (mm if mm is None else pytest.approx(mm), unit)


@pytest.mark.parametrize(("typed", "drawn"), [("149", None), ("150", 150), ("700", 700), ("701", None)])
def test_a_leg_is_drawn_with_what_can_be_a_leg_s(typed, drawn):
    """Half a number must not turn the leg inside out while it is being typed."""
    assert measured_mm({"length": [typed]}, "length") == drawn


@pytest.mark.parametrize(
    ("knee", "pins"),
    [
        ({"pivots_seen": "one", "named": "polycentric"}, "one"),
        ({"pivots_seen": "several", "named": "single_axis"}, "several"),
        ({"pivots_seen": "unsure", "named": "single_axis"}, "one"),
        ({"pivots_seen": "unsure"}, "unsure"),
        ({"named": "polycentric"}, "several"),
        ({}, "one"),
    ],
)
def test_pins_are_drawn_as_seen_before_what_the_knee_is_called(knee, pins):
    assert pins_of({"knee": knee}) == pins


def test_a_shell_is_drawn_from_its_options_numbers_never_their_names():
    shell = {"wall": "thick", "rear": "long", "top": "cut_down", "buckle_side": "inner"}

    assert shell_numbers({"shell": shell}, TARN) == {
        "reach": 0.94, "open_share": 0.2, "relief_mm": 18, "wall_mm": 7.5, "strap_width_mm": 25,
        "buckle_side": "inner",
    }  # fmt: skip


@pytest.mark.parametrize("workshop", [None, {}, TARN])
def test_options_that_nobody_makes_have_no_numbers(workshop):
    shell = {"wall": "gold", "rear": None, "top": "plain-ish"}
    numbers = shell_numbers({"shell": shell}, workshop)

    assert {numbers[key] for key in ("reach", "open_share", "relief_mm", "wall_mm")} == {None}
    assert numbers["buckle_side"] == "outer"
