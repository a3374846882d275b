import json
import math
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from orders.reckoning import entry as entry_module
from orders.reckoning.entry import FIELDS, EntryError, entry_schema, read_entry, read_entry_text, words_of
from tests.orders.entries import entry_with, set_at

SCHEMA = json.loads(Path(entry_module.__file__).with_name("entry.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)

# The example of the design, its optional marks taken off.
WHOLE = {
    "schema": "shankline-entry-1", "reference": "NF-0147", "side": "left", "units": "in",
    "level": "transfemoral", "other_leg": "sound", "construction": "bare", "taken": "standing",
    "footwear": "low", "collar_above_rim": None,
    "length": ["16 1/2", "16 5/8"], "gap": None,
    "second_route": {"apex_to_floor": "20 1/4", "rim_to_floor": "3 3/4"},
    "girth": ["38.5 cm", "38.4 cm"], "girth_from": "sound_limb", "girth_over": "skin", "swelling": "none",
    "extra_girths": [{"above_floor": "5 in", "girth": "9 1/4"}],
    "knee": {"named": "polycentric", "pivots_seen": "several", "control": "mechanical",
             "hardware_length": "4 1/4", "width": None, "depth": None, "stop_projection": None,
             "stop_below_apex": None, "thigh_side_below_apex": None, "thigh_side_width": None,
             "max_flexion_deg": None, "label": "free text"},
    "foot": {"profile": "high", "ankle": "jointed", "hardware_above_rim": "3", "rim_depth": None,
             "axis_above_rim": None, "width": None, "depth": None, "dorsiflexion_deg": None,
             "plantarflexion_deg": None, "label": "free text"},
    "rear_room": {"thigh_behind_axis": None, "axis_below_apex": None}, "pivots": None,
    "pylon": {"behind_front_at_apex": None, "lean_forward_deg": None, "lean_outward_deg": None},
    "moving_part": None,
    "service_points": [{"what": "charging port", "side": "rear", "below_apex": "3", "stays_open": True}],
    "shell": {"wall": "thin", "rear": "short", "top": "plain", "colour": "slate", "finish": "matt",
              "buckle_side": "outer", "upper_strap": "75 mm", "lower_strap": None},
    "person": {"k_level": "K3", "heavy_wear": False, "needs_help_to_don": False, "age_band": "adult",
               "stature": None, "body_mass_kg": None, "sex": None},
    "answers": {"gap.outside_practice": "why"},
}  # fmt: skip
_OPTIONAL_WORDS = """collar_above_rim gap second_route girth_over swelling extra_girths knee.pivots_seen
knee.hardware_length knee.width knee.depth knee.stop_projection knee.stop_below_apex knee.thigh_side_below_apex
knee.thigh_side_width knee.max_flexion_deg knee.label foot.hardware_above_rim foot.rim_depth
foot.axis_above_rim foot.width foot.depth foot.dorsiflexion_deg foot.plantarflexion_deg foot.label rear_room
pivots pylon moving_part service_points shell.buckle_side shell.upper_strap shell.lower_strap person answers"""
OPTIONAL = _OPTIONAL_WORDS.split()
CHOICES = """side units level other_leg construction taken footwear girth_from girth_over swelling knee.named
knee.pivots_seen knee.control foot.profile foot.ankle shell.buckle_side person.k_level schema"""
ODD = [None, True, 0, -1, 1e308, "", "x", "\x00", "\ud800", [], [1], {}, {"a": 1}, "1" * 1_000_000]


def refusal(value, read=read_entry) -> EntryError | None:
    try:
        read(value)
    except EntryError as error:
        return error
    return None


def refused(value) -> EntryError:
    error = refusal(value)
    assert error
    assert "\n" not in str(error)
    return error


def without(path: str) -> dict:
    value = json.loads(json.dumps(WHOLE))
    *groups, last = path.split(".")
    group = value
    for key in groups:
        group = group[key]
    del group[last]
    return value


def test_a_choice_s_words_are_known_by_its_path():
    assert words_of("foot.ankle") == ("solid", "spring", "jointed", "wide")
    assert words_of("side") == ("left", "right")
    assert [words_of(path) for path in ("length", "knee", "shell.wall", "moving_part.travel")] == [()] * 4


def test_the_whole_example_is_read():
    assert read_entry(WHOLE) == WHOLE


@pytest.mark.parametrize("path", OPTIONAL)
def test_an_optional_field_may_be_null_or_left_out(path):
    nulled = json.loads(json.dumps(WHOLE))
    set_at(nulled, path, None)

    assert read_entry(without(path)) == read_entry(nulled)


def _paths(value, path=""):
    for key, part in value.items():
        yield path + key
        if isinstance(part, dict) and key != "answers":
            yield from _paths(part, f"{path}{key}.")


@pytest.mark.parametrize("path", [path for path in _paths(WHOLE) if path not in OPTIONAL])
def test_any_other_field_that_is_missing_is_named(path):
    assert refused(without(path)).field == path


@pytest.mark.parametrize("group", ["", "knee.", "foot.", "shell.", "person.", "pylon."])
def test_an_unknown_key_is_refused_with_its_path(group):
    value = json.loads(json.dumps(WHOLE))
    set_at(value, f"{group}colour_of_sky", "grey")

    assert refused(value).field == f"{group}colour_of_sky"


def test_a_key_given_twice_is_refused_with_its_path():
    text = json.dumps(WHOLE).replace('"wall": "thin"', '"wall": "thin", "wall": "thick"')

    with pytest.raises(EntryError) as error:
        read_entry_text(text)
    assert (error.value.field, error.value.says) == ("shell.wall", "is given twice.")


@pytest.mark.parametrize("path", CHOICES.split())
def test_every_choice_is_one_of_its_words(path):
    assert refused(entry_with({path: "purple"})).field == path


@pytest.mark.parametrize("path", sorted(_paths(WHOLE)))
@pytest.mark.parametrize("odd", ODD, ids=lambda odd: repr(odd)[:20])
def test_reader_and_schema_agree_on_odd_values(path, odd):
    value = json.loads(json.dumps(WHOLE))
    set_at(value, path, odd)

    error = refusal(value)

    assert error is None or error.field.startswith(path.split(".")[0])
    assert len(str(error)) < 300
    unwritable = isinstance(odd, str) and odd in ("\x00", "\ud800")  # JSON Schema has no word for these
    assert (error is None) == (VALIDATOR.is_valid(value) and not unwritable)


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)


@settings(max_examples=300, deadline=None)
@given(path=st.sampled_from(sorted(_paths(WHOLE))), odd=json_values)
def test_whatever_stands_there_it_is_read_or_refused(path, odd):
    value = json.loads(json.dumps(WHOLE))
    set_at(value, path, odd)

    error = refusal(value)

    assert error is None or error.field.startswith(path.split(".")[0])


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[1, 2",
        "NaN",
        '{"gap": Infinity}',
        '{"gap": -Infinity}',
        "[" * 200_000,
        "1" * 5000,
        '{"a":' * 50_000,
    ],
)
def test_text_that_is_no_json_is_refused_in_one_line(text):
    with pytest.raises(EntryError) as error:
        read_entry_text(text)
    assert "\n" not in str(error.value)
    assert len(str(error.value)) < 200


def test_numbers_out_of_all_bounds_are_refused():
    for number in (math.nan, math.inf, -math.inf, 1e300, 10**400):
        assert (
            refused(entry_with({"person": WHOLE["person"] | {"body_mass_kg": number}})).field
            == "person.body_mass_kg"
        )


def test_more_than_three_readings_are_refused():
    assert refused(entry_with({"length": ["400"] * 4})).field == "length"
    assert refused(entry_with({"girth": []})).field == "girth"


def test_the_written_schema_is_the_one_of_the_shapes():
    assert entry_schema() == SCHEMA
    VALIDATOR.check_schema(SCHEMA)


def test_fields_are_the_dotted_paths_of_the_key_set():
    assert set(_paths(WHOLE)) <= FIELDS
