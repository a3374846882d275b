import pytest

from orders.asking import RESTS_ON, may_ask, rests_on, subjects
from orders.figure_rows import SHOWN
from orders.photos import PhotoShown
from orders.reckoning.entry import FIELDS
from tests import factories

PHOTO = PhotoShown("a" * 64, "Photo, side", "side", 0, "T-0001, left: photo, side", "", 1600, 1200)


@pytest.fixture
def known(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    return subjects(order.current.entries[0], order.current.catalogue.content, [PHOTO])


def test_every_figure_rests_on_fields_of_the_entry_one_of_which_every_entry_has(known):
    """`known` is the plain case, which gives no more than what must be given."""
    figures = {shown.key for shown in SHOWN if "." not in shown.key}

    assert set(RESTS_ON) == figures
    assert {field for fields in RESTS_ON.values() for field in fields} <= FIELDS
    assert [figure for figure in figures if not rests_on(figure, known)] == []


def test_every_answer_of_the_entry_can_be_asked_about_and_nothing_else(known):
    says = {subject.field: subject.says for subject in known}

    assert says["length"] == "Length: 15 1/2 in"
    assert says["second_route.rim_to_floor"].endswith("3 3/4 in")
    assert says[f"photo:{'a' * 64}"] == "Photo, side"
    assert says["knee.hardware_length"] == "Hardware length: not given"  # one may be proposed
    assert {"foot.hardware_above_rim", "reference", "schema", "answers", "units"} & set(says) == set()


def test_what_is_not_there_rests_on_nothing(known):
    assert rests_on("foot.hardware_above_rim", known) == []
    assert rests_on("nonsense", known) == []
    assert [subject.field for subject in rests_on("girth", known)] == ["girth"]


def test_only_the_revision_that_counts_is_asked_about(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    first = order.current
    factories.correction(order, clinician, factories.entry(girth=["15", "15"]))
    order.refresh_from_db()

    assert may_ask(order, order.current, fabricator)
    assert not may_ask(order, first, fabricator)
    assert not may_ask(order, order.current, clinician)
    order.contested = True
    assert not may_ask(order, order.current, fabricator)
