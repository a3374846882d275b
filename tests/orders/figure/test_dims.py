"""What a drawing to scale is measured by: its grid, its bar, and where each value stands."""

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest

from orders.figure.dims import draw_bar, draw_dims, draw_girth_line, draw_grid
from orders.figure.lengths import Station
from orders.figure.pen import Pen

WORDS = {"girth": "girth", "hardware": "hardware", "clear": "clear", "overlap": "overlap"}
LENGTHS = {"L": 420.0, "f": 400.0, "gap": 20.0, "hw": 108.0, "g": 1.0, "har": 76.0}
LENGTHS |= {"cx": 60.0, "ci": 58.0, "cy": 134.0}


def pen(scale: float = 1.0, mirrored: bool = False) -> Pen:
    """A pen on a picture 300 px wide, its origin at (150, 37)."""
    one = Pen(scale, 300, mirrored)
    one.stand_at(150, 37, -1)
    return one


def drawn(one: Pen) -> ET.Element:
    return ET.fromstring(f"<svg>{''.join(one.out)}</svg>")


def places(d: str, letter: str) -> list[float]:
    """Where the lines of a grid stand: x of the upright ones ("V"), y of the level ones ("H")."""
    upright, level = r"M(-?[\d.]+) 0V", r"M0 (-?[\d.]+)H"
    return [float(at) for at in re.findall(upright if letter == "V" else level, d)]


@pytest.mark.parametrize("scale", [1.0, 0.62])
def test_the_grid_is_ten_mm_wide_and_heavier_every_fifty_from_the_apex_and_the_axis(scale):
    one = pen(scale)
    draw_grid(one, 500)
    light, heavy = (path.get("d") for path in drawn(one))

    for letter, origin, size in (("V", 150, 300), ("H", 37, 500)):
        fifties = places(heavy, letter)
        every = sorted(fifties + places(light, letter))
        assert min(abs(at - origin) for at in fifties) == 0
        steps = [b - a for a, b in pairwise(every)]
        assert steps == pytest.approx([10 * scale] * len(steps), abs=0.11)  # tenths of a px at either end
        assert 0 <= every[0] < 10 * scale
        assert size - 10 * scale < every[-1] <= size
        wide = [b - a for a, b in pairwise(fifties)]
        assert wide == pytest.approx([50 * scale] * len(wide), abs=0.11)


def test_the_bar_is_fifty_mm_long():
    one = pen(0.62)
    draw_bar(one, (12, 480), "50 mm")

    assert drawn(one).find(".//path").get("d") == "M12 480L43 480"  # 50 x 0.62 = 31
    assert drawn(one).find(".//text").text == "50 mm"


@pytest.mark.parametrize(("mm", "said"), [(384.5, "girth 385"), (384.49, "girth 384")])
def test_a_girth_is_told_in_whole_mm_halves_up(mm, said):
    one = pen()
    draw_girth_line(one, {"of": "girth", "value_mm": mm}, LENGTHS, WORDS)

    assert drawn(one).find(".//text").text == said


def told(of: str, mm: float, scale: float, **more) -> ET.Element:
    """The text of one upright dimension."""
    one = pen(scale)
    stations = [Station(y, 45.0, 125.0, 117.0) for y in (0.0, 200.0, 400.0)]
    draw_dims(one, [{"of": of, "value_mm": mm, **more}], LENGTHS, stations, WORDS)
    return drawn(one).find(".//text")


def test_a_value_stands_along_its_line_where_there_is_room_and_level_beside_it_where_not():
    assert "rotate(-90" in told("finished_length", 400.0, 1.0).get("transform")
    assert told("gap", 20.0, 0.5).get("transform") is None


def test_a_word_is_left_out_where_the_line_is_too_short_for_it():
    assert told("hardware_length", 108.0, 1.5).text == "108 hardware"
    assert told("hardware_length", 108.0, 0.5).text == "108"
