from unittest.mock import Mock

import pytest

from orders.figure.lengths import SHELL
from orders.figure.pen import Pen
from orders.figure.shell import draw_side_straps
from orders.reckoning import constants
from orders.reckoning.typed import understand

from .published import rows


def test_girth_profile_is_the_published_one():
    published = [(row["t"], row["girth"], row["ap_over_ml"]) for row in rows("girth_profile")]
    # the design takes 1.07 at the widest place, where the mesh has 1.068
    expected = [(t, girth, 1.07 if t == constants.WIDEST_T else ratio) for t, girth, ratio in published]

    assert list(constants.GIRTH_PROFILE) == expected


def test_front_line_is_as_the_figure_draws_it():
    assert tuple(zip(SHELL["front_share"], SHELL["front_mm"], strict=True)) == constants.FRONT_LINE


def test_slots_are_as_the_figure_draws_them():
    pen = Mock(Pen)
    draw_side_straps(pen, {"u": 60, "w": 320, "sw": 25 / 2}, {})

    slots = [call.args[1:3] for call in pen.box.call_args_list if call.args[0] == "fg-slot"]
    x, longer, wide = constants.SLOT_X_MM, constants.SLOT_LONGER_MM, constants.SLOT_WIDE_MM
    half_x, half_y = wide / 2, (25 + longer) / 2
    assert slots == [((x - half_x, y - half_y), (x + half_x, y + half_y)) for y in (60, 320)]


# The design's own defaults, in mm.
@pytest.mark.parametrize(
    ("quantity", "low", "high"),
    [
        ("length", 240, 560),
        ("girth", 230, 560),
        ("hardware_length", 40, 260),
        ("hardware_above_rim", 20, 220),
        ("rim_to_floor", 50, 180),
        ("apex_to_floor", 300, 680),
    ],
)
def test_inches_are_meant_as_long_as_they_are_in_the_ordinary_range(quantity, low, high):
    def inches_offered(mm: int, off: int) -> bool:
        """Of a bare number as long as that in inches, or a ten-thousandth of an inch off, where mm were expected."""
        number = f"{(mm * 100_000 // 254 + off) / 10_000:.4f}"
        return f"{number} in" in understand(number, "mm", quantity).offers

    assert [inches_offered(low, 0), inches_offered(low, 1)] == [False, True]
    assert [inches_offered(high, 0), inches_offered(high, 1)] == [True, False]


def test_twins_have_the_same_ordinary_ranges(js):
    ranges = js("reading/typed.js").evaluate("(typed) => typed.ORDINARY_MM")

    assert {key: tuple(ends) for key, ends in ranges.items()} == constants.ORDINARY_MM


@pytest.mark.parametrize(
    "name",
    [
        "BOTTOM_EDGE_T",
        "WIDEST_T",
        "GIRTH_PROFILE",
        "FRONT_LINE",
        "FRONT_LINE_GIRTH_MM",
        "KNEE_AXIS_X_MM",
    ],
)
def test_twins_have_the_same_geometry(js, name):
    theirs = js("geometry/constants.js").evaluate("(module, name) => module[name]", name)
    ours = getattr(constants, name)

    assert theirs == ([list(row) for row in ours] if isinstance(ours, tuple) else ours)
