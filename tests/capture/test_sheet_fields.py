import dataclasses
import re
from collections.abc import Iterator

import pytest

from capture.seal import SEAL
from capture.sheet_fields import ADVISED, BY_KEY, FIELDS, FIRST_OPTION, PARTS, Field, fields_of
from orders.figure.data import FIGURE
from orders.reckoning.entry import ENTRY
from orders.reckoning.entry import FIELDS as ENTRY_FIELDS
from orders.reckoning.shape import Choice, Flag, ListOf
from orders.rulebook.book import load_book
from orders.rulebook.evaluate import evaluate
from orders.rulebook.expression import read_expression

CHOSEN = [field for field in FIELDS if field.kind == "choice" and field.home == "entry"]
OPTIONS = {"walls", "rears", "tops", "colours", "finishes"}
# What the entry holds beside the fields, and where it comes from.
NOT_FIELDS = {
    "schema": "always the same",
    "reference": "the visit's",
    "units": "the tape's, kept with the readings",
    "answers": "reasons, given under the flags that ask for them",
    "shell.upper_strap": "proposed by a workshop and taken up with the reply",
    "shell.lower_strap": "proposed by a workshop and taken up with the reply",
}
MOST_WORDS = 30
PLAIN = {
    "side": "left",
    "knee.pivots_seen": "one",
    "foot.profile": "low",
    "foot.ankle": "solid",
    "length": "15 1/2",
    "girth": "15",
    "workshop": "a",
    "shell.rear": "short",
}


def names_in(tree) -> Iterator[str]:
    if isinstance(tree, str):
        yield tree
    elif isinstance(tree, list):
        for part in tree[1:]:
            if tree[0] != "in" or part is tree[1]:
                yield from names_in(part)


def shape_of(key: str):
    shape = ENTRY
    for step in key.split("."):
        shape = shape.fields[step]
    return shape


def standing_with(answers: dict[str, str]) -> dict[str, tuple[bool, str]]:
    """Every open field of a sheet with these answers, as the phone finds them in one pass, in order.

    Of each whether it is asked, and what stands there, "" for nothing.
    """
    known: dict[str, str] = {}
    standing = {}
    for field in FIELDS:
        known[field.name] = ""
        if not evaluate(read_expression(field.open_when), known):
            continue
        is_asked = not field.offered and bool(evaluate(read_expression(field.asked_when), known))
        start = "" if is_asked or field.starts_at is None else str(field.starts_at)
        known[field.name] = answers.get(field.key, start)
        standing[field.key] = is_asked, known[field.name]
    return standing


def asked_with(answers: dict[str, str]) -> list[str]:
    """Keys of the fields that a sheet with these answers asks.

    Photos have their place at the end of every sheet and are demanded by none; the marks are made, not answered.
    """
    asked = [key for key, (is_asked, _value) in standing_with(answers).items() if is_asked]
    return [key for key in asked if BY_KEY[key].kind not in ("photos", "marks")]


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.key)
def test_field_has_its_place_in_what_is_sent(field):
    if field.home == "seal":
        assert field.key in SEAL.fields
    else:
        assert (field.key in ENTRY_FIELDS) == (field.home == "entry")


@pytest.mark.parametrize(
    "field", [field for field in FIELDS if field.home == "sheet"], ids=lambda field: field.key
)
def test_a_question_of_the_sheets_own_can_be_told_from_what_it_asks_for(field):
    """One answer holds nothing; of the others each holds fields that are asked by it, and no two the same."""
    held = [choice.holds for choice in field.choices]

    assert held[0] == ()
    assert len(set(held)) == len(held)
    for choice in field.choices:
        asked = {
            other.key
            for other in FIELDS
            if field.name in names_in(read_expression(other.asked_when))
            and evaluate(read_expression(other.asked_when), {field.name: choice.value})
        }
        assert set(choice.holds) == asked


@pytest.mark.parametrize("field", CHOSEN, ids=lambda field: field.key)
def test_choice_offers_just_what_the_entry_takes(field):
    shape = shape_of(field.key)

    assert isinstance(shape, Choice)
    assert tuple(choice.value for choice in field.choices) == shape.words


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.key)
def test_field_is_of_the_kind_that_the_entry_holds(field):
    if field.home != "entry":
        return
    shape = shape_of(field.key)

    assert isinstance(shape, ListOf) == (field.kind in ("readings", "points") or field.most_rows > 0)
    assert isinstance(shape, Flag) == (field.kind == "yes_no")
    assert isinstance(shape, Choice) == (field.kind == "choice")


# How the rule book reads what a field of each kind holds.
READ_OF = {"choice": "choice", "yes_no": "flag", "reading": "reading", "number": "number"}


def read_by_the_book() -> dict[str, dict]:
    """What the rule book reads of the entry, by the entry's key, each with the `name` of the quantity."""
    return {given["field"]: given | {"name": name} for name, given in load_book().givens["entry"].items()}


def how_read(given: dict) -> tuple[str, bool, str]:
    """How a given is read, whether it may lie below nought, and which ordinary range it is held against."""
    read = given["read"]
    return "reading" if read == "signed" else read, read == "signed", given.get("quantity", "")


@pytest.mark.parametrize(
    "field",
    [
        field
        for field in FIELDS
        if read_by_the_book().get(field.key, {"read": "presence"})["read"] != "presence"
    ],
    ids=lambda field: field.key,
)
def test_field_takes_just_what_the_rule_book_reads(field):
    """A text that only one of the two took, or asked about, would stop an order after it was sent."""
    assert (READ_OF.get(field.kind), field.signed, field.quantity) == how_read(read_by_the_book()[field.key])


def test_rows_take_just_what_the_rule_book_reads():
    cells = {
        f"{field.key}.{row.key}.{column.key}": ("reading", column.signed, "")
        for field in FIELDS
        for row in field.rows
        for column in field.columns
    }
    given = read_by_the_book()

    assert len(cells) == 8
    assert cells == {key: how_read(given[key]) for key in cells}


@pytest.mark.parametrize("field", [f for f in FIELDS if f.kind == "number"], ids=lambda field: field.key)
def test_number_is_in_the_rule_books_unit_and_inside_what_it_takes(field):
    given = read_by_the_book()[field.key]

    assert given["name"].endswith(f"_{field.unit}")
    assert given["least"] <= field.least < field.most <= given["most"]


def test_what_is_taken_as_given_is_what_the_rule_book_takes_where_nothing_is_said():
    usual = {key: given["default"] for key, given in read_by_the_book().items() if "default" in given}
    started = {
        key: BY_KEY[key].starts_at for key in usual if key in BY_KEY and BY_KEY[key].starts_at is not None
    }

    assert {"girth_over", "swelling", "person.heavy_wear"} <= set(started)
    assert started == {key: usual[key] for key in started}


def test_what_the_entry_must_hold_is_demanded_or_stands_from_the_start():
    """Else Next would let it pass, and the server refuse what was sent."""

    def demanded(group, before=""):
        for key, shape in group.fields.items():
            if key in group.optional:
                continue
            path = f"{before}{key}"
            yield from demanded(shape, f"{path}.") if hasattr(shape, "fields") else [path]

    wanted = set(demanded(ENTRY)) - set(NOT_FIELDS)
    lacking = {
        key
        for key, (is_asked, value) in standing_with({}).items()
        if key in wanted and not (BY_KEY[key].required if is_asked else value)
    }

    assert len(wanted) > 15
    assert wanted <= set(standing_with({}))
    assert lacking == set()


def keys_given_by(field: Field) -> set[str]:
    """The entry's keys that one field answers: of rows that are always the same ones, each row's."""
    rows = {f"{field.key}.{row.key}.{column.key}" for row in field.rows for column in field.columns}
    return rows or {field.key}


def test_every_key_of_the_entry_has_its_field_or_is_known_to_come_otherwise():
    single = {key for key in ENTRY_FIELDS if not any(other.startswith(f"{key}.") for other in ENTRY_FIELDS)}
    given = set().union(*(keys_given_by(field) for field in FIELDS if field.home == "entry"))

    assert len(single) > 60
    assert single - given == set(NOT_FIELDS)
    assert given <= single


@pytest.mark.parametrize("name", ["second_route", "person"])
def test_group_whose_keys_must_all_be_there_is_complete(name):
    shape = ENTRY.fields[name]

    assert {f"{name}.{key}" for key in shape.fields} <= set(BY_KEY)


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.key)
def test_conditions_name_only_earlier_fields(field):
    earlier = {other.name for other in FIELDS[: FIELDS.index(field)]}

    for condition in (field.asked_when, field.open_when):
        assert set(names_in(read_expression(condition))) <= earlier


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.key)
def test_conditions_compare_with_answers_that_exist(field):
    for name, value in re.findall(r'(\w+) [!=]= "(\w*)"', field.asked_when + " " + field.open_when):
        asked_about = next(other for other in FIELDS if other.name == name)
        assert value in {"", *(choice.value for choice in asked_about.choices)}


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.key)
def test_field_has_words_and_starts_at_something_it_offers(field):
    assert field.label
    assert field.brief
    assert field.where
    assert len(field.words.split()) < MOST_WORDS
    if isinstance(field.starts_at, str) and field.starts_at not in (ADVISED, FIRST_OPTION):
        assert field.starts_at in {choice.value for choice in field.choices}
    assert (field.options in OPTIONS) == (field.kind == "option")


def test_a_field_that_is_asked_or_measured_has_a_drawing():
    undrawn = {field.key for field in FIELDS if not field.drawing and field.asked_when != "false"}

    assert undrawn == {"service_points"}


def test_no_field_is_called_as_a_mere_place_on_a_drawing():
    """English has one word for a shell's rear and for what lies there; others don't: "Next: behind", "Choose above"."""
    called = {field.brief for field in FIELDS}

    assert called & set(FIGURE["words"].values()) == {"side", "collar", "girth"}


def test_keys_are_used_once():
    assert len(BY_KEY) == len(FIELDS)
    assert len({field.name for field in FIELDS}) == len(FIELDS)


def test_fields_lie_in_the_order_of_the_parts():
    assert [field for part in PARTS for field in fields_of(part)] == list(FIELDS)


def test_fields_cannot_be_changed():
    with pytest.raises(dataclasses.FrozenInstanceError):
        FIELDS[0].label = "other"


def test_plain_case_asks_six_things_and_two_readings():
    asked = asked_with(PLAIN)

    assert asked == list(PLAIN)
    assert sum(BY_KEY[key].kind == "readings" for key in asked) == 2


@pytest.mark.parametrize(
    ("answers", "more"),
    [
        ({"knee.pivots_seen": "several"}, {"knee.named", "knee.hardware_length", "seen.knee"}),
        ({"knee.pivots_seen": "unsure"}, {"knee.named", "knee.hardware_length", "seen.knee"}),
        ({"knee.named": "polycentric"}, {"knee.hardware_length", "seen.knee"}),
        ({"knee.control": "fluid"}, {"knee.hardware_length", "seen.knee"}),
        ({"knee.control": "microprocessor"}, {"knee.hardware_length", "service_points", "seen.knee"}),
        ({"knee.control": "powered"}, {"knee.hardware_length", "service_points", "seen.knee"}),
        ({"foot.profile": "high"}, {"foot.hardware_above_rim", "seen.pylon"}),
        ({"seen.knee": "stop"}, {"knee.stop_projection", "knee.stop_below_apex"}),
        ({"seen.knee": "thigh_side"}, {"knee.thigh_side_below_apex", "knee.thigh_side_width"}),
        (
            {"seen.knee": "both"},
            {
                "knee.stop_projection",
                "knee.stop_below_apex",
                "knee.thigh_side_below_apex",
                "knee.thigh_side_width",
            },
        ),
        (
            {"seen.pylon": "moves"},
            {
                "moving_part.from_above_rim",
                "moving_part.to_above_rim",
                "moving_part.travel",
                "moving_part.rotation_deg",
            },
        ),
        ({"foot.ankle": "jointed"}, set()),
        (
            {"foot.profile": "high", "foot.ankle": "jointed"},
            {"foot.hardware_above_rim", "foot.axis_above_rim", "seen.pylon"},
        ),
        (
            {"foot.profile": "high", "foot.ankle": "wide"},
            {"foot.hardware_above_rim", "foot.axis_above_rim", "seen.pylon"},
        ),
        ({"footwear": "boot"}, {"collar_above_rim"}),
        ({"other_leg": "below_knee"}, {"girth_from"}),
        ({"other_leg": "above_knee"}, {"girth_from"}),
        ({"other_leg": "none"}, {"girth_from"}),
    ],
)
def test_answers_ask_just_what_they_make_necessary(answers, more):
    assert set(asked_with(PLAIN | answers)) == set(PLAIN) | more


def test_what_is_seen_comes_before_what_it_is_called():
    keys = list(BY_KEY)

    assert keys.index("knee.pivots_seen") < keys.index("knee.named")
