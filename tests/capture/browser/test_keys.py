"""What a press of the sheet's own keypad makes of the text so far."""

import pytest


@pytest.fixture(scope="module")
def keys(js):
    return js("sheet/keys.js")


@pytest.mark.parametrize(
    ("text", "fraction", "makes"),
    [
        ("16", "1/2", "16 1/2"),
        ("", "1/2", "1/2"),
        ("16.", "1/2", "16 1/2"),
        ("16 1/2", "5/8", "16 5/8"),
        ("1/2", "5/8", "5/8"),
        ("16 ", "3/8", "16 3/8"),
    ],
)
def test_fraction_key_joins_or_replaces(keys, text, fraction, makes):
    assert keys.call("withFraction", text, fraction) == makes


@pytest.mark.parametrize(
    ("text", "makes"),
    [
        ("16", "16 1/16"),
        ("16 1/2", "16 9/16"),
        ("16 7/16", "16 1/2"),
        ("16 15/16", "17"),
        ("15/16", "1"),
        ("", "1/16"),
        ("16 1/32", "16 1/32"),
        ("16.5", "16.5"),
        ("16 in", "16 in"),
    ],
)
def test_sixteenth_is_added_where_the_text_is_inches_and_sixteenths(keys, text, makes):
    assert keys.call("plusSixteenth", text) == makes


@pytest.mark.parametrize(
    ("text", "makes"),
    [("16 1/2", "16"), ("39.4 cm", "39.4"), ("39.4", "39."), ("1/2", "1/"), ("", "")],
)
def test_erasing_takes_back_one_press(keys, text, makes):
    assert keys.call("takenBack", text) == makes


@pytest.mark.parametrize(
    ("text", "unit", "makes"),
    [("39.4", "cm", "39.4 cm"), ("39.4 cm", "in", "39.4 in"), ("39.4in", "mm", "39.4 mm"), ("", "cm", "")],
)
def test_unit_key_sets_the_unit_once(keys, text, unit, makes):
    assert keys.call("withUnit", text, unit) == makes


@pytest.mark.parametrize(
    ("text", "makes"), [("39", "39.5"), ("39.4", "39.4"), ("39,4", "39,4"), ("", ""), ("16 1/2", "16 1/2")]
)
def test_half_is_added_to_a_whole_number_only(keys, text, makes):
    assert keys.call("withHalf", text) == makes


@pytest.mark.parametrize(
    ("text", "typed", "makes"), [("39.4", False, "39.4 cm"), ("39.4 cm", True, "39.4 cm"), (" ", False, " ")]
)
def test_bare_number_is_settled_in_the_unit_it_was_typed_in(keys, text, typed, makes):
    assert keys.call("settledIn", text, "cm", typed) == makes
