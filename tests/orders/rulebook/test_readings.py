"""What an entry's fields are read as, one by one; what can't be read is said at its field."""

import pytest

from orders.rulebook.book import load_book
from orders.rulebook.readings import Read, listed, read_givens
from orders.rulebook.strings import STRINGS
from tests.orders.entries import entry_with

BY_READING = {check["id"]: check for check in load_book().checks if "by" in check}
# Between a quarter and ten and a quarter, as no field's limits are: they are said with one decimal.
NUMBER = {"field": "knee.max_flexion_deg", "read": "number", "at": "knee", "least": 0.24, "most": 10.26}


def read(changes: dict, givens: dict | None = None) -> Read:
    return read_givens(entry_with(changes), givens or {}, BY_READING)


def says(changes: dict, givens: dict | None = None) -> str:
    (flag,) = read(changes, givens).flags
    assert flag.id == "reading.unreadable"
    return flag.says


@pytest.mark.parametrize(
    ("parts", "words"), [(["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")]
)
def test_parts_in_words(parts, words):
    assert (listed(parts), listed(parts).parts) == (words, tuple(parts))


def test_what_is_no_length_is_refused_and_not_called_too_long():
    assert STRINGS["too_long"] not in says({"girth": ["thick"]})


def test_a_length_longer_than_any_leg_is_read_and_refused():
    assert read({"girth": ["3000 mm"]}).known["girth_read_mm"] == 3000
    assert says({"girth": ["3001 mm"]}).endswith(STRINGS["too_long"])


def test_a_number_out_of_its_limits_is_said_with_them():
    given = {"max_flexion_deg": NUMBER}

    assert read({"knee.max_flexion_deg": 0.24}, given).known["max_flexion_deg"] == 0.24
    assert "0.2" in says({"knee.max_flexion_deg": 12}, given)
    assert "10.3" in says({"knee.max_flexion_deg": 12}, given)
    assert "0.24" not in says({"knee.max_flexion_deg": 12}, given)


def test_a_number_is_said_back_to_four_decimals():
    said = says({"knee.max_flexion_deg": 12.123456}, {"max_flexion_deg": NUMBER})

    assert "12.1235" in said
    assert "12.12346" not in said


def test_a_long_text_in_place_of_a_number_is_said_back_to_its_24th_letter():
    letters = "abcdefghijklmnopqrstuvwxyz"

    said = says({"knee.max_flexion_deg": letters}, {"max_flexion_deg": NUMBER})

    assert letters[:24] in said
    assert letters[:25] not in said


def test_a_girth_may_be_taken_on_the_floor_and_is_none_at_nought():
    taken = read({"extra_girths": [{"above_floor": "0", "girth": "230 mm"}]})
    assert (taken.flags, taken.extra_girths) == ([], [(0.0, 230.0)])

    (flag,) = read({"extra_girths": [{"above_floor": "80 mm", "girth": "0"}]}).flags
    assert flag.fields == ("extra_girths",)
