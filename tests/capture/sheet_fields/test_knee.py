"""The knee: what is open for which knee, what stands unasked, and what may be passed over."""

import pytest

from capture.sheet_fields import BY_KEY
from capture.sheet_fields.knee import FIELDS
from tests.capture.test_sheet_fields import PLAIN, standing_with

ALWAYS = {
    *("knee.pivots_seen", "knee.named", "knee.control", "knee.width", "knee.depth", "knee.max_flexion_deg"),
    *(
        "rear_room.thigh_behind_axis",
        "rear_room.axis_below_apex",
        "knee.label",
        "seen.knee",
        "service_points",
    ),
}
STOP = {"knee.stop_projection", "knee.stop_below_apex"}
THIGH_SIDE = {"knee.thigh_side_below_apex", "knee.thigh_side_width"}


@pytest.mark.parametrize(
    ("answers", "more"),
    [
        ({}, set()),
        ({"knee.pivots_seen": "several"}, {"knee.hardware_length"}),
        ({"knee.pivots_seen": "unsure"}, {"knee.hardware_length"}),
        ({"knee.control": "fluid"}, {"knee.hardware_length"}),
        ({"knee.named": "polycentric"}, {"knee.hardware_length", "pivots"}),
        ({"seen.knee": "stop"}, STOP),
        ({"seen.knee": "thigh_side"}, THIGH_SIDE),
        ({"seen.knee": "both"}, STOP | THIGH_SIDE),
    ],
)
def test_a_knee_opens_just_what_it_can_have(answers, more):
    """What isn't open is left out of the entry, so that nothing typed for another knee goes along unseen."""
    standing = standing_with(PLAIN | answers)

    assert {field.key for field in FIELDS if field.key in standing} == ALWAYS | more


def test_a_plain_knee_stands_as_one_that_turns_on_one_axis_without_a_cylinder():
    standing = standing_with(PLAIN)

    assert standing["knee.named"] == (False, "single_axis")
    assert standing["knee.control"] == (False, "mechanical")
    assert standing["seen.knee"] == (False, "nothing")


def test_only_what_cannot_always_be_reached_is_passed_over():
    """Of what a knee makes necessary: how low a stop ends and how wide the thigh side is don't show on every knee."""
    answers = {"knee.pivots_seen": "several", "knee.control": "powered", "seen.knee": "both"}
    standing = standing_with(PLAIN | answers)
    asked = {field.key for field in FIELDS if field.key in standing and standing[field.key][0]}

    passed = {key for key in asked if not BY_KEY[key].required}
    assert passed == {"knee.stop_below_apex", "knee.thigh_side_width"}


def test_nothing_that_is_only_offered_is_demanded():
    """Folded away, without an answer that stands meanwhile: Next must not want it of who opens it."""
    folded = [field for field in FIELDS if field.asked_when == "false" and field.starts_at is None]

    assert len(folded) == 7
    assert [field.key for field in folded if field.required] == []


def test_what_is_written_on_the_knee_is_taken_as_written():
    assert BY_KEY["knee.label"].kind == "text"
