"""A clinic's orders by what they wait for, in a constant number of queries."""

import uuid
from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from functools import cache

from django.db.models import Count, Exists, F, Min, OuterRef, Q, QuerySet, Subquery
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from orders import access
from orders.drawings import in_page
from orders.figure import draw
from orders.finding import orders_found
from orders.models import Look, Order, Query, Revision
from project.models import Member

GROUP_ROWS = 50
NEWS = "news"
State = Order.State
OPEN = (State.SENT, State.QUERIED)
# What the clinic need do nothing about, by the state's own word.
AFTER_SENT = ("confirmed", "in_making", "made", "shipped", "cancelled")

# In the order in which they want somebody's hand: what each group is called, and which orders stand in it.
GROUPS = {
    "pick": (noop("Two versions, pick one"), Q(contested=True, state__in=OPEN)),
    "reply": (noop("Waiting for your reply"), Q(contested=False, state=State.QUERIED)),
    "not-opened": (noop("Sent, not opened yet"), Q(contested=False, state=State.SENT, opened=False)),
    "opened": (noop("With the workshop"), Q(contested=False, state=State.SENT, opened=True)),
    "confirmed": (noop("Confirmed"), Q(state=State.CONFIRMED)),
    "in_making": (noop("In making"), Q(state=State.IN_MAKING)),
    "made": (noop("Made"), Q(state=State.MADE)),
    "shipped": (noop("Shipped"), Q(state=State.SHIPPED)),
    "cancelled": (noop("Cancelled"), Q(state=State.CANCELLED)),
}


@dataclass(frozen=True)
class Group:
    """One group of the list: its key and name, how many orders there are in all, and those that are shown."""

    key: str
    name: str
    count: int
    orders: list[Order]

    @property
    def left_out(self) -> int:
        """How many more there are than are shown."""
        return self.count - len(self.orders)


def with_waiting(orders: QuerySet[Order]) -> QuerySet[Order]:
    """The orders with what a row needs.

    `sent_at` is when the current revision came, `first_side` and `second_side` its shells, `asked_at` the oldest
    open query, `opened` whether the workshop has opened that very revision.
    """
    current = Revision.objects.filter(order=OuterRef("pk"), number=OuterRef("revision_number"))
    looks = Look.objects.filter(
        order_id=OuterRef("pk"), organisation_id=OuterRef("workshop_id"), at__gte=OuterRef("sent_at")
    )
    waiting = Query.objects.filter(order=OuterRef("pk"), withdrawn_at=None, reply=None).order_by()
    oldest = waiting.values("order").annotate(at=Min("asked_at")).values("at")
    return (
        orders.select_related("person", "workshop")
        .annotate(
            sent_at=Subquery(current.values("created_at")[:1]),
            first_side=Subquery(current.values("entries__0__side")[:1]),
            second_side=Subquery(current.values("entries__1__side")[:1]),
            asked_at=Subquery(oldest[:1]),
        )
        .annotate(opened=Exists(looks))
    )


def groups_of(member: Member, news: Collection[uuid.UUID], find: str = "", only: str = "") -> list[Group]:
    """The groups that hold something: one alone, what a reference finds, what has news; else all but the cancelled."""
    orders = access.orders_of(member)
    if find or only == NEWS:
        orders = access.orders_named(member, orders_found(member, find) if find else news)
    keys = [only] if only in GROUPS else [key for key in GROUPS if find or only or key != "cancelled"]
    waiting, counts = with_waiting(orders), counts_of(orders)
    return [Group(key, _(GROUPS[key][0]), counts[key], rows_of(waiting, key)) for key in keys if counts[key]]


def counts_of(orders: QuerySet[Order]) -> dict[str, int]:
    """How many orders each group holds, in two queries."""
    stand = orders.order_by().values_list("state", "contested").annotate(Count("pk"))
    by_state = {(state, contested): count for state, contested, count in stand}
    sent = by_state.get((State.SENT, False), 0)
    opened = with_waiting(orders).filter(GROUPS["opened"][1]).count() if sent else 0
    return {
        "pick": sum(by_state.get((state, True), 0) for state in OPEN),
        "reply": by_state.get((State.QUERIED, False), 0),
        "not-opened": sent - opened,
        "opened": opened,
        **{state: in_state(by_state, state) for state in AFTER_SENT},
    }


def in_state(by_state: dict[tuple[str, bool], int], wanted: str) -> int:
    """How many orders are in a state, contested or not."""
    return sum(count for (state, _contested), count in by_state.items() if state == wanted)


def rows_of(orders: QuerySet[Order], key: str) -> list[Order]:
    """The first rows of a group: what has waited longest first, what is done newest first."""
    first = {"reply": F("asked_at").asc(), **dict.fromkeys(AFTER_SENT, F("moved_at").desc())}
    rows = orders.filter(GROUPS[key][1]).order_by(first.get(key, F("moved_at").asc()), "id")
    return list(rows[:GROUP_ROWS])


def waits_since(order: Order) -> datetime:
    """Since when an order has stood where it stands: asked, sent, or moved last."""
    return order.asked_at or (order.sent_at if order.state == State.SENT else order.moved_at)


@cache
def row_mark(side: str) -> SafeString:
    """The little leg of a row, pointing its way; the words beside it say the side."""
    return in_page(draw({"purpose": "mark", "side": side, "shell": {"state": "ink"}}))
