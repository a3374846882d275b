"""The foot: what is open for which foot, what stands unasked, and what may be passed over."""

import pytest

from capture.sheet_fields import BY_KEY
from capture.sheet_fields.foot import FIELDS
from tests.capture.test_sheet_fields import PLAIN, standing_with

ALWAYS = {
    *("foot.profile", "foot.ankle", "foot.rim_depth", "foot.axis_above_rim", "foot.label", "seen.pylon"),
    *("foot.dorsiflexion_deg", "foot.plantarflexion_deg"),
}
MECHANISM = {"foot.hardware_above_rim", "foot.width", "foot.depth"}
MOVING = {
    *("moving_part.from_above_rim", "moving_part.to_above_rim"),
    *("moving_part.travel", "moving_part.rotation_deg"),
}


@pytest.mark.parametrize(
    ("answers", "more"),
    [
        ({}, set()),
        ({"foot.profile": "high"}, MECHANISM),
        ({"seen.pylon": "moves"}, MOVING),
        ({"foot.profile": "high", "seen.pylon": "moves"}, MECHANISM | MOVING),
    ],
)
def test_a_foot_opens_just_what_it_can_have(answers, more):
    """What isn't open is left out of the entry, so that a low foot has no mechanism's measures along."""
    standing = standing_with(PLAIN | answers)

    assert {field.key for field in FIELDS if field.key in standing} == ALWAYS | more


def test_a_low_foot_stands_on_a_plain_tube():
    assert standing_with(PLAIN)["seen.pylon"] == (False, "plain")


def test_only_what_the_eye_or_the_papers_may_not_tell_is_passed_over():
    """The axis may be hidden; travel and turn stand in the maker's papers. Where a part lies can be measured."""
    answers = {"foot.profile": "high", "foot.ankle": "jointed", "seen.pylon": "moves"}
    standing = standing_with(PLAIN | answers)
    asked = {field.key for field in FIELDS if field.key in standing and standing[field.key][0]}

    passed = {key for key in asked if not BY_KEY[key].required}
    assert passed == {"foot.axis_above_rim", "moving_part.travel", "moving_part.rotation_deg"}


def test_nothing_that_is_only_offered_is_demanded():
    folded = [field for field in FIELDS if field.asked_when == "false"]

    assert len(folded) == 6
    assert [field.key for field in folded if field.required] == []


def test_what_is_written_on_the_foot_is_taken_as_written():
    assert BY_KEY["foot.label"].kind == "text"
