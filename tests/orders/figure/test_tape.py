"""The tape on a drawing: its ticks stand where those of a real one do, and its ends are named where there is room."""

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest

from orders.figure.data import FIGURE
from orders.figure.pen import Pen, letters_px
from orders.figure.tape import draw_tape

LENGTHS = {"L": 420.0, "gap": 20.0, "hw": 108.0, "har": 76.0, "hb": 60.0, "g": 1.0}
WORDS = FIGURE["words"]


def drawn(of, units="mm", scale=1.0, width=400, lengths=LENGTHS, words=WORDS):
    """The tape of one field on a picture 700 px high, its origin at (250, 100) and its front to the left."""
    pen = Pen(scale, width, False)
    pen.stand_at(250 if width == 400 else width / 2, 100, -1)
    draw_tape(pen, of, units, lengths, words)
    return ET.fromstring("".join(pen.out))


def of_class(root, kind):
    return [part for part in root.iter() if kind in (part.get("class") or "").split()]


def ends(path):
    """The two ends of a line. [px]"""
    return [tuple(map(float, point.split())) for point in re.findall(r"-?[\d.]+ -?[\d.]+", path.get("d"))]


def below_apex(ticks):
    return [round(ends(tick)[0][1] - 100, 1) for tick in ticks]


def test_ticks_are_a_cm_apart_and_long_every_five_from_where_the_tape_is_held():
    root = drawn("length", "cm")

    assert below_apex(of_class(root, "fg-tick")) == [
        10.0 * n for n in range(1, 42)
    ]  # the end itself has its black
    assert below_apex(of_class(root, "fg-long")) == [50.0 * n for n in range(1, 9)]


def test_ticks_are_half_an_inch_apart_and_long_every_five_inches():
    root = drawn("length", "in")

    assert below_apex(of_class(root, "fg-tick")) == [round(12.7 * n, 1) for n in range(1, 33)]
    assert below_apex(of_class(root, "fg-long")) == [127, 254, 381]


def test_a_tape_that_is_held_at_the_floor_counts_from_there():
    root = drawn("second_route.apex_to_floor", "cm")
    floor = 420 + 95

    assert below_apex(of_class(root, "fg-long")) == [floor - 50 * n for n in range(1, 11)]


@pytest.mark.parametrize(("units", "apart", "long"), [("mm", 20, 100), ("in", 25.4, 127)])
def test_a_small_picture_has_half_as_many_ticks(units, apart, long):
    root = drawn("length", units, scale=0.3)

    for kind, step in (("fg-tick", apart), ("fg-long", long)):
        places = below_apex(of_class(root, kind))
        steps = [b - a for a, b in pairwise(places)]
        assert places[0] == pytest.approx(step * 0.3, abs=0.1)
        assert steps == pytest.approx([step * 0.3] * len(steps), abs=0.11)  # tenths of a px at either end


def test_ticks_across_count_from_the_front():
    root = drawn(
        "foot.rim_depth", "cm"
    )  # from 50 mm in front of the axis, which is to the left, to 50 behind

    assert [ends(tick)[0][0] for tick in of_class(root, "fg-tick")] == [200 + 10 * n for n in range(1, 10)]
    assert [ends(tick)[0][0] for tick in of_class(root, "fg-long")] == [250]


def test_round_the_calf_ticks_crowd_at_the_edges_and_the_tape_sags_in_the_middle():
    root = drawn("girth", "cm")
    ticks = sorted(ends(tick)[0] for tick in of_class(root, "fg-tick"))

    xs, steps = [x for x, _y in ticks], [b[0] - a[0] for a, b in pairwise(ticks)]
    middle = len(steps) // 2
    assert 250 - 61.8 <= xs[0] < 250 - 61
    assert 250 + 61 < xs[-1] <= 250 + 61.8
    assert steps[0] < steps[middle] / 4 > steps[-1]
    assert max(steps) == pytest.approx(10, abs=0.2)  # seen square on, a cm is a cm
    assert max(y for _x, y in ticks) - ticks[0][1] == pytest.approx(5, abs=1)


def test_ends_are_named_beside_the_tape_or_above_and_under_it_where_that_is_too_narrow():
    for width, anchor in ((400, "end"), (150, "middle")):
        apex, rim = of_class(drawn("length", width=width), "fg-end")

        assert (apex.text, rim.text) == (WORDS["apex"], WORDS["rim"])
        assert apex.get("text-anchor") == rim.get("text-anchor") == anchor
        assert (float(apex.get("y")) < 100) is (anchor == "middle")


def test_names_of_a_short_tape_do_not_stand_on_each_other():
    upper, lower = sorted(
        float(name.get("y")) for name in of_class(drawn("gap", lengths={**LENGTHS, "gap": 3.0}), "fg-end")
    )

    assert lower - upper == pytest.approx(17, abs=0.11)


@pytest.mark.parametrize(("width", "above"), [(400, False), (150, True)])
def test_names_across_stand_beside_the_tape_or_above_it_and_on_the_picture(width, above):
    words = {**WORDS, "front": "vorne", "rear": "hinterrand"}

    root = drawn("foot.rim_depth", width=width, words=words)

    left, right = of_class(root, "fg-end")
    high = float(of_class(root, "fg-tape")[0].get("y"))
    assert (float(left.get("y")) < high) is above
    assert float(left.get("x")) - letters_px("vorne") >= 1
    assert float(right.get("x")) + letters_px("hinterrand") <= width - 1 + 0.05  # a tenth of a px of rounding
    assert float(left.get("x")) < float(right.get("x"))
