import json
import re

import pytest

from orders.drawings import BENCH_PX_PER_MM, bench_mark, drawing_to_scale
from orders.reckon import reckon
from tests import factories

CATALOGUE = json.loads((factories.CATALOGUES / "tarn-street-moulding-room.json").read_text())


def drawn(draw, **changes):
    entry = factories.entry(**changes)
    return draw(entry, reckon(entry, CATALOGUE), CATALOGUE)


def height_px(svg):
    return float(re.search(r'viewBox="0 0 [\d.]+ ([\d.]+)"', svg)[1])


def test_shells_on_the_bench_share_one_scale():
    short = drawn(bench_mark, length=["320 mm"], second_route=None)  # made 307 mm
    long = drawn(bench_mark, length=["420 mm"], second_route=None)  # made 407 mm

    # 100 mm more make 100 mm times the scale more; heights are written to a tenth of a px.
    assert height_px(long) - height_px(short) == pytest.approx(100 * BENCH_PX_PER_MM, abs=0.2)


def test_shell_on_the_bench_carries_neither_dimensions_nor_flags():
    svg = drawn(bench_mark, girth=["14 3/4"])

    assert "fg-shell" in svg
    assert "<title>The left shank shell</title>" in svg
    assert "fg-dimension" not in svg
    assert "fg-flag" not in svg


def test_drawing_to_scale_has_each_dimension_that_a_figure_can_take_in_hand():
    svg = drawn(
        drawing_to_scale,
        knee={"named": "polycentric", "pivots_seen": "several", "hardware_length": "4"},
        foot={"profile": "high", "hardware_above_rim": "3"},
    )

    of = set(re.findall(r'data-of="(\w+)"', svg))
    assert of == {
        "finished_length",
        "gap",
        "girth",
        "hardware_length",
        "upper_strap",
        "strap_spacing",
        "lower_strap",
        "hardware_above_rim",
    }


@pytest.mark.parametrize(
    ("hardware", "straps"), [("10.8 cm", ["130.5", "190.5", "60"]), ("108.5 mm", ["131", "190", "60"])]
)
def test_straps_on_the_drawing_add_up_to_the_length_as_printed(hardware, straps):
    # worked case 1 is 381 long. The upper strap lies 10 + 25/2 below the mechanism: 130.5, which in whole mm would
    # make 131 + 191 + 60 = 382; 131 needs no tenth
    svg = drawn(
        drawing_to_scale, knee={"named": "polycentric", "pivots_seen": "several", "hardware_length": hardware}
    )

    values = dict(re.findall(r'data-of="(\w+)">.*?<text class="fg-value"[^>]*>([\d.]+)', svg))
    assert [values[of] for of in ("upper_strap", "strap_spacing", "lower_strap")] == straps
    assert sum(float(strap) for strap in straps) == 381


def test_flags_on_the_drawing_bear_their_numbers_in_the_list():
    svg = drawn(drawing_to_scale, girth=["14 3/4"], taken="seated")

    assert re.findall(r'data-n="(\d)"', svg) == ["1", "2"]


def test_drawing_is_safe_for_a_page_with_a_strict_policy():
    svg = drawn(drawing_to_scale)

    assert "style=" not in svg
    assert "<script" not in svg
    assert "<title>" in svg
