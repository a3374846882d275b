"""The plain case: 15 1/2 in taken less 12.7 mm is 381 mm, a girth of 14 3/4 in is 374.65 mm, by hand."""

from datetime import timedelta

import pytest
from django.utils import timezone

from orders import moves
from orders.bench_lines import bench_groups, foot_words, knee_words
from orders.lookups import bench_rows
from orders.models import Order, Query
from orders.models.event import note_look
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def line(member, order, news=()):
    """The one line of an order, as the bench of this member shows it now."""
    rows = bench_rows(member, [order.id])
    ((one,),) = (group.lines for group in bench_groups(rows, news, timezone.localdate(), timezone.now()))
    return one


def test_a_row_says_what_is_made_in_a_few_words(fabricator, order):
    (shell,) = line(fabricator, order).shells

    assert (shell.side, shell.finished_mm, shell.girth_mm) == ("left", "381", "375")
    assert (shell.knee, shell.foot, shell.wall, shell.rear) == ("one pin", "low, solid", "thin", "short")
    assert "<svg" in shell.mark


def test_rows_stand_in_groups_in_the_order_they_come_in(clinician, fabricator, order):
    confirmed = factories.order(clinician, fabricator.organisation)
    moves.confirm(confirmed, confirmed.current.seal.sha256, fabricator)
    rows = bench_rows(fabricator, [order.id, confirmed.id])

    groups = bench_groups(rows, (), timezone.localdate(), timezone.now())

    assert [(group.state, group.name, len(group.lines)) for group in groups] == [
        ("sent", "New", 1),
        ("confirmed", "Confirmed", 1),
    ]
    assert [group.lines[0].promised for group in groups] == [False, True]


def test_what_waits_for_the_clinic_says_since_when_and_about_what(fabricator, order):
    for field, minutes in (("girth", 20), ("gap", 5)):
        asked = moves.query(order, fabricator, order.current, "left", field, "Sure?")
        Query.objects.filter(id=asked.id).update(asked_at=timezone.now() - timedelta(minutes=minutes))
        order.refresh_from_db()

    one = line(fabricator, order)

    assert one.last.startswith("asked 20 min")
    assert one.below == "on girth, 1 more"


@pytest.mark.parametrize(("days", "today"), [(-1, True), (0, True), (1, False)])
def test_what_is_due_is_bold_on_its_day_and_after(fabricator, order, days, today):
    Order.objects.filter(id=order.id).update(need_by=timezone.localdate() + timedelta(days=days))

    assert line(fabricator, order).due_today is today


def test_news_is_of_an_order_that_somebody_has_looked_at(fabricator, order):
    assert line(fabricator, order, {order.id}).news is False

    note_look(order, fabricator)

    assert line(fabricator, order, {order.id}).news is True
    assert line(fabricator, order).news is False


def test_what_is_fitted_is_said_by_what_was_seen():
    knee = {"named": "polycentric", "pivots_seen": "unsure", "control": "fluid"}

    assert knee_words(knee) == "several pins, fluid"
    assert knee_words({**knee, "pivots_seen": "one", "control": "mechanical"}) == "one pin"
    assert foot_words({"profile": "high", "ankle": "jointed"}) == "high, jointed"
