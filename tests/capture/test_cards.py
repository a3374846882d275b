import pytest

from capture.cards import KINDS, LOOKED_AT, for_sheet, held_fields
from orders.reckoning.entry import FIELDS as ENTRY_FIELDS

HOLDS = {"knee.named": "polycentric", "knee.control": "fluid", "knee.hardware_length": "108 mm"}


@pytest.mark.parametrize("kind", KINDS)
def test_a_card_holds_only_what_an_entry_takes(kind):
    fields = held_fields(kind)

    assert len(fields) > 5
    assert all(field.key in ENTRY_FIELDS and field.home == "entry" for field in fields)


def test_what_can_be_seen_or_measured_is_never_filled():
    everything = {field.key: "x" for kind in KINDS for field in held_fields(kind)}

    filled = for_sheet("knee", "Ours", everything)["fills"] | for_sheet("foot", "Ours", everything)["fills"]

    assert not set(filled) & set(LOOKED_AT)
    assert not {"knee.pivots_seen", "knee.hardware_length", "foot.profile", "foot.hardware_above_rim"} & set(
        filled
    )


def test_a_card_fills_the_rest_and_carries_its_own_name():
    assert for_sheet("knee", "Ours, charged", HOLDS)["fills"] == {
        "knee.named": "polycentric",
        "knee.control": "fluid",
        "knee.label": "Ours, charged",
    }


@pytest.mark.parametrize(("named", "pins"), [("single_axis", "one"), ("polycentric", "several")])
def test_a_named_knee_tells_how_many_pins_one_should_see(named, pins):
    assert for_sheet("knee", "Ours", {"knee.named": named})["expects"] == {"knee.pivots_seen": pins}


def test_what_one_must_measure_is_only_expected():
    assert for_sheet("knee", "Ours", HOLDS)["expects"]["knee.hardware_length"] == "108 mm"
    assert for_sheet("foot", "Ours", {"foot.profile": "high"}) == {
        "fills": {"foot.label": "Ours"},
        "expects": {"foot.profile": "high"},
    }
