from datetime import date, timedelta
from uuid import UUID

import pytest
from django.utils import timezone

from orders import bench, moves
from orders.bench import Place, Wanted, bench_filter, orders_on_bench, read_wanted
from orders.models import Order
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


@pytest.mark.parametrize("rows", [1, 2, 3, 4, 6, 7])
def test_pages_hold_every_order_once_and_in_order(made, fabricator, monkeypatch, rows):
    orders = [made(days) for days in (5, None, 3, 3, None)] + [confirmed(made(4), fabricator)]
    whole, _follows = orders_on_bench(fabricator, EVERYTHING)
    assert len(whole) == len(orders)

    found = pages(fabricator, EVERYTHING, rows, monkeypatch)

    assert [order_id for page in found for order_id in page] == whole
    assert all(len(page) == rows for page in found[:-1])


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

    assert orders_on_bench(fabricator, Wanted(state="confirmed"))[0] == [done.id]
    assert orders_on_bench(fabricator, Wanted(soon=True))[0] == [soon.id]


def test_reference_is_found_by_a_part_in_any_case(made, fabricator):
    order, _other = made(reference="NF-0147"), made(reference="SM-0032")

    assert orders_on_bench(fabricator, Wanted(find="nf-01"))[0] == [order.id]
    assert orders_on_bench(fabricator, Wanted(find="XX"))[0] == []


def test_other_workshops_queue_is_its_own(made, fabricator, other_fabricator):
    order = made()
    assert orders_on_bench(fabricator, EVERYTHING)[0] == [order.id]

    assert orders_on_bench(other_fabricator, EVERYTHING)[0] == []
    assert {line.count for line in bench_filter(other_fabricator, EVERYTHING)} == {0}


def test_filter_counts_every_state_and_what_is_due_soon(made, fabricator):
    made(6), made(7), confirmed(made(-1), fabricator), made()

    lines = {line.name: (line.count, line.current) for line in bench_filter(fabricator, Wanted(state="sent"))}

    assert lines == {
        "All open": (4, False),
        "New": (3, True),
        "Waits for a clinic": (0, False),
        "Confirmed": (1, False),
        "In making": (0, False),
        "Made": (0, False),
        "Due in 7 days": (2, False),
        "With a reason": (3, False),  # one person, ordered for four times
        "Shipped": (0, False),
    }


def test_cancelled_order_is_off_the_bench_but_found_by_its_reference(made, fabricator, clinician):
    order = made(1, reference="NF-0147")
    moves.cancel(order, clinician)

    assert orders_on_bench(fabricator, EVERYTHING)[0] == []
    assert orders_on_bench(fabricator, Wanted(find="0147"))[0] == [order.id]
    assert {line.count for line in bench_filter(fabricator, EVERYTHING)} == {0}


def test_every_state_has_a_group():
    assert [bench.group_name(state) for state in Order.State.values]


@pytest.mark.parametrize("day", [date(2026, 12, 11), None])
def test_place_is_read_as_it_was_written(day):
    place = Place("sent", day, UUID(int=7))

    assert Place.read(str(place)) == place


@pytest.mark.parametrize(
    "text", ["", "sent", "sent_x_y", "nowhere__" + str(UUID(int=7)), "sent_2026-13-01_7", "a_b_c_d"]
)
def test_place_that_nobody_wrote_is_none(text):
    assert Place.read(text) is None


def test_address_with_nonsense_asks_for_everything():
    assert read_wanted({"show": "nonsense"}) == EVERYTHING
    assert read_wanted({"show": "sent", "find": "  NF "}) == Wanted(state="sent", find="NF")
    assert len(read_wanted({"find": "x" * 500}).find) == 40


def test_orders_with_a_reason_can_be_asked_for(made, clinician, fabricator):
    made(2)
    explained = factories.entry(taken="seated", answers={"taken.not_standing": "Can't stand yet."})
    with_reason = factories.order(clinician, fabricator.organisation, explained)

    ids, _follows = orders_on_bench(fabricator, read_wanted({"show": "reason"}))

    assert ids == [with_reason.id]
    assert {line.name: line.count for line in bench_filter(fabricator, EVERYTHING)}["With a reason"] == 1


def test_what_has_left_is_read_newest_first_and_only_when_asked_for(made, fabricator, monkeypatch):
    orders = [made(days) for days in (1, 5, 3, None)]
    Order.objects.update(state="shipped")

    assert orders_on_bench(fabricator, EVERYTHING)[0] == []
    found = pages(fabricator, Wanted(state="shipped"), 1, monkeypatch)

    assert [ids[0] for ids in found] == [orders[1].id, orders[2].id, orders[0].id, orders[3].id]


def test_a_count_goes_no_further_than_it_is_told(made, fabricator, monkeypatch):
    for _number in range(4):
        made(1)
    monkeypatch.setattr(bench, "COUNTED_MOST", 3)

    lines = {line.name: line.told for line in bench_filter(fabricator, EVERYTHING)}

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
