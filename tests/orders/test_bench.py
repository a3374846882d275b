from datetime import timedelta

import pytest
from django.utils import timezone

from orders import bench, moves
from orders.bench import Wanted, bench_filter, bench_sortings, orders_on_bench, read_wanted
from orders.bench_sorting import SORTINGS
from orders.models import Order
from orders.models.event import note_look
from tests import factories

EVERYTHING = Wanted()


@pytest.fixture
def made(clinician, fabricator):
    """Makes an order for the workshop, due in some days or without a day."""

    def order(due_in_days=None, reference="T-0001"):
        day = timezone.localdate() + timedelta(days=due_in_days) if due_in_days is not None else None
        entry = factories.entry(reference=reference)
        return factories.order(clinician, fabricator.organisation, entry, need_by=day and day.isoformat())

    return order


def confirmed(order, fabricator):
    """The order, confirmed."""
    moves.confirm(order, order.current.seal.sha256, fabricator)
    return order


def pages(member, wanted, rows, monkeypatch):
    """Every page of the queue, `rows` to a page."""
    monkeypatch.setattr(bench, "PAGE_ROWS", rows)
    found, after = [], None
    while True:
        ids, after = orders_on_bench(member, wanted, after)
        found.append(ids)
        if after is None:
            return found


def test_queue_runs_by_state_then_day_and_those_without_a_day_last(made, fabricator):
    nodate, late, soon = made(), made(9), made(2)
    done = confirmed(made(1), fabricator)

    ids, follows = orders_on_bench(fabricator, EVERYTHING)

    assert ids == [soon.id, late.id, nodate.id, done.id]
    assert follows is None


@pytest.mark.parametrize("by", SORTINGS)
def test_a_search_reads_in_the_same_order_as_the_bench(made, fabricator, by):
    orders = [made(days) for days in (5, None, 3, 3, None)] + [confirmed(made(4), fabricator)]
    Order.objects.filter(id__in=[order.id for order in orders[1:4]]).update(reasons=2)
    Order.objects.filter(id=orders[3].id).update(created_at=orders[2].created_at)

    (whole, _follows), (found, _none) = (
        orders_on_bench(fabricator, wanted) for wanted in (Wanted(by=by), Wanted(by=by, find="t"))
    )

    assert found == whole
    assert len(found) == len(orders)


@pytest.mark.parametrize(
    "wanted", [Wanted(by=by) for by in SORTINGS] + [Wanted(show="news"), Wanted(find="t")]
)
def test_pages_hold_every_order_once_and_in_order(made, fabricator, monkeypatch, wanted):
    orders = [made(days) for days in (5, None, 3, 3, None)] + [confirmed(made(4), fabricator)]
    later = confirmed(made(2), fabricator)
    moves.start(later, fabricator)
    Order.objects.filter(id__in=[order.id for order in orders[1:4]]).update(
        reasons=2, created_at=orders[0].created_at
    )
    whole, _follows = orders_on_bench(fabricator, wanted)
    assert len(whole) == len(orders) + 1

    for rows in (1, 2, 3, 4, 7, 8):
        found = pages(fabricator, wanted, rows, monkeypatch)

        assert [order_id for page in found for order_id in page] == whole
        assert all(len(page) == rows for page in found[:-1])


def test_by_age_the_oldest_of_a_state_is_first_whenever_it_is_due(made, fabricator):
    orders = [made(days) for days in (5, None, 3)]

    assert orders_on_bench(fabricator, Wanted(by="age"))[0] == [order.id for order in orders]


def test_by_flags_the_most_reasons_of_a_state_are_first_then_the_oldest(made, fabricator):
    orders = [made(1) for _number in range(4)]
    for order, reasons in zip(orders, (0, 2, 1, 2), strict=True):
        Order.objects.filter(id=order.id).update(reasons=reasons)

    found, _follows = orders_on_bench(fabricator, Wanted(by="flags"))

    assert found == [orders[at].id for at in (1, 3, 2, 0)]


def test_of_those_due_on_one_day_and_of_those_without_a_day_the_oldest_is_first(made, fabricator):
    orders = [made(days) for days in (None, 3, None, 3)]

    found, _follows = orders_on_bench(fabricator, EVERYTHING)

    assert found == [orders[at].id for at in (1, 3, 0, 2)]


def test_next_page_starts_after_a_row_that_has_gone(made, fabricator, monkeypatch):
    first, second, third = made(1), made(2), made(3)
    monkeypatch.setattr(bench, "PAGE_ROWS", 2)
    _ids, after = orders_on_bench(fabricator, EVERYTHING)

    confirmed(second, fabricator)
    ids, _follows = orders_on_bench(fabricator, EVERYTHING, after)

    assert ids == [third.id, second.id]
    assert first.id not in ids


def test_one_state_or_what_is_due_soon_can_be_asked_for(made, fabricator):
    soon, _late, done = made(6), made(7), confirmed(made(20), fabricator)

    assert orders_on_bench(fabricator, Wanted(show="confirmed"))[0] == [done.id]
    assert orders_on_bench(fabricator, Wanted(show="soon"))[0] == [soon.id]


def test_other_workshops_queue_is_its_own(made, fabricator, other_fabricator):
    order = made()
    assert orders_on_bench(fabricator, EVERYTHING)[0] == [order.id]

    assert orders_on_bench(other_fabricator, EVERYTHING)[0] == []
    assert {line.count for line in bench_filter(other_fabricator, EVERYTHING, 0)} == {0}


def test_filter_counts_every_state_and_what_is_due_soon(made, fabricator):
    made(6), made(7), confirmed(made(-1), fabricator), made()

    lines = {
        line.name: (line.count, line.current) for line in bench_filter(fabricator, Wanted(show="sent"), 5)
    }

    assert lines == {
        "All open": (4, False),
        "New": (3, True),
        "Waits for a clinic": (0, False),
        "Confirmed": (1, False),
        "In making": (0, False),
        "Made": (0, False),
        "Due in 7 days": (2, False),
        "With a reason": (3, False),  # one person, ordered for four times
        "With news": (5, False),
        "Shipped": (0, False),
    }


def test_cancelled_order_is_off_the_bench_but_found_by_its_reference(made, fabricator, clinician):
    order = made(1, reference="NF-0147")
    moves.cancel(order, clinician)

    assert orders_on_bench(fabricator, EVERYTHING)[0] == []
    assert orders_on_bench(fabricator, Wanted(find="0147"))[0] == [order.id]
    assert {line.count for line in bench_filter(fabricator, EVERYTHING, 0)} == {0}


def test_every_state_has_a_group():
    assert [bench.group_name(state) for state in Order.State.values]


def test_address_with_nonsense_asks_for_everything():
    assert read_wanted({"show": "nonsense", "by": "luck"}) == EVERYTHING
    assert read_wanted({"show": "sent", "find": "  NF "}) == Wanted(find="NF")
    assert len(read_wanted({"find": "x" * 500}).find) == 40


@pytest.mark.parametrize(
    "asked", [{}, {"show": "sent"}, {"show": "reason", "by": "age"}, {"find": "NF", "by": "flags"}]
)
def test_what_is_wanted_reads_its_own_address(asked):
    assert read_wanted(asked).asked == asked


@pytest.mark.parametrize("show", ["soon", "shipped"])
def test_what_is_due_soon_and_what_has_left_have_one_order(show):
    assert read_wanted({"show": show, "by": "flags"}) == Wanted(show=show)
    assert bench_sortings(Wanted(show=show)) == []


def test_sortings_keep_what_is_shown_or_looked_for():
    sortings = [(one.by, one.current, one.asked) for one in bench_sortings(Wanted(show="sent", by="age"))]

    assert sortings == [
        ("due", False, "show=sent"),
        ("age", True, "show=sent&by=age"),
        ("flags", False, "show=sent&by=flags"),
    ]
    assert bench_sortings(Wanted(find="a b"))[1].asked == "find=a+b&by=age"


def test_filter_keeps_the_sorting_where_there_is_a_choice(made, fabricator):
    lines = {line.show: line.asked for line in bench_filter(fabricator, Wanted(by="flags"), 0)}

    assert (lines[""], lines["sent"], lines["soon"]) == ("by=flags", "show=sent&by=flags", "show=soon")


def test_orders_with_news_are_shown_whatever_their_state(made, clinician, fabricator, other_fabricator):
    seen, new, cancelled = made(1), made(2), made(3)
    moves.cancel(cancelled, clinician)
    note_look(seen, fabricator)

    assert orders_on_bench(fabricator, Wanted(show="news"))[0] == [new.id, cancelled.id]
    assert orders_on_bench(other_fabricator, Wanted(show="news"))[0] == []


def test_orders_with_a_reason_can_be_asked_for(made, clinician, fabricator):
    made(2)
    explained = factories.entry(taken="seated", answers={"taken.not_standing": "Can't stand yet."})
    with_reason = factories.order(clinician, fabricator.organisation, explained)

    ids, _follows = orders_on_bench(fabricator, read_wanted({"show": "reason"}))

    assert ids == [with_reason.id]
    assert {line.name: line.count for line in bench_filter(fabricator, EVERYTHING, 0)}["With a reason"] == 1


def test_what_has_left_is_read_by_when_it_left_and_only_when_asked_for(made, fabricator, monkeypatch):
    orders, now = [made(days) for days in (1, 5, 3, None)], timezone.now()
    for order, ago in zip(orders, (3, 1, 2, 1), strict=True):
        Order.objects.filter(id=order.id).update(state="shipped", moved_at=now - timedelta(hours=ago))

    assert orders_on_bench(fabricator, EVERYTHING)[0] == []
    found = pages(fabricator, Wanted(show="shipped"), 1, monkeypatch)

    newest = sorted((orders[1].id, orders[3].id), reverse=True)
    assert [ids[0] for ids in found] == [*newest, orders[2].id, orders[0].id]


def test_a_count_goes_no_further_than_it_is_told(made, fabricator, monkeypatch):
    for _number in range(4):
        made(1)
    monkeypatch.setattr(bench, "COUNTED_MOST", 3)

    lines = {line.name: line.told for line in bench_filter(fabricator, EVERYTHING, 0)}

    assert (lines["New"], lines["All open"], lines["Confirmed"]) == ("2+", "2+", "0")


def test_fingerprint_changes_with_a_move_and_with_time_alone(made, fabricator, other_fabricator):
    order, now = made(3), timezone.now().replace(minute=1)

    def taken(member=fabricator, at=now, asked=""):
        return bench.fingerprint(member, asked, at)

    before = taken()
    assert before == taken(at=now.replace(minute=4))
    assert (
        len({before, taken(at=now.replace(minute=5)), taken(asked="show=sent"), taken(other_fabricator)}) == 4
    )
    confirmed(order, fabricator)
    assert taken() != before
