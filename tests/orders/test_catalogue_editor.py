import json

import pytest

from orders import catalogue_editor as editor
from orders.catalogue_editor import Stale, Wrong
from tests import factories
from tests.orders.entries import catalogue

TARN, QUAYSIDE = catalogue(), catalogue("quayside-forming")


def plain(content):
    """As it comes out of JSON, whole numbers as whole numbers."""
    return json.loads(json.dumps(content))


PROFILE = {"girth_shares": [0.9] * 6 + [1] + [0.825] * 12, "depth_over_breadth": [1.1] * 19}
HOUSE = {**TARN, "profile": PROFILE}
SHARES = editor.flat_of(HOUSE)["profile.girth_shares"]


@pytest.mark.parametrize("content", [TARN, QUAYSIDE, HOUSE], ids=["tarn", "quayside", "with a profile"])
def test_a_catalogue_comes_off_the_form_as_it_went_on(content):
    assert plain(editor.content_of(editor.flat_of(content), content)) == plain(content)


def test_an_offer_and_cases_of_a_check_come_through():
    check = {
        **QUAYSIDE["checks"][0],
        "case": [{"when": "more(girth_mm, 480.0)", "says": "Very stout."}],
    }
    content = {**QUAYSIDE, "checks": [check]}

    assert editor.content_of(editor.flat_of(content), content)["checks"][0]["case"] == check["case"]


@pytest.mark.parametrize(
    ("path", "text", "at"),
    [
        ("finished_length_mm.least", "500", "finished_length_mm.least"),
        ("girth_mm.least", "wide", "girth_mm.least"),
        ("girth_mm.least", "", "girth_mm.least"),
        ("strap.width_mm", "nan", "strap.width_mm"),
        ("walls.0.wall_mm", "0", "walls.0.wall_mm"),
        ("walls.1.key", "thin", "walls.1.key"),
        ("rears.0.reach", "1.5", "rears.0.reach"),
        ("as_made.girth_mm", "0", "as_made.girth_mm"),
        ("as_made.length_under_mm", "0", "as_made.length_under_mm"),
        ("lead_time_days", "-1", "lead_time_days"),
        ("colours.2.label", " ", "colours.2.label"),
        ("colours.2.label", "sl\u202eate", "colours.2.label"),
        ("rears.0.key", "sho\u2066rt", "rears.0.key"),
        ("finished_length_mm.most", "1e400", "finished_length_mm.most"),
        ("finished_length_mm.most", "9" * 400, "finished_length_mm.most"),
        ("profile.girth_shares", SHARES, "profile.depth_over_breadth"),  # half of a profile
        ("profile.girth_shares", "0.9, wide", "profile.girth_shares.1"),
    ],
)
def test_what_can_not_be_is_refused_at_its_field(path, text, at):
    with pytest.raises(Wrong) as wrong:
        editor.content_of({**editor.flat_of(TARN), path: text}, TARN)

    assert wrong.value.path == at


@pytest.mark.parametrize(
    ("part", "text"),
    [
        ("when", "more(girth_mm, 420.0"),
        ("when", "more(girth_mm, 420.0) && " * 20 + "true"),
        ("when", "colour_of_the_sky == 'blue'"),
        ("id", "girth.impossible"),
        ("says", ""),
        ("level", "shout"),
    ],
)
def test_a_check_that_can_not_be_used_is_refused_at_its_part(part, text):
    flat = {**editor.flat_of(QUAYSIDE), f"checks.1.{part}": text}

    with pytest.raises(Wrong) as wrong:
        editor.content_of(flat, QUAYSIDE)

    assert wrong.value.path == f"checks.1.{part}"


def test_a_mistake_in_a_question_has_its_place():
    flat = {**editor.flat_of(QUAYSIDE), "checks.0.when": "more(girth_mm, 420.0) &&& true"}

    with pytest.raises(Wrong) as wrong:
        editor.content_of(flat, QUAYSIDE)

    assert wrong.value.place == 25  # the third &, counted from 1


@pytest.mark.parametrize("between", [", ", " ", "; ", "\n", "\t"])
def test_a_profile_may_be_pasted_as_a_row_or_a_column(between):
    flat = {path: text.replace(", ", between) for path, text in editor.flat_of(HOUSE).items()}

    assert editor.content_of(flat, HOUSE)["profile"] == PROFILE


@pytest.mark.parametrize(
    ("shares", "at"),
    [(SHARES + " 1", "profile.girth_shares"), (SHARES.replace("0.825", "82.5"), "profile.girth_shares.7")],
)
def test_a_profile_that_can_not_be_is_refused(shares, at):
    with pytest.raises(Wrong) as wrong:
        editor.content_of({**editor.flat_of(HOUSE), "profile.girth_shares": shares}, HOUSE)

    assert wrong.value.path == at


@pytest.mark.parametrize("number", ["²", "٣", "9" * 5000, "-1", "", "1.5"])
def test_rows_whose_number_is_none_are_left_out(number):
    flat = editor.flat_of(TARN)

    assert editor.rows_of(flat | {f"walls.{number}.key": "x"}, "walls") == [0, 1]


def test_a_decimal_comma_is_a_decimal_comma():
    assert (
        editor.content_of({**editor.flat_of(TARN), "walls.0.wall_mm": "4,5"}, TARN)["walls"][0]["wall_mm"]
        == 4.5
    )


def test_rows_close_up_when_one_is_taken_out():
    flat = editor.flat_of(TARN)
    left = editor.renumbered({path: text for path, text in flat.items() if not path.startswith("colours.1.")})

    assert [colour["key"] for colour in editor.content_of(left, TARN)["colours"]] == ["slate", "moss"]


@pytest.mark.parametrize(
    "raw",
    [b"", b"\xff\xfe", b"{", b"[]", b'{"schema": "another"}', b"[" * 5000, b" " * (editor.FILE_MOST + 1)],
)
def test_a_file_that_is_no_catalogue_is_refused(raw):
    with pytest.raises(Wrong, match="catalogue"):
        editor.read_file(raw)


def test_a_file_is_read_as_it_was_written():
    assert plain(editor.read_file(json.dumps(QUAYSIDE).encode())) == plain(QUAYSIDE)


@pytest.mark.django_db
def test_of_two_editors_the_second_is_told(fabricator):
    workshop = fabricator.organisation
    longer, shorter = ({**TARN, "lead_time_days": days} for days in (9, 1))
    editor.save(workshop, fabricator, 1, longer)

    with pytest.raises(Stale) as stale:
        editor.save(workshop, fabricator, 1, shorter)

    assert stale.value.newest.content["lead_time_days"] == 9
    assert workshop.catalogues.count() == 2
    assert editor.differing(longer, shorter) == ["lead_time_days"]


@pytest.mark.django_db
def test_saving_what_is_there_makes_no_version(fabricator):
    newest = editor.newest_of(fabricator.organisation)

    assert editor.save(fabricator.organisation, fabricator, 1, newest.content) == newest
    assert fabricator.organisation.catalogues.count() == 1


@pytest.mark.django_db
def test_an_order_keeps_the_version_it_was_reckoned_with(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    content = {**editor.newest_of(fabricator.organisation).content, "lead_time_days": 30}

    editor.save(fabricator.organisation, fabricator, 1, content)

    assert order.current.catalogue.version == 1
