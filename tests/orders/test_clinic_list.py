import uuid
from datetime import UTC, datetime, timedelta

import pytest
from django.utils import timezone

from orders import access, clinic_list
from orders.clinic_list import Place, groups_of, waits_since
from orders.models import Order
from tests import factories

pytestmark = pytest.mark.django_db
AT = datetime(2026, 11, 26, 10, 30, 0, 123456, tzinfo=UTC)


def test_a_place_is_read_as_it_was_told():
    place = Place(AT, uuid.uuid4())

    assert Place.read(place.told) == place
    assert [
        Place.read(text) for text in ("", "~", f"{AT.isoformat()}~x", f"2026-11-26T10:30~{place.id}")
    ] == [None] * 4


def test_a_group_goes_on_after_a_place_though_its_row_has_moved_on(clinician, fabricator):
    orders = [factories.order(clinician, fabricator.organisation) for _order in range(3)]
    for hours, order in enumerate(orders):
        Order.objects.filter(id=order.id).update(moved_at=AT + timedelta(hours=hours))
    after = Place(AT + timedelta(hours=1), orders[1].id)
    Order.objects.filter(id=orders[1].id).update(state=Order.State.CANCELLED)

    (group,) = groups_of(clinician, {}, only="not-opened", after=after)

    assert [order.id for order in group.orders] == [orders[2].id]
    assert group.follows == ""


def test_a_row_waits_since_it_was_asked_sent_or_moved(clinician, fabricator):
    factories.order(clinician, fabricator.organisation)
    (group,) = groups_of(clinician, {})
    (order,) = group.orders

    assert waits_since(order) == order.sent_at
    order.asked_at = AT
    assert waits_since(order) == AT
    order.asked_at, order.state = None, Order.State.MADE
    assert waits_since(order) == order.moved_at


@pytest.mark.parametrize("key", clinic_list.GROUPS)
def test_a_group_is_read_along_an_index(clinician, fabricator, key):
    factories.order(clinician, fabricator.organisation)
    which = clinic_list.GROUPS[key][1]
    orders = clinic_list.with_waiting(access.orders_of(clinician)).filter(which)

    for after in (None, clinic_list.Place(timezone.now(), uuid.uuid4())):
        for part in clinic_list.parts_after(orders, key, after):
            plan = [line for line in part[:51].explain().splitlines() if "orders_order" in line]
            assert any("USING INDEX order_" in line for line in plan), plan
            assert "USE TEMP B-TREE" not in part[:51].explain()


@pytest.mark.parametrize(
    ("key", "index"), [("not-opened", "order_of_clinic_not_opened"), ("opened", "order_of_clinic_opened")]
)
def test_what_is_opened_and_what_is_not_each_has_an_index_of_its_own(clinician, fabricator, key, index):
    factories.order(clinician, fabricator.organisation)
    orders = clinic_list.with_waiting(access.orders_of(clinician)).filter(clinic_list.GROUPS[key][1])

    for asked in (*clinic_list.parts_after(orders, key, None), orders.order_by().values("id")):
        assert f" {index} (state=? AND clinic_id=?)" in asked[:51].explain()
