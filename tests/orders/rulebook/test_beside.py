"""The checks that rest on photos and earlier orders: each fires, is on its limit, is clear of it, and keeps quiet.

Limits are sums that can be followed by hand: 400 taken with a solid ankle's gap entered as 13 makes 387; girth 380.
"""
# ruff: noqa: E501  (a table, one case to a line)

import pytest

from orders.reckon import reckon
from tests.orders.entries import catalogue, entry_with

TARN = catalogue()
SEEN = dict.fromkeys(("photo_front", "photo_side", "photo_knee", "photo_foot"), True)
POLY = {"knee.named": "polycentric", "knee.hardware_length": "100"}
HIGH = {"foot.profile": "high", "foot.hardware_above_rim": "60"}
LAST = {"last_length_mm": 387.0, "last_girth_mm": 380.0}
EARLIER = {"earlier_days": 12, "is_remake": False}
LENGTH = {"photo_length_mm": 400.0, "photo_length_U_mm": 8.0}
HARDWARE = {"photo_hardware_length_mm": 100.0, "photo_hardware_length_U_mm": 5.5}
ABOVE = {"photo_hardware_above_rim_mm": 60.0, "photo_hardware_above_rim_U_mm": 4.0}


def flags(beside: dict | None, changes: dict | None = None) -> dict[str, dict]:
    entry = entry_with({"gap": "13"} | (changes or {}))
    return {flag["id"]: flag for flag in reckon(entry, TARN, beside=beside)["flags"]}


# (check, the entry's changes, beside that fires it, beside on its limit, beside well clear)
CASES = [
    ("photo.missing", {}, SEEN | {"photo_front": False}, SEEN, SEEN),
    ("photo.missing", {}, SEEN | {"photo_side": False}, SEEN, SEEN),
    ("photo.missing", POLY, SEEN | {"photo_knee": False}, SEEN, SEEN),
    ("photo.missing", HIGH, SEEN | {"photo_foot": False}, SEEN, SEEN),
    ("photo.disagrees", {}, LENGTH | {"photo_length_mm": 418.0001}, LENGTH | {"photo_length_mm": 418}, LENGTH),
    ("photo.disagrees", {}, LENGTH | {"photo_length_mm": 381.9999}, LENGTH | {"photo_length_mm": 382}, LENGTH),
    ("photo.disagrees", POLY, HARDWARE | {"photo_hardware_length_mm": 115.5001}, HARDWARE | {"photo_hardware_length_mm": 115.5}, HARDWARE),
    ("photo.disagrees", HIGH, ABOVE | {"photo_hardware_above_rim_mm": 45.9999}, ABOVE | {"photo_hardware_above_rim_mm": 46}, ABOVE),
    ("order.repeated", {}, EARLIER | {"earlier_days": 30}, EARLIER | {"earlier_days": 31}, EARLIER | {"earlier_days": 400}),
    ("order.repeated", {}, EARLIER | {"earlier_days": 0}, EARLIER | {"is_remake": True}, {"is_remake": False}),
    ("order.changed", {}, LAST | {"last_length_mm": 376.9999}, LAST | {"last_length_mm": 377}, LAST),
    ("order.changed", {}, LAST | {"last_length_mm": 397.0001}, LAST | {"last_length_mm": 397}, LAST),
    ("order.changed", {}, LAST | {"last_girth_mm": 395.0001}, LAST | {"last_girth_mm": 395}, LAST),
    ("order.changed", {}, LAST | {"last_girth_mm": 364.9999}, LAST | {"last_girth_mm": 365}, LAST),
]  # fmt: skip


@pytest.mark.parametrize(("check", "changes", "fires", "limit", "clear"), CASES)
def test_a_check_fires_beyond_its_limit_and_not_on_it(check, changes, fires, limit, clear):
    found = flags(fires, changes)

    assert check in found
    assert found[check]["fields"]
    assert not [mark for mark in "{}?" if mark in found[check]["says"]]
    assert check not in flags(limit, changes)
    assert check not in flags(clear, changes)
    assert check not in flags(None, changes)


@pytest.mark.parametrize(
    ("changes", "beside", "field"),
    [
        ({}, LENGTH | {"photo_length_mm": 500}, "length"),
        (POLY, HARDWARE | {"photo_hardware_length_mm": 200}, "knee.hardware_length"),
        (HIGH, ABOVE | {"photo_hardware_above_rim_mm": 10}, "foot.hardware_above_rim"),
    ],
)
def test_a_photo_that_disagrees_sends_back_to_the_tape_first(changes, beside, field):
    """The first field is the way out that is offered: a photo is a check, never in the tape's place."""
    assert flags(beside, changes)["photo.disagrees"]["fields"] == [field, "photos"]


@pytest.mark.parametrize(
    ("changes", "missing", "level"),
    [
        ({}, "photo_knee", "note"),
        ({}, "photo_foot", "note"),
        (POLY, "photo_knee", "explain"),
        (POLY, "photo_front", "note"),
        ({"knee.control": "fluid", "knee.hardware_length": "100"}, "photo_knee", "explain"),
        (HIGH, "photo_foot", "explain"),
        (HIGH, "photo_side", "note"),
    ],
)
def test_a_missing_near_view_of_a_hard_part_wants_a_reason(changes, missing, level):
    assert flags(SEEN | {missing: False}, changes)["photo.missing"]["level"] == level


def test_the_strictest_of_several_missing_views_counts():
    flag = flags(dict.fromkeys(SEEN, False), POLY)["photo.missing"]

    assert (flag["level"], flag["at"]) == ("explain", "knee")
    assert flag["says"].count("missing") == 4
    assert flag["do"].endswith("or say why that can't be.")


def test_an_explain_from_beside_wants_its_answer_before_it_can_be_sent():
    entry = entry_with(POLY)
    beside = SEEN | {"photo_knee": False}

    assert reckon(entry, TARN, beside=SEEN)["sendable"]
    assert not reckon(entry, TARN, beside=beside)["sendable"]
    assert reckon(entry | {"answers": {"photo.missing": "camera broke"}}, TARN, beside=beside)["sendable"]


@pytest.mark.parametrize(
    ("days", "says"),
    [(0, "is of today"), (1, "is of yesterday"), (2, "is 2 days old"), (30, "is 30 days old")],
)
def test_the_other_order_s_age_is_said_in_words(days, says):
    assert says in flags(EARLIER | {"earlier_days": days})["order.repeated"]["says"]


def test_length_and_girth_that_both_changed_are_one_flag():
    flag = flags({"last_length_mm": 360.0, "last_girth_mm": 350.0})["order.changed"]

    assert flag["fields"] == ["length", "girth"]
    assert "That was 360\u00a0mm long; this one is 387\u00a0mm." in flag["says"]
    assert "That was 350\u00a0mm round; this one is 380\u00a0mm." in flag["says"]


@pytest.mark.parametrize(
    "beside", [{"weather": "wet"}, {"photo_knee": 1}, {"earlier_days": "12"}, {"earlier_days": -1}]
)
def test_the_phone_refuses_what_the_book_does_not_know_too(js, beside):
    throws = """(module, [beside, types]) => {
      try { module.readBeside(beside, types); return null; } catch (error) { return error.message; }
    }"""
    types = {"photo_knee": "flag", "earlier_days": "number"}

    assert js("book/beside.js").evaluate(throws, [beside, types]).startswith(f"beside.{next(iter(beside))}: ")
    assert js("book/beside.js").evaluate(throws, [{"photo_knee": True, "earlier_days": None}, types]) is None
