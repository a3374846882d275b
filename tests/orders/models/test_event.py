import pytest
from django.db import connection, transaction
from django.db.transaction import TransactionManagementError

from capture.models import Seal
from orders import triggers
from orders.models import Event, Look, Order
from orders.models.event import chain_breaks, note_look, record
from tests import factories


@pytest.fixture
def three(clinician):
    ids = [clinician.id, clinician.organisation_id, clinician.user_id]
    return [
        record(clinician.id, f"move {number}", clinician, number=number, of=str(ids[0]))
        for number in range(3)
    ]


def without_triggers(act):
    """Runs `act` with the triggers away, as somebody with the database's keys could."""
    with connection.cursor() as cursor:
        for line in triggers.drops(connection.vendor):
            cursor.execute(line)
        act()
        for line in triggers.statements(connection.vendor):
            cursor.execute(line)


def test_each_event_names_the_one_before(three):
    first, second, third = three

    assert first.previous == "0" * 64
    assert (second.previous, third.previous) == (first.sha256, second.sha256)
    assert chain_breaks() == []


def test_the_database_refuses_to_change_or_delete_an_event(three):
    with pytest.raises(Exception, match="orders_event is written once"), transaction.atomic():
        Event.objects.filter(id=three[1].id).update(what="something else")
    with pytest.raises(Exception, match="orders_event is written once"), transaction.atomic():
        three[1].delete()

    assert Event.objects.get(id=three[1].id).what == "move 1"


def test_a_look_at_what_the_workshop_read_opens_no_revision_that_came_meanwhile(clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    as_read = Order.objects.get(id=order.id)
    factories.correction(order, clinician, factories.entry(length=["16"], second_route=None))

    note_look(as_read, fabricator)

    order.refresh_from_db()
    assert (order.revision_number, order.opened, as_read.opened) == (2, False, False)


def test_the_database_refuses_to_change_or_delete_a_look(clinician, fabricator):
    note_look(factories.order(clinician, fabricator.organisation), clinician)

    with pytest.raises(Exception, match="orders_look is written once"), transaction.atomic():
        Look.objects.update(at="2026-01-01T00:00:00Z")
    with pytest.raises(Exception, match="orders_look is written once"), transaction.atomic():
        Look.objects.all().delete()


def test_a_changed_event_breaks_the_chain(three):
    without_triggers(lambda: Event.objects.filter(id=three[1].id).update(what="something else"))

    assert chain_breaks() == [three[1].id]


def test_a_missing_event_breaks_the_chain(three):
    without_triggers(lambda: Event.objects.filter(id=three[1].id).delete())

    assert chain_breaks() == [three[2].id]


def test_an_event_outside_a_transaction_is_refused(clinician):
    # A chain written outside the move's transaction could tell of a move that was then undone.
    connection.in_atomic_block, before = False, connection.in_atomic_block
    try:
        with pytest.raises(TransactionManagementError):
            record(clinician.id, "move", clinician)
    finally:
        connection.in_atomic_block = before


def test_what_was_sent_cannot_change_but_its_sender_may_be_forgotten(clinician, fabricator):
    factories.order(clinician, fabricator.organisation)

    with pytest.raises(Exception, match="capture_seal is written once"), transaction.atomic():
        Seal.objects.update(raw=b"{}")
    Seal.objects.update(sent_by=None)

    assert Seal.objects.get().sent_by is None
