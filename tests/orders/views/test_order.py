import uuid

import pytest
from django.urls import reverse

from orders import moves
from orders.models import Look
from tests import factories

pytestmark = pytest.mark.django_db


def url_of(order):
    return reverse("orders:order", args=[order.id])


@pytest.fixture
def order(clinician, fabricator):
    entry = factories.entry(
        foot={"label": "size 26"},
        taken="seated",
        answers={"taken.not_standing": 'Can\'t stand <b>"today"</b>.'},
    )
    return factories.order(clinician, fabricator.organisation, entry)


@pytest.fixture
def page(client_for, fabricator, order):
    """The order's page as its workshop reads it."""
    return client_for(fabricator).get(url_of(order))


def test_order_answers_reading_only(client_for, fabricator, order):
    assert client_for(fabricator).post(url_of(order)).status_code == 405


def test_stranger_is_sent_to_sign_in(client_for, order):
    answer = client_for(None).get(url_of(order))

    assert answer.status_code == 302
    assert answer["Location"].startswith("/accounts/login/")


def test_other_workshop_and_clinics_find_nothing(
    client_for, fabricator, order, other_fabricator, clinician, lead, other_clinician
):
    assert client_for(fabricator).get(url_of(order)).status_code == 200

    for member in (other_fabricator, clinician, lead, other_clinician):
        assert client_for(member).get(url_of(order)).status_code == 404
    assert {look.member_id for look in Look.objects.all()} == {fabricator.id}


def test_order_that_is_not_there_is_404(client_for, fabricator):
    assert client_for(fabricator).get(reverse("orders:order", args=[uuid.uuid4()])).status_code == 404


def test_title_block_names_order_revision_and_clinic(page, order, clinician):
    text = page.content.decode()

    assert f"{order.person.reference} · left" in text
    assert "1, <span" in text
    assert clinician.organisation.name in text
    assert "no day given" in text


def test_each_figure_has_its_unit_and_how_it_came_about(page, order):
    rows = {row.key: row for row in page.context["shells"][0].rows}

    assert rows["finished_length_mm"].value == "381"
    assert (
        rows["finished_length_mm"].came_about == order.current.results[0]["derivations"]["finished_length_mm"]
    )
    assert rows["finished_length_mm"].came_about in page.content.decode()
    assert all(row.unit for row in rows.values())


def test_flags_carry_the_clinicians_reason_in_quotation_marks(page):
    text = page.content.decode()

    assert "“Can&#x27;t stand &lt;b&gt;&quot;today&quot;&lt;/b&gt;.”" in text
    assert '<b>"today"' not in text
    assert [flag.level for flag in page.context["shells"][0].flags] == [
        "explain",
        "note",
    ]  # the note: no photo


def test_readings_stand_as_typed_beside_what_was_understood(page):
    text = page.content.decode()

    assert "<b>15 1/2</b>" in text
    assert "15 1/2\xa0in is 393.7\xa0mm" in text


def test_what_is_fitted_and_wanted_is_said_in_words(page, fabricator):
    shell = page.context["shells"][0]
    fitted = {answer.path: answer.words for answer in shell.fitted}
    catalogue = fabricator.organisation.catalogues.get().content

    assert fitted["knee.pivots_seen"] == "one pin"
    assert fitted["foot.label"] == "size 26"
    assert next(answer.words for answer in shell.options).startswith(catalogue["walls"][0]["label"])


def test_drawing_is_in_the_page_without_a_style(page):
    text = page.content.decode()

    assert "<svg" in page.context["shells"][0].drawing
    assert page.context["shells"][0].drawing in text
    assert "style=" not in text


def test_cautions_stand_on_the_page(page):
    assert "some forbid any shell" in page.content.decode()


def test_opening_is_written_down(client_for, fabricator, order):
    assert not Look.objects.exists()

    client_for(fabricator).get(url_of(order))

    (look,) = Look.objects.all()
    assert (look.order_id, look.member_id, look.organisation_id) == (
        order.id,
        fabricator.id,
        fabricator.organisation_id,
    )


def test_second_revision_shows_what_changed(client_for, fabricator, clinician, order):
    entry = {**order.current.entries[0], "length": ["16"], "second_route": None}
    assert factories.correction(order, clinician, entry)["outcome"] == "ordered"

    page = client_for(fabricator).get(url_of(order))

    changes = {change.label: (change.was, change.now) for change in page.context["changes"]}
    rows = {row.key: row for row in page.context["shells"][0].rows}
    assert changes["Finished length"] == ("381 mm", "393 mm")
    assert rows["finished_length_mm"].was == "381"
    assert "<s>381</s>" in page.content.decode()
    assert "Changed since revision 1" in page.content.decode()


@pytest.fixture
def third(order, clinician):
    """The order at its third revision: another length, then another girth."""
    longer = {**order.current.entries[0], "length": ["16"], "second_route": None}
    for entry in (longer, {**longer, "girth": ["15", "15"]}):
        assert factories.correction(order, clinician, entry)["outcome"] == "ordered"
        order.refresh_from_db()
    return order


@pytest.mark.parametrize(
    ("asked", "changed"),
    [
        ({}, {"Girth", "Inside girth at the widest"}),
        ({"before": "1"}, {"Finished length", "Girth"}),
        ({"revision": "2"}, {"Finished length"}),
        ({"revision": "2", "before": "1"}, {"Finished length"}),
    ],
)
@pytest.mark.parametrize("name", ["orders:order", "orders:clinic-order"])
def test_any_two_revisions_are_held_against_each_other(
    client_for, fabricator, clinician, third, name, asked, changed
):
    member = fabricator if name == "orders:order" else clinician

    page = client_for(member).get(reverse(name, args=[third.id]), asked)

    shown = {change.label for change in page.context["changes"]}
    assert changed & shown
    assert ("Finished length" in shown) is ("Finished length" in changed)
    assert ("before=1#changes" in page.content.decode()) is ("revision" not in asked)


@pytest.mark.parametrize("asked", ["3", "0", "x", "²", "9" * 400])
@pytest.mark.parametrize("name", ["orders:order", "orders:clinic-order"])
def test_against_a_revision_that_is_not_older_is_404(client_for, fabricator, clinician, third, name, asked):
    member = fabricator if name == "orders:order" else clinician

    assert client_for(member).get(reverse(name, args=[third.id]), {"before": asked}).status_code == 404


def test_what_changed_is_told_since_the_revision_that_was_looked_at_last(
    client_for, fabricator, clinician, order
):
    client = client_for(fabricator)
    client.get(url_of(order))
    longer = {**order.current.entries[0], "length": ["16"], "second_route": None}
    for entry in (longer, {**longer, "girth": ["15", "15"]}):
        factories.correction(order, clinician, entry)
        order.refresh_from_db()

    assert client.get(url_of(order)).context["before"].number == 1
    assert client.get(url_of(order)).context["before"].number == 2


def test_first_revision_has_nothing_to_compare(page):
    assert page.context["changes"] == []
    assert "Changed since" not in page.content.decode()


def test_older_revision_can_be_read_but_not_confirmed(client_for, fabricator, clinician, order):
    factories.correction(order, clinician, {**order.current.entries[0], "girth": ["15", "15"]})

    page = client_for(fabricator).get(url_of(order), {"revision": "1"})

    assert page.context["read"].number == 1
    assert "Read revision 2" in page.content.decode()
    assert "Confirm revision" not in page.content.decode()


@pytest.mark.parametrize("asked", ["0", "2", "x", "-1", "1 "])
def test_revision_that_is_not_there_is_404(client_for, fabricator, order, asked):
    assert client_for(fabricator).get(url_of(order), {"revision": asked}).status_code == 404


def test_confirm_names_revision_and_seal(page, order):
    sha256 = order.current.seal.sha256
    text = page.content.decode()

    assert "Confirm revision 1" in text
    assert f"{sha256[:4]} {sha256[4:8]}" in text
    assert f'name="seal" value="{sha256}"' in text


def test_confirmed_order_says_by_whom_and_offers_nothing(client_for, fabricator, order):
    moves.confirm(order, order.current.seal.sha256, fabricator)

    text = client_for(fabricator).get(url_of(order)).content.decode()

    assert "Revision 1 is confirmed." in text
    assert f"{fabricator.initials}, {fabricator.organisation.name}" in text
    assert "Confirm revision" not in text


def test_two_shells_stand_one_after_the_other(client_for, fabricator, clinician):
    both = factories.entry(side="left"), factories.entry(side="right", girth=["15", "15"])
    order = factories.order(clinician, fabricator.organisation, *both)

    page = client_for(fabricator).get(url_of(order))

    assert [shell.side for shell in page.context["shells"]] == ["left", "right"]
    text = page.content.decode()
    assert text.index("Shell, left") < text.index("Shell, right")
    assert text.count("Confirm revision 1") == 1


def test_a_flag_found_after_the_visit_is_shown_without_a_reason(client_for, clinician, fabricator):
    factories.order(clinician, fabricator.organisation)
    again = factories.order(clinician, fabricator.organisation)

    for member, name in ((fabricator, "orders:order"), (clinician, "orders:clinic-order")):
        text = client_for(member).get(reverse(name, args=[again.id])).content.decode()
        assert "A shell for this leg was ordered not long ago. The other order is of today." in text
        assert "No reason given: this was found after the visit." in text
