"""What the pen writes: places to a tenth of a pixel, a right leg mirrored, lettering never."""

import xml.etree.ElementTree as ET

import pytest

from orders.figure.pen import Pen, decimal, tenths


@pytest.mark.parametrize(
    ("value", "text"),
    [(12.0, "12"), (12.34, "12.3"), (0.05, "0.1"), (0.04, "0"), (-0.04, "0"), (-0.05, "0"), (-0.06, "-0.1"),
     (-12.5, "-12.5"), (100.0, "100"), (99.97, "100")],
)  # fmt: skip
def test_places_are_written_to_a_tenth_halves_up(value, text):
    assert tenths(value) == text


def test_finer_parts_keep_the_noughts_between_and_drop_those_at_the_end():
    assert [decimal(value, 100) for value in (1.05, 1.5, 1.004, -0.005)] == ["1.05", "1.5", "1", "0"]


def written(mirrored: bool) -> list[ET.Element]:
    """One of each, of a picture 100 px wide at 2 px to the mm, with the origin of the leg at (60, 10)."""
    pen = Pen(2.0, 100.0, mirrored)
    pen.stand_at(60.0, 10.0, -1)
    pen.circle("a", 5.0, 3.0, 1.5)
    pen.box("b", (0.0, 0.0), (10.0, 4.0))
    pen.path("c", [("M", [(0.0, 0.0)]), ("L", [(10.0, 4.0)])])
    pen.text("d", pen.at(5.0, 3.0), "a < b", "start")
    return list(ET.fromstring(f"<svg>{''.join(pen.out)}</svg>"))


def test_a_left_leg_points_left():
    circle, box, path, text = written(False)

    assert (circle.get("cx"), circle.get("cy"), circle.get("r")) == ("50", "16", "3")
    assert [box.get(key) for key in ("x", "y", "width", "height")] == ["40", "10", "20", "8"]
    assert path.get("d") == "M60 10L40 18"
    assert (text.get("x"), text.get("text-anchor"), text.text) == ("50", "start", "a < b")


def test_a_right_leg_is_the_same_mirrored_with_its_letters_as_they_read():
    circle, box, path, text = written(True)

    assert (circle.get("cx"), circle.get("cy"), circle.get("r")) == (
        "50",
        "16",
        "3",
    )  # in the picture's middle
    assert [box.get(key) for key in ("x", "y", "width", "height")] == ["40", "10", "20", "8"]
    assert path.get("d") == "M40 10L60 18"
    assert (text.get("x"), text.get("text-anchor"), text.text) == ("50", "end", "a < b")
    assert "transform" not in text.attrib


def test_a_leg_that_lies_has_its_apex_where_it_stood_and_its_foot_to_the_side():
    pen = Pen(2.0, 100.0, False)
    pen.stand_at(60.0, 10.0, 1, lying=True)

    assert pen.at(0.0, 0.0) == (60.0, 10.0)
    assert pen.at(0.0, 20.0) == (100.0, 10.0)  # 20 mm down the leg: along the picture
    assert pen.at(5.0, 0.0) == (60.0, 0.0)  # forward: up
