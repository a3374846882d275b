from fractions import Fraction

import pytest

from orders.readings import length_mm, typed_readings, understood
from tests import factories


def test_each_text_is_kept_as_typed_beside_what_was_understood():
    entry = factories.entry(length=["16 1/2", "41.9 cm"], girth=["385 mm"], second_route=None)

    read = [(reading.label, reading.typed, reading.says) for reading in typed_readings(entry)]

    assert read == [
        ("Length, 1", "16 1/2", "16\u00a01/2\u00a0in is 419.1\u00a0mm"),
        ("Length, 2", "41.9 cm", "41.9\u00a0cm is 419\u00a0mm"),
        ("Girth", "385 mm", "385\u00a0mm is about 15\u00a03/16\u00a0in"),
    ]


def test_readings_inside_lists_are_found():
    entry = factories.entry(
        extra_girths=[{"above_floor": "5 in", "girth": "9 1/4"}],
        service_points=[{"what": "port", "side": "rear", "below_apex": "3", "stays_open": True}],
    )

    read = {reading.label: reading.typed for reading in typed_readings(entry)}

    assert read["Further girth, above the floor"] == "5 in"
    assert read["Further girth"] == "9 1/4"
    assert read["port, below the apex"] == "3"


def test_answers_that_are_no_measurement_are_left_out():
    paths = {reading.path for reading in typed_readings(factories.entry(foot={"dorsiflexion_deg": "12"}))}

    assert paths == {"length", "girth", "second_route.apex_to_floor", "second_route.rim_to_floor"}


def test_axis_below_the_rim_is_said_so():
    assert understood("-20", "mm") == "below the rim: 20\u00a0mm is about 13/16\u00a0in"
    assert length_mm("−20", "mm") == -20


# 1 in is 25.4 mm exactly, so 16 1/2 in is 419.1 mm.
@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [("16 1/2", "in", Fraction(4191, 10)), ("39.4 cm", "mm", 394), (None, "mm", None), ("16 1/", "in", None)],
)
def test_length_in_mm_is_exact_or_none(text, unit, mm):
    assert length_mm(text, unit) == mm
