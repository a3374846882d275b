import pytest

from orders import catalogue_editor as editor
from orders.catalogue_editor import Wrong
from orders.catalogue_page import checks_table, placed, plain_entry, sections, tables, tried
from orders.reckoning.entry import read_entry
from tests.orders.entries import catalogue

TARN = catalogue()
FLAT = editor.flat_of(TARN)
CHECK = {
    "id": "own.long",
    "level": "note",
    "at": "length",
    "fields": "length",
    "when": "more(finished_length_mm, 300.0)",
    "says": "It is {finished_length_mm} long.",
    "do": "Call us.",
    "source": "ours",
    "needs": "",
}
WITH_CHECK = FLAT | {f"checks.0.{key}": text for key, text in CHECK.items()}


def all_boxes(wrong=None):
    rows = [row for table in tables(FLAT, wrong) for row in table.rows]
    return [box for _name, boxes in sections(FLAT, wrong) for box in boxes] + [
        box for row in rows for box in row.boxes
    ]


def test_every_box_has_a_place_and_an_id_of_its_own():
    boxes = all_boxes()

    assert {box.path for box in boxes} <= FLAT.keys()
    assert len({box.id for box in boxes}) == len(boxes) > 40
    assert not any(box.says for box in boxes)


def test_what_is_wrong_stands_at_its_own_box_alone():
    wrong = Wrong("walls.1.wall_mm", "is missing.")

    assert [(box.path, box.says) for box in all_boxes(wrong) if box.says] == [
        ("walls.1.wall_mm", "Is missing.")
    ]


def test_what_is_wrong_with_a_whole_row_stands_above_its_table():
    wrong = Wrong("walls.1", "is given twice.")

    assert [table.says for table in tables(FLAT, wrong) if table.says] == ["walls.1: Is given twice."]
    assert not any(box.says for box in all_boxes(wrong))


@pytest.mark.parametrize(
    ("path", "has"), [("walls.7.key", True), ("girth_mm.least", True), ("checks", True), ("schema", False)]
)
def test_what_has_no_place_on_the_form_is_told_above_it(path, has):
    assert placed(FLAT, Wrong(path, "is missing.")) is has


def test_the_plain_shell_is_an_entry_of_any_catalogue():
    for name in ("tarn-street-moulding-room", "quayside-forming"):
        entry = read_entry(plain_entry(catalogue(name)))
        assert entry["shell"]["wall"] == catalogue(name)["walls"][0]["key"]


def test_a_check_is_tried_on_the_plain_shell():
    # 400 taken less 12.7 is 387 in whole mm, by hand
    came = tried(WITH_CHECK, 0, plain_entry(TARN), TARN)

    assert came.says.replace("\u00a0", " ") == "It says: It is 387 mm long. Call us."
    assert checks_table(WITH_CHECK, None).rows[0].number == came.number == 0


def test_a_check_that_can_not_be_read_is_wrong_at_its_part():
    with pytest.raises(Wrong) as wrong:
        tried(WITH_CHECK | {"checks.0.when": "more(finished_length_mm"}, 0, plain_entry(TARN), TARN)

    assert wrong.value.path == "checks.0.when"
