import pytest

from orders.figure_rows import digits, figure_rows, shown_values
from tests import factories

RESULT = {
    "length_taken_mm": 420.6875,
    "length_U_mm": 7.517,
    "gap_mm": 19.05,
    "finished_length_mm": 401.0,
    "girth_mm": 384.5,
    "girth_U_mm": 4.899,
    "inside_girth_mm": 359.367,
    "upper_strap_mm": 130.45,
    "strap_spacing_mm": 190.9,
    "lower_strap_mm": 79.65,
    "rear_end_above_rim_mm": 171.43,
    "rear_trim_mm": None,
    "margin_mm": 6.791,
    "mass_g": None,
    "derivations": {"gap_mm": "19.05 mm is advised."},
}
ENTRY = factories.entry(knee={"hardware_length": "4 1/4"}, foot={"hardware_above_rim": None})


# Halves go away from zero, as with a pencil: 384.5 is 385, where round() would say 384.
@pytest.mark.parametrize(
    ("value", "decimals", "text"),
    [
        (384.5, 0, "385"),
        (2.5, 0, "3"),
        (19.05, 2, "19.05"),
        (19.05, 1, "19.1"),
        (12.7, 2, "12.7"),
        (401.0, 1, "401"),
        (100.0, 0, "100"),
        (-20.0, 1, "−20"),
        (-0.04, 1, "0"),
    ],
)
def test_digits_round_half_away_from_zero_and_drop_idle_zeros(value, decimals, text):
    assert digits(value, decimals) == text


def test_rows_carry_unit_spread_and_how_they_came_about():
    rows = {row.key: row for row in figure_rows(ENTRY, RESULT)}

    assert (rows["length_taken_mm"].value, rows["length_taken_mm"].unit) == ("420.7", "mm")
    assert rows["length_taken_mm"].spread == "8"
    assert rows["gap_mm"].came_about == "19.05 mm is advised."
    assert rows["knee.hardware_length"].value == "108"  # 4 1/4 in is 107.95 mm
    assert rows["knee.hardware_length"].came_about == "4 1/4 in, as measured."


def test_what_is_not_known_makes_no_row():
    keys = [row.key for row in figure_rows(ENTRY, RESULT)]

    assert {"mass_g", "rear_trim_mm", "foot.hardware_above_rim"} & set(keys) == set()
    assert "margin_mm" in keys


def test_only_a_changed_figure_says_what_it_was():
    before = {
        **RESULT,
        "lower_strap_mm": 92.35,
        "strap_spacing_mm": 178.2,
    }  # 130 + 178 + 92 isn't 401: to tenths

    was = {row.key: row.was for row in figure_rows(ENTRY, RESULT, (ENTRY, before)) if row.was}

    assert was == {"lower_strap_mm": "92.4", "strap_spacing_mm": "178.2"}


def test_straps_are_in_whole_mm_where_they_add_up():
    values = shown_values(ENTRY, RESULT)  # 130 + 191 + 80 = 401

    assert [values[key] for key in ("upper_strap_mm", "strap_spacing_mm", "lower_strap_mm")] == [
        "130",
        "191",
        "80",
    ]


def test_straps_get_a_decimal_where_whole_mm_would_not_add_up():
    # 173 + 98 + 60 would be 331, not 330
    result = {
        **RESULT,
        "finished_length_mm": 330.0,
        "upper_strap_mm": 172.5,
        "strap_spacing_mm": 97.5,
        "lower_strap_mm": 60,
    }

    values = shown_values(ENTRY, result)

    assert [values[key] for key in ("upper_strap_mm", "strap_spacing_mm", "lower_strap_mm")] == [
        "172.5",
        "97.5",
        "60",
    ]
