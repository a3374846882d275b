import csv
import io

import ezdxf
import pytest

from orders.documents.flat_outline import flat_outline
from orders.documents.station_table import cell, station_table
from orders.reckon import reckon
from tests import factories

from .shells import catalogue, shell


def table(raw: bytes) -> list[dict]:
    return list(csv.DictReader(io.StringIO(raw.decode("utf-8-sig"), newline="")))


def test_rows_are_the_results_stations():
    rows = table(station_table(shell()))
    stations = reckon(factories.entry(), catalogue())["stations"]

    assert [row["station"] for row in rows[:-2]] == [str(number) for number in range(1, 20)]
    for row, station in zip(rows[:-2], stations, strict=True):
        # to the hundredth that the table shows
        assert float(row["below the top edge [mm]"]) == pytest.approx(station["below_top_mm"], abs=0.006)
        assert float(row["outside girth [mm]"]) == pytest.approx(station["girth_mm"], abs=0.006)
        assert float(row["rear, before the pylon's axis [mm]"]) == pytest.approx(
            station["rear_mm"], abs=0.006
        )


def test_the_last_rows_are_the_straps_with_their_slots_as_the_outline_has_them():
    upper, lower = table(station_table(shell()))[-2:]

    assert [row["station"] for row in (upper, lower)] == ["upper strap", "lower strap"]
    assert [float(row["below the top edge [mm]"]) for row in (upper, lower)] == [60, 321]
    drawing = ezdxf.read(io.StringIO(flat_outline(shell()).decode()))
    slots = [line for line in drawing.modelspace().query("LWPOLYLINE[layer=='STRAPS']") if line.closed]
    for row, slot in zip((upper, lower), slots[1::2], strict=True):
        (left, low), (right, high) = slot.get_points("xy")[0], slot.get_points("xy")[2]
        round_mm = float(row["slot, round from the front's middle, both ways [mm]"])
        assert round_mm == pytest.approx((left + right) / 2, abs=0.006)
        assert float(row["slot, along the shank [mm]"]) == pytest.approx(high - low, abs=0.006)
        assert float(row["slot, wide [mm]"]) == pytest.approx(right - left, abs=0.006)


def test_the_section_at_a_strap_lies_between_its_stations():
    *rows, _upper, lower = table(station_table(shell()))
    place = float(lower["below the top edge [mm]"])
    above = [row for row in rows if float(row["below the top edge [mm]"]) <= place][-1]
    below = next(row for row in rows if float(row["below the top edge [mm]"]) >= place)

    for size in ("outside girth [mm]", "inside girth [mm]", "outside breadth [mm]", "outside depth [mm]"):
        least, most = sorted((float(above[size]), float(below[size])))
        assert least - 0.006 <= float(lower[size]) <= most + 0.006


def test_places_from_top_and_bottom_make_up_the_length():
    for row in table(station_table(shell())):
        sum_mm = float(row["below the top edge [mm]"]) + float(row["above the bottom edge [mm]"])
        assert sum_mm == pytest.approx(381, abs=0.011)


def test_inside_girth_is_less_by_two_pi_times_the_wall():
    # Steiner's formula; 4 mm: 25.133
    row = table(station_table(shell()))[6]

    assert float(row["outside girth [mm]"]) == pytest.approx(374.65, abs=0.006)
    assert float(row["inside girth [mm]"]) == pytest.approx(374.65 - 25.133, abs=0.006)


def test_every_row_says_whose_it_is():
    assert {(row["reference"], row["side"], row["revision"]) for row in table(station_table(shell()))} == {
        ("T-0001", "left", "1")
    }


def test_every_measure_says_its_unit():
    headings = table(station_table(shell()))[0].keys()

    assert all(heading.endswith("[mm]") for heading in list(headings)[4:])


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@a", "\t=1", "  =1", "＝1", "|a", "\r=1"])
def test_text_that_would_be_a_formula_is_quoted(text):
    assert cell(text) == f"'{text}"
    assert table(station_table(shell(reference=text)))[0]["reference"] == f"'{text}"


def test_ordinary_text_stays_and_hard_text_comes_back_whole():
    for text in ("NF-0147", 'a "b", c; d', "two\nlines", "ﬁgure é"):
        assert cell(text) == text
        assert table(station_table(shell(reference=text)))[0]["reference"] == text
