"""The girth: what stands unasked, what warns before the tape goes round, and how many may be added."""

from capture.sheet_fields import BY_KEY
from orders.reckoning.entry import ENTRY
from tests.capture.test_sheet_fields import PLAIN, standing_with


def test_a_sound_calf_is_measured_on_the_skin_and_not_swollen_unless_said():
    standing = standing_with(PLAIN)

    assert standing["girth_from"] == (False, "sound_limb")
    assert standing["girth_over"] == (False, "skin")
    assert standing["swelling"] == (False, "none")


def test_a_calf_that_must_not_be_measured_is_named_before_the_tape_goes_round_it():
    """A hot, red or suddenly swollen calf is not measured on: medical advice first."""
    told = ("Hot, red or suddenly swollen", "edical advice first")

    assert [key for key in ("girth", "swelling") for words in told if words not in BY_KEY[key].caution] == []


def test_girths_elsewhere_are_offered_and_no_more_than_the_entry_holds():
    field = BY_KEY["extra_girths"]

    assert not field.required
    assert 1 < field.most_rows <= ENTRY.fields["extra_girths"].most
    assert [column.key for column in field.columns] == list(ENTRY.fields["extra_girths"].item.fields)
    assert [column.key for column in field.columns if column.signed] == []


def test_girth_is_read_repeatedly_and_held_against_its_ordinary_range():
    assert (BY_KEY["girth"].kind, BY_KEY["girth"].quantity) == ("readings", "girth")
