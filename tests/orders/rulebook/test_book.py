import copy
import json

import pytest

from orders.rulebook.book import book_content, load_book, read_book
from orders.rulebook.flag import LEVELS, PLACES
from orders.rulebook.functions import FUNCTIONS
from orders.rulebook.givens import BookError

# Every check of the design, with its level (of photo.missing the least: a case of it may raise it).
CHECKS = """reading.unreadable stop, reading.wrong_unit stop, reading.repeats_differ explain, reading.only_one note,
length.routes_differ explain, length.rim_unusual explain, length.impossible stop, girth.impossible stop,
length.unusual explain, girth.unusual explain, length.unlike_stature explain, shape.unusual explain,
girth.extra_unusual explain, girth.extra_unplaced explain,
girth.not_sound stop, girth.chosen note, girth.see_someone stop,
girth.over_stocking explain, taken.not_standing explain, build.foam stop, build.exoskeletal stop, shoe.collar stop,
gap.contact stop, gap.tight explain, gap.outside_practice explain, gap.less_than_advised explain,
knee.pivots_disagree explain, knee.pivots_lock explain, knee.hardware_missing stop, knee.hardware_beyond_shell stop,
knee.thigh_side_low explain, knee.tight explain, foot.tight explain, stop.meets_edge stop,
foot.hardware_missing stop, foot.hardware_unexpected explain, foot.axis_unknown explain, rear.meets_foot stop,
rear.nothing_left stop,
strap.no_room stop, strap.over_edge stop, strap.close explain, strap.across_moving_part stop, strap.in_fold note,
strap.pad_advised note, wall.wear note, wall.hard_to_don note, service.unasked explain, service.covered explain,
level.shape note, person.grows note, catalogue.not_made stop, photo.missing note, photo.disagrees explain,
order.repeated explain, order.changed explain"""

FIGURE = {
    "id": "double_mm",
    "unit": "mm",
    "needs": ["gap_mm"],
    "formula": "2.0 * gap_mm",
    "says": "Twice {gap_mm}.",
    "source": "a test",
}
CHECK = {
    "id": "gap.wide",
    "level": "note",
    "fields": ["gap"],
    "needs": ["gap_mm"],
    "when": "more(gap_mm, 30.0)",
    "says": "Wide: {gap_mm}.",
    "do": "Look.",
    "at": "gap",
    "source": "a test",
}


def book_with(figure: dict | None = None, check: dict | None = None):
    content, version = book_content()
    content = copy.deepcopy(content) | {"more": {"figure": [figure or FIGURE], "check": [check or CHECK]}}
    return read_book(content, version)


def refused(**parts) -> BookError:
    with pytest.raises(BookError) as error:
        book_with(**parts)
    return error.value


def test_the_book_has_every_check_of_the_design():
    expected = dict(line.split() for line in CHECKS.replace("\n", " ").split(", "))

    assert {check["id"]: check["level"] for check in load_book().checks} == expected


def test_the_book_is_loaded_once_and_has_a_hash_of_its_content():
    book, other = load_book(), book_with()

    assert load_book() is book
    assert len(book.sha256) == 64
    assert read_book(*book_content()).sha256 == book.sha256
    assert other.sha256 != book.sha256
    content, version = book_content()
    assert read_book(content, version + 1).sha256 != book.sha256


def test_a_source_alone_changes_the_hash():
    assert book_with(check=CHECK | {"source": "another"}).sha256 != book_with().sha256


def test_each_figure_comes_after_what_it_needs():
    book = load_book()
    given = set(book.types) - {figure["id"] for figure in book.figures}

    for figure in book.figures:
        assert set(figure["needs"]) <= given, figure["id"]
        given.add(figure["id"])


def test_what_the_phone_gets_is_json_and_small():
    text = json.dumps(load_book().to_json(), ensure_ascii=False, allow_nan=False)

    assert json.loads(text)["sha256"] == load_book().sha256
    assert len(text.encode()) < 62_000


def test_levels_and_places_are_the_agreed_ones():
    assert LEVELS == ("stop", "explain", "note")
    for check in load_book().checks:
        assert check.get("at", "none") in PLACES


def test_every_function_is_used():
    used = set()

    def walk(tree):
        if isinstance(tree, list):
            used.add(tree[0])
            for part in tree[1:]:
                walk(part)

    for entry in (*load_book().figures, *load_book().checks):
        walk(entry.get("tree"))
        for case in entry.get("cases", []):
            walk(case["tree"])
    assert set(FUNCTIONS) - used == set()


def test_an_entry_more_is_read():
    book = book_with()

    assert book.checks[-1]["id"] == "gap.wide"
    assert book.figures[-1]["id"] == "rear_trim_mm" or any(f["id"] == "double_mm" for f in book.figures)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"needs": ["gap_mm", "gapp_mm"]}, "needs “gapp_mm”, which nothing is called."),
        ({"needs": []}, "reads gap_mm without listing it under needs."),
        (
            {"when": "more(gapp_mm, 30.0)"},
            "in “more(gapp_mm, 30.0)” at character 6: nothing is called “gapp_mm”.",
        ),
        ({"when": "more(gap_mm, 30)"}, "in “more(gap_mm, 30)” at character 14: write 30 as 30.0."),
        ({"when": "gap_mm + 1.0"}, "in “gap_mm + 1.0” at character 8: this gives a number, not a flag."),
        ({"when": "gap_mm > 30.0"}, None),
        ({"when": "[gap_mm].exists(g, g > 1.0)"}, None),
        ({"when": ""}, "has no when."),
        ({"fields": ["gapp"]}, "the sheet has no field “gapp”."),
        ({"at": "elbow"}, "“elbow” is no place on the figure."),
        ({"at": None}, "“None” is no place on the figure."),
        ({"level": "warning"}, "“warning” is no level."),
        ({"says": " "}, "has no says."),
        ({"do": None}, "has no do."),
        ({"source": None}, "has no source."),
        ({"says": "Wide: {gapp_mm}."}, "its sentence speaks of “gapp_mm”, which nothing is called."),
        ({"do": "Take {gapp_mm}."}, "its sentence speaks of “gapp_mm”, which nothing is called."),
        ({"offer": {"field": "gapp", "value": "1 mm"}}, "the sheet has no field “gapp”."),
        ({"offer": {"field": "gap", "value": "{gapp_mm}"}}, None),
        ({"offer": {"field": "gap", "value": "x", "when": "gapp"}}, None),
        ({"case": [{"when": "gapp", "says": "x"}]}, None),
        ({"case": [{"when": "true", "says": "x", "level": "loud"}]}, "“loud” is no level."),
        ({"case": [{"when": "true", "says": "x", "at": "elbow"}]}, "“elbow” is no place on the figure."),
        ({"colour": "red"}, "has an unknown key “colour”."),
        ({"id": "gap.tight"}, "stands there twice; an id is never reused."),
    ],
)
def test_a_check_that_could_fall_silent_is_refused(change, says):
    error = refused(check=CHECK | change)

    assert error.entry == change.get("id", "gap.wide")
    assert says is None or error.says == says


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (
            {"level": "stop", "needs": ["photo_knee"], "when": "!photo_knee"},
            "rests on photo_knee, which not every phone knows: it can't be a stop.",
        ),
        (
            {"level": "explain", "needs": ["mass_g"], "when": "more(mass_g, 900.0)"},
            "rests on mass_g, which no phone knows: it can only be a note.",
        ),
        (
            {"case": [{"when": "more(thickest_adds_g, 9.0)", "says": "x", "level": "explain"}]},
            "rests on thickest_adds_g, which no phone knows: it can only be a note.",
        ),
    ],
)
def test_a_check_that_the_phone_could_not_tell_in_time_is_refused(change, says):
    error = refused(check=CHECK | change)

    assert (error.entry, error.part, error.says) == ("gap.wide", "level", says)


def test_a_note_may_rest_on_what_the_server_alone_knows():
    assert book_with(check=CHECK | {"needs": ["mass_g"], "when": "more(mass_g, 900.0)"})
    assert load_book().on_server >= {"mass_g", "inertia_kg_m2", "thickest_adds_g"}
    assert "gap_mm" not in load_book().on_server


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"formula": "2.0 * gapp_mm"}, "in “2.0 * gapp_mm” at character 7: nothing is called “gapp_mm”."),
        (
            {"formula": "more(gap_mm, 1.0)"},
            "in “more(gap_mm, 1.0)” at character 1: this gives a flag, not a number.",
        ),
        (
            {"formula": "2.0 * double_mm", "needs": ["double_mm"]},
            "is needed, in a ring, by what it needs itself.",
        ),
        ({"source": ""}, "has no source."),
        ({"says": ""}, "has no says."),
        ({"unit": "g"}, "its name doesn't end in its unit, “g”."),
        ({"unit": None}, "a figure needs an id and a unit."),
        ({"needs": []}, "reads gap_mm without listing it under needs."),
        ({"id": "margin_mm"}, "is defined twice."),
        ({"colour": "red"}, "has an unknown key “colour”."),
    ],
)
def test_a_figure_that_could_not_be_known_is_refused(change, says):
    assert refused(figure=FIGURE | change).says == says


@pytest.mark.parametrize(
    ("table", "name", "given"),
    [
        ("entry", "shoe_mm", {"field": "shoe.size", "read": "reading", "at": "shoe"}),
        ("entry", "shoe_mm", {"field": "gap", "read": "guess", "at": "shoe"}),
        ("entry", "shoe_mm", {"field": "gap", "read": "reading"}),
        ("entry", "shoe_mm", {"field": "gap", "read": "reading", "at": "shoe", "above_naught": True}),
        ("entry", "shoe_mm", {"field": "gap", "read": "reading", "at": "shoe", "above_nought": False}),
        ("entry", "shoe_mm", {"field": "gap", "read": "signed", "at": "shoe", "above_nought": True}),
        ("entry", "shoe_mm", {"field": "gap", "read": "reading", "at": "shoe", "least": 3.0}),
        ("entry", "shoe", {"field": "footwear", "read": "choice", "quantity": "length"}),
        ("readings", "shoe_mm", "length"),
        ("options", "length_read_mm", "number"),
        ("beside", "weather", {"type": "text", "what": "", "unit": "", "source": "the window"}),
        ("beside", "weather", {"type": "sky", "what": "it", "unit": "", "source": "the window"}),
        ("beside", "weather", {"type": "text", "what": "it", "unit": ""}),
    ],
)
def test_a_given_that_nothing_gives_is_refused(table, name, given):
    content, version = book_content()
    content = copy.deepcopy(content)
    content["givens"][table][name] = given

    with pytest.raises(BookError) as error:
        read_book(content, version)
    assert error.value.entry == name
