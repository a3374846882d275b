import io

import ezdxf
import pytest
from ezdxf.math import area
from shapely.geometry import Polygon, box

from orders.documents.flat_outline import flat_outline, one_line
from tests import factories

from .shells import shell, trimmed


def read(raw: bytes):
    """The drawing, audited by the library, which must find nothing to mend."""
    text = raw.decode("utf-8")
    assert "\r\r" not in text
    drawing = ezdxf.read(io.StringIO(text))
    audit = drawing.audit()
    assert not audit.errors
    assert not audit.fixes
    return drawing


def lines(drawing, layer: str):
    return list(drawing.modelspace().query(f'LWPOLYLINE[layer=="{layer}"]'))


def points(line) -> list[tuple[float, float]]:
    return [(x, y) for x, y, *_ in line.get_points()]


def words(drawing) -> list[str]:
    return [text.dxf.text for text in drawing.modelspace().query("TEXT")]


def test_drawing_is_in_mm():
    drawing = read(flat_outline(shell()))

    assert drawing.header["$INSUNITS"] == 4
    assert drawing.header["$MEASUREMENT"] == 1


def test_outline_is_closed_as_long_as_the_shell_and_as_wide_as_its_girth():
    # worked case 1: 381 long, 14 3/4 in = 374.65 round; at the widest, 127 below the top, the edge is that far apart
    drawing = read(flat_outline(shell()))
    (outline,) = lines(drawing, "OUTLINE")
    edge = Polygon(points(outline))

    assert outline.closed
    assert edge.is_valid
    assert (edge.bounds[1], edge.bounds[3]) == pytest.approx((-381, 0), abs=1e-6)
    across = edge.intersection(box(-500, -127.01, 500, -126.99))
    assert across.bounds[2] - across.bounds[0] == pytest.approx(374.65, abs=0.02)
    assert abs(area(outline.vertices_in_wcs())) == pytest.approx(edge.area)


def test_slots_are_at_the_straps_on_both_sides():
    drawing = read(flat_outline(shell()))
    slots = [Polygon(points(line)) for line in lines(drawing, "STRAPS") if line.closed]

    assert [slot.centroid.y for slot in slots] == pytest.approx([-60, -60, -321, -321])
    assert slots[0].centroid.x == pytest.approx(-slots[1].centroid.x)
    # a strap of 25 mm goes through
    assert all(slot.bounds[3] - slot.bounds[1] == pytest.approx(32) for slot in slots)
    (outline,) = lines(drawing, "OUTLINE")
    assert all(Polygon(points(outline)).contains(slot) for slot in slots)


def test_square_measures_50_mm():
    (square,) = lines(read(flat_outline(shell())), "SCALE")

    shape = Polygon(points(square))
    assert (shape.bounds[2] - shape.bounds[0], shape.bounds[3] - shape.bounds[1]) == pytest.approx((50, 50))
    assert shape.area == pytest.approx(2500)


@pytest.mark.parametrize(
    ("side", "to_the_right"), [("left", "person's left: outer side"), ("right", "person's left: inner side")]
)
def test_left_is_left(side, to_the_right):
    # seen from outside, facing the person's front: the person's left is at the right
    drawing = read(flat_outline(shell(factories.entry(side=side))))
    text = next(text for text in drawing.modelspace().query("TEXT") if text.dxf.text == to_the_right)

    assert text.dxf.insert.x > 0
    assert f"T-0001 {side} revision 1" in words(drawing)


def test_what_is_left_to_trim_lies_below_the_finished_length():
    made = trimmed()
    drawing = read(flat_outline(made))
    (trim,) = lines(drawing, "TRIM")

    assert min(y for _, y in points(trim)) == pytest.approx(-made.length_mm - 10)
    assert "Dashed: 10 mm are left to trim at the fitting." in words(drawing)
    assert lines(read(flat_outline(shell())), "TRIM") == []


@pytest.mark.parametrize("reference", ["a\nb", "a\r\n0\nEOF", "50%%d", "^J", "é\u2028ü", "x" * 400])
def test_no_reference_breaks_the_drawing(reference):
    drawing = read(flat_outline(shell(reference=reference)))

    assert len(lines(drawing, "OUTLINE")) == 1
    assert not any("\n" in word or "\r" in word for word in words(drawing))


def test_text_codes_of_the_format_are_taken_apart():
    assert one_line("a\r\nb\tc") == "a  b c"
    assert one_line("5%%d ^J") == "5% %d ^ J"
