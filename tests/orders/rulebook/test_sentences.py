import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from orders.reckoning.typed import read_length
from orders.rulebook.sentences import (
    decimal_text,
    filled,
    follows,
    printed,
    shown,
    trimmed_text,
    typed_value,
)

NB = "\u00a0"


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        (19.05, 1, "19.1"),
        (19.04, 1, "19.0"),
        (0.25, 1, "0.3"),
        (-0.25, 1, "−0.3"),
        (-0.04, 1, "0.0"),
        (0.0497, 1, "0.0"),
        (0.04, 1, "0.0"),
        (419.5, 0, "420"),
        (0.0, 4, "0.0000"),
        (1e15, 0, "1000000000000000"),
    ],
)
def test_decimals_round_halves_away_from_zero(value, places, text):
    assert decimal_text(value, places) == text


@pytest.mark.parametrize(
    ("name", "value", "finely", "text"),
    [
        ("gap_mm", 19.05, False, f"19.1{NB}mm"),
        ("gap_mm", 19.05, True, f"19.05{NB}mm"),
        ("gap_mm", 400.0, False, f"400{NB}mm"),
        ("gap_mm", 2.97, False, f"3.0{NB}mm"),
        ("mass_g", 461.97, False, f"462{NB}g"),
        ("dorsiflexion_deg", 12.0, False, "12°"),
        ("inertia_kg_m2", 0.016504, False, f"0.0165{NB}kg{NB}m²"),
        ("reach", 0.62, False, "0.62"),
        ("length_count", 2.0, False, "2"),
        ("length_typed", "16 1/2 in", False, "16 1/2 in"),
        ("foam_pad", True, False, "yes"),
        ("gap_mm", None, False, "?"),
    ],
)
def test_a_quantity_is_shown_with_its_unit(name, value, finely, text):
    assert shown(name, value, finely=finely) == text


def test_a_sentence_is_filled_by_names_only():
    known = {"gap_mm": 19.0, "what": "{gap_mm.__class__}"}

    assert filled("{gap_mm} and {what}", known) == f"19{NB}mm and {{gap_mm.__class__}}"
    assert filled("{gap_mm!r} {0} {} {gap mm}", known) == "{gap_mm!r} ? {} {gap mm}"


def test_an_offer_is_what_a_person_would_type():
    known = {"gap_mm": 19.05, "gap_needed_mm": 21.5, "shortest_rear": "short", "below_mm": -4.0}

    assert typed_value("{gap_mm}", known) == "19.05 mm"
    assert typed_value("{gap_needed_mm}", known) == "21.5 mm"
    assert typed_value("{shortest_rear}", known) == "short"
    assert typed_value("{below_mm}", known) == "-4 mm"
    assert typed_value("bare", known) == "bare"
    assert typed_value("{unknown_mm}", known) is None


def test_an_offer_can_be_read_where_it_is_typed():
    """A reading has four decimals at most: an uncertainty's root has more."""
    offered = typed_value("{gap_needed_mm}", {"gap_needed_mm": math.sqrt(470)})

    assert offered == "21.6795 mm"  # 21.67948...
    assert read_length(offered, "in").mm == 21.6795


@pytest.mark.parametrize(
    ("name", "value", "finely"),
    [
        *(
            ("gap_mm", value, finely)
            for value in (19.05, 19.0497, 19.0503, -0.3497, 400.0)
            for finely in (0, 1)
        ),
        ("mass_g", 461.497, 0),
        ("reach", 0.62497, 0),
    ],
)
def test_what_is_printed_is_the_number_that_is_shown(name, value, finely):
    number = shown(name, value, finely=finely).split(NB)[0].replace("−", "-")

    assert printed(name, value, finely) == float(number)


def result(taken: float, gap: float) -> dict:
    made = math.floor(Fraction(str(taken)) - Fraction(str(gap)))
    return {"length_taken_mm": taken, "gap_mm": gap, "finished_length_mm": made}


@pytest.mark.parametrize(
    ("taken", "gap", "text"),
    [
        (419.1, 19.05, f"419 taken, 19 left open: made 400{NB}mm long"),
        (420.6875, 19.05, f"420.7 taken, 19.1 left open: made 401{NB}mm long, rounded down"),
        (393.7, 12.7, f"394 taken, 13 left open: made 381{NB}mm long"),
        (400.0, 25.4, f"400.0 taken, 25.4 left open: made 374{NB}mm long, rounded down"),
        (419.96, 19.04, f"419.96 taken, 19.04 left open: made 400{NB}mm long, rounded down"),
        (419.497, 19.497, f"419 taken, 19 left open: made 400{NB}mm long"),
        (412.5, 12.4, f"412.5 taken, 12.4 left open: made 400{NB}mm long, rounded down"),
        # 16.2874 in: two hundred-thousandths short of another millimetre
        (413.69996, 12.7, f"413.69996 taken, 12.70000 left open: made 400{NB}mm long, rounded down"),
        # the mean of such a one and another, where a reading has five decimals the mean has six
        (413.699995, 12.699996, f"413.699995 taken, 12.699996 left open: made 400{NB}mm long, rounded down"),
    ],
)
def test_what_follows_is_said(taken, gap, text):
    assert follows(result(taken, gap)) == text


# To a millionth of a millimetre: a reading in inches has five decimals, the mean of two of them six.
@given(st.integers(120_000_000, 700_000_000), st.integers(0, 60_000_000))
def test_what_follows_adds_up_as_printed(taken, gap):
    values = result(taken / 1_000_000, gap / 1_000_000)

    words = follows(values).replace(",", "").split()

    printed = Fraction(words[0]) - Fraction(words[2])
    assert math.floor(printed) == values["finished_length_mm"]
    assert ("rounded" in words) == (printed != values["finished_length_mm"])
    assert "." in words[0] or printed == values["finished_length_mm"]


def test_nothing_follows_from_nothing():
    assert follows({}) is None
    assert follows({"length_taken_mm": 400.0, "gap_mm": 12.7, "finished_length_mm": None}) is None


def test_the_twin_says_the_same(js):
    twin = js("book/follows.js")
    values = [n * 0.0125 + n**2 * 0.31 - 40 for n in range(0, 60)]
    lengths = [(240 + n * 3.21875, 12 + n * 0.4375) for n in range(60)]
    lengths += [(413.69996, 12.7), (413.699995, 12.699996)]

    rows = [[value, places] for value in values for places in (0, 1, 3)]
    assert twin.map("decimalText", rows) == [decimal_text(*row) for row in rows]
    assert twin.map("trimmedText", rows) == [trimmed_text(*row) for row in rows]
    names = ["gap_mm", "mass_g", "reach", "dorsiflexion_deg", "inertia_kg_m2", "body_mass_kg"]
    rows = [[name, value, finely] for name in names for value in values for finely in (False, True)]
    assert twin.map("shown", rows) == [shown(name, value, finely=finely) for name, value, finely in rows]
    rows = [[result(round(taken, 6), round(gap, 6))] for taken, gap in lengths]
    assert twin.map("follows", rows) == [follows(*row) for row in rows]
    assert twin.map("typedValue", [["{gap_mm}", {"gap_mm": value}] for value in values]) == [
        typed_value("{gap_mm}", {"gap_mm": value}) for value in values
    ]


@pytest.mark.parametrize(
    ("name", "value", "text"),
    [
        ("max_flexion_deg", 12.36, "12.4°"),
        ("body_mass_kg", 71.26, f"71.3{NB}kg"),
        ("open_share", 0.12345, "0.123"),
        ("gap_mm", 5 + 0.9e-6, f"5{NB}mm"),
        ("gap_mm", 5 + 1.005e-6, f"5.0{NB}mm"),
    ],
)
def test_each_unit_has_its_decimals(name, value, text):
    assert shown(name, value) == text
