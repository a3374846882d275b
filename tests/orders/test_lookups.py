from datetime import timedelta

import pytest
from django.utils import timezone

from capture.models import Photo
from orders import lookups, moves
from orders.models import Look
from orders.models.event import note_look
from tests import factories

pytestmark = pytest.mark.django_db


def rows_of(member, *orders):
    return lookups.bench_rows(member, [order.id for order in orders])


def test_rows_come_in_the_order_asked_for(clinician, fabricator):
    first, second = (factories.order(clinician, fabricator.organisation) for _ in range(2))

    assert [row.order for row in rows_of(fabricator, second, first)] == [second, first]


def test_row_holds_the_current_revision_and_the_last_event(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    factories.correction(order, clinician, factories.entry(length=["16"], second_route=None))

    (row,) = rows_of(fabricator, order)

    assert row.revision.number == 2
    assert row.revision.entries[0]["length"] == ["16"]
    assert (row.last.what, row.last.detail["revision"]) == ("correct", 2)


def test_order_of_another_workshop_makes_no_row(clinician, fabricator, other_fabricator):
    order = factories.order(clinician, fabricator.organisation)
    assert len(rows_of(fabricator, order)) == 1

    assert rows_of(other_fabricator, order) == []


def test_row_holds_the_queries_that_wait_oldest_first(clinician, fabricator):
    order, other = (factories.order(clinician, fabricator.organisation) for _ in range(2))
    first, second, taken_back = (
        moves.query(order, fabricator, order.current, "left", field, "On the skin?")
        for field in ("girth", "length", "gap")
    )
    moves.withdraw(order, taken_back, fabricator)

    row, plain = rows_of(fabricator, order, other)

    assert row.asked == [first, second]
    assert plain.asked == []


def test_order_is_opened_once_its_workshop_has_looked(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    assert not rows_of(fabricator, order)[0].order.opened

    note_look(order, fabricator)

    assert rows_of(fabricator, order)[0].order.opened


def test_look_of_the_clinic_opens_nothing_on_the_bench(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)

    note_look(order, clinician)

    assert Look.objects.count() == 1
    assert not rows_of(fabricator, order)[0].order.opened


def test_new_revision_is_unopened_again(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    note_look(order, fabricator)

    factories.correction(order, clinician, factories.entry(length=["16"], second_route=None))

    assert not rows_of(fabricator, order)[0].order.opened


@pytest.mark.parametrize("many", [2, 9])
def test_more_rows_make_no_more_sql(clinician, fabricator, django_assert_num_queries, many):
    orders = [factories.order(clinician, fabricator.organisation) for _ in range(many)]
    for order in orders[:2]:
        moves.query(order, fabricator, order.current, "left", "girth", "On the skin?")

    with django_assert_num_queries(6):
        assert len(rows_of(fabricator, *orders)) == many


def test_revisions_come_newest_first_without_their_seals_bytes(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    factories.correction(order, clinician, factories.entry(length=["16"], second_route=None))

    revisions = lookups.revisions_of(order)

    assert [revision.number for revision in revisions] == [2, 1]
    assert revisions[0].seal.sent_by == clinician
    assert "raw" in revisions[0].seal.get_deferred_fields()


def test_history_names_who_did_what_when(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    moves.confirm(order, order.current.seal.sha256, fabricator)

    happened = lookups.happened_to(order)

    assert [(event.what, event.member, event.revision) for event in happened] == [
        ("send", clinician, 1),
        ("confirm", fabricator, 1),
    ]
    assert all(timezone.now() - event.at < timedelta(minutes=5) for event in happened)


def test_history_stands_when_a_member_has_left(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    clinician.user.delete()

    assert [event.member for event in lookups.happened_to(order)] == [None]


def test_phone_gets_its_own_clinics_orders_and_every_workshop(clinician, other_clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)

    kept = lookups.for_phone(clinician)

    assert [told["id"] for told in kept["orders"]] == [str(order.id)]
    assert kept["orders"][0]["seal_sha256"] == order.current.seal.sha256
    assert [workshop["name"] for workshop in kept["workshops"]] == [fabricator.organisation.name]
    assert lookups.for_phone(other_clinician)["orders"] == []


def test_newest_version_of_a_catalogue_is_the_one_offered(fabricator):
    (first,) = lookups.newest_catalogues()
    fabricator.organisation.catalogues.create(version=2, content={**first.content, "trim_mm": 3})

    (newest,) = lookups.newest_catalogues()

    assert newest.version == 2


def test_a_phone_is_told_what_waits_for_a_reply(clinician, fabricator):
    photo = {"sha256": "ab" * 32, "bytes": 5, "view": "side", "entry": 0}
    Photo.objects.create(
        clinic=clinician.organisation, sha256=photo["sha256"], bytes=5, state="set_aside", reason="empty"
    )
    photos = [photo, photo | {"measured": factories.measured(402)}]
    order = factories.order(clinician, fabricator.organisation, photos=photos, need_by="2027-01-15")
    asked = moves.query(order, fabricator, order.current, "left", "girth", "On the skin?")

    (told,) = lookups.for_phone(clinician)["orders"]

    assert [(query["id"], query["field"], query["text"]) for query in told["queries"]] == [
        (str(asked.id), "girth", "On the skin?")
    ]
    assert (told["state"], told["need_by"], told["contested"]) == ("queried", "2027-01-15", False)
    assert told["entries"] == order.current.entries
    assert told["photos"] == photos


def test_more_orders_make_no_more_queries_for_a_phone(clinician, fabricator, django_assert_num_queries):
    for number in range(3):
        order = factories.order(clinician, fabricator.organisation, factories.entry(reference=f"T-{number}"))
        moves.query(order, fabricator, order.current, "left", "girth", "On the skin?")

    with django_assert_num_queries(5):
        lookups.for_phone(clinician)
