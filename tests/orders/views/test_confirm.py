from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from capture import sync
from orders import moves
from orders.models import Event, Order
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def url_of(order):
    return reverse("orders:confirm", args=[order.id])


def confirmations(order):
    return Event.objects.filter(order_id=order.id, what="confirm").count()


def test_confirm_answers_posts_only(client_for, fabricator, order):
    assert client_for(fabricator).get(url_of(order)).status_code == 405
    assert confirmations(order) == 0


def test_stranger_confirms_nothing(client_for, order):
    answer = client_for(None).post(url_of(order), factories.confirmation(order))

    assert answer.status_code == 302
    assert answer["Location"].startswith("/accounts/login/")
    assert confirmations(order) == 0


def test_other_workshop_and_clinics_find_nothing(
    client_for, order, other_fabricator, clinician, lead, other_clinician
):
    for member in (other_fabricator, clinician, lead, other_clinician):
        assert client_for(member).post(url_of(order), factories.confirmation(order)).status_code == 404
    assert confirmations(order) == 0


def test_form_from_elsewhere_is_refused(client_for, fabricator, order):
    answer = client_for(fabricator, enforce_csrf_checks=True).post(
        url_of(order), factories.confirmation(order)
    )

    assert answer.status_code == 403
    assert confirmations(order) == 0


def test_confirming_the_revision_on_the_page_confirms_it(client_for, fabricator, order):
    answer = client_for(fabricator).post(url_of(order), factories.confirmation(order))

    assert answer.status_code == 302
    assert answer["Location"] == reverse("orders:order", args=[order.id])
    assert Order.objects.get(id=order.id).state == "confirmed"
    assert confirmations(order) == 1


def test_replaced_revision_is_refused_and_the_difference_shown(client_for, fabricator, clinician, order):
    on_the_page = factories.confirmation(order)
    factories.correction(order, clinician, factories.entry(length=["16"], second_route=None))

    answer = client_for(fabricator).post(url_of(order), on_the_page)

    assert answer.status_code == 409
    assert Order.objects.get(id=order.id).state == "sent"
    assert confirmations(order) == 0
    text = answer.content.decode()
    assert "Nothing was confirmed" in text
    assert "You read revision 1" in text
    assert "<s>381 mm</s></td><td>393 mm" in text
    assert "Read revision 2" in text


def test_newer_revision_can_be_confirmed_after_reading_it(client_for, fabricator, clinician, order):
    factories.correction(order, clinician, factories.entry(length=["16"], second_route=None))
    order.refresh_from_db()

    client_for(fabricator).post(url_of(order), factories.confirmation(order))

    assert Order.objects.get(id=order.id).state == "confirmed"
    assert Event.objects.get(order_id=order.id, what="confirm").detail["revision"] == 2


def test_confirming_twice_says_who_did_and_when(client_for, fabricator, order):
    client = client_for(fabricator)
    client.post(url_of(order), factories.confirmation(order))

    answer = client.post(url_of(order), factories.confirmation(order))

    assert answer.status_code == 409
    text = answer.content.decode()
    assert "Revision 1 is confirmed already" in text
    assert f"{fabricator.initials}, {fabricator.organisation.name}" in text
    assert confirmations(order) == 1


@pytest.mark.parametrize("seal", ["", "nonsense", "0" * 64])
def test_unknown_seal_confirms_nothing(client_for, fabricator, order, seal):
    answer = client_for(fabricator).post(url_of(order), {"seal": seal})

    assert answer.status_code == 409
    assert (
        "didn&#x27;t name a revision" in answer.content.decode()
        or "didn't name a revision" in answer.content.decode()
    )
    assert confirmations(order) == 0


def test_seal_of_another_order_confirms_nothing(client_for, fabricator, clinician, order):
    other = factories.order(clinician, fabricator.organisation, factories.entry(girth=["15", "15"]))

    answer = client_for(fabricator).post(url_of(order), factories.confirmation(other))

    assert answer.status_code == 409
    assert confirmations(order) == confirmations(other) == 0


def test_cancelled_order_is_not_confirmed(client_for, fabricator, clinician, order):
    on_the_page = factories.confirmation(order)
    moves.cancel(order, clinician)

    answer = client_for(fabricator).post(url_of(order), on_the_page)

    assert answer.status_code == 409
    assert "The clinic has cancelled this order." in answer.content.decode()
    assert confirmations(order) == 0


def test_order_with_a_query_is_not_confirmed(client_for, fabricator, order):
    moves.query(order, fabricator, order.current, "left", "length", "Is that to the rim?")

    answer = client_for(fabricator).post(url_of(order), factories.confirmation(order))

    assert answer.status_code == 409
    assert "waits for the clinic&#x27;s reply" in answer.content.decode()
    assert confirmations(order) == 0


def test_order_in_two_versions_is_not_confirmed(client_for, fabricator, clinician, order):
    first = order.current.seal.sha256
    factories.correction(order, clinician, factories.entry(girth=["15", "15"]))
    rival = factories.seal(
        order.workshop,
        factories.entry(girth=["15 1/4", "15 1/4"]),
        order_id=order.id,
        parent=first,
        visit_id=order.visit_id,
    )
    sync.take_seal(clinician, order.id, factories.hash_of(rival), rival)
    order.refresh_from_db()
    assert order.contested

    answer = client_for(fabricator).post(url_of(order), factories.confirmation(order))

    assert answer.status_code == 409
    assert "must pick one" in answer.content.decode()
    assert confirmations(order) == 0


LEAD_TIME = 3  # days, as the tests' catalogue says


def test_first_day_of_the_lead_time_is_offered_and_may_be_promised(client_for, fabricator, order):
    client = client_for(fabricator)
    first = (timezone.localdate() + timedelta(days=LEAD_TIME)).isoformat()
    page = client.get(reverse("orders:order", args=[order.id])).content.decode()
    assert f'value="{first}"' in page
    assert "Lead time 3 days." in page

    client.post(url_of(order), factories.confirmation(order, LEAD_TIME))

    order.refresh_from_db()
    assert (order.state, order.promised_for.isoformat()) == ("confirmed", first)
    assert Event.objects.get(order_id=order.id, what="confirm").detail["promised_for"] == first


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("", "Say on which day it leaves you."),
        ("soon", "This is no day."),
        ("2026-02-30", "This is no day."),
        (LEAD_TIME - 1, "Your catalogue&#x27;s lead time is 3 days: the first day that can be promised is"),
        (-400, "the first day that can be promised is"),
        (LEAD_TIME + 367, "That is more than a year ahead. Look at the year."),
        ("9999-12-31", "That is more than a year ahead. Look at the year."),
    ],
)
def test_a_day_that_cannot_be_promised_is_an_error_at_the_field(client_for, fabricator, order, typed, says):
    day = timezone.localdate() + timedelta(days=typed) if isinstance(typed, int) else typed

    answer = client_for(fabricator).post(
        url_of(order), {**factories.confirmation(order), "promised_for": str(day)}
    )

    page = answer.content.decode()
    assert answer.status_code == 422
    assert says in page
    assert 'aria-invalid="true"' in page
    assert f'value="{day}"' in page or not typed
    assert confirmations(order) == 0
    order.refresh_from_db()
    assert (order.state, order.promised_for) == ("sent", None)


def test_a_promise_after_the_day_it_is_needed_is_told_to_both_sides(client_for, clinician, fabricator):
    need_by = timezone.localdate() + timedelta(days=12)
    order = factories.order(clinician, fabricator.organisation, need_by=need_by.isoformat())
    client_for(fabricator).post(url_of(order), factories.confirmation(order, 15))

    for member, name in ((fabricator, "orders:order"), (clinician, "orders:clinic-order")):
        page = client_for(member).get(reverse(name, args=[order.id])).content.decode()
        assert "3 days after it is needed" in page
