"""A clinic's orders by what they wait for, in a constant number of queries."""

import uuid
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cache

from django.db.models import Min, OuterRef, Q, QuerySet, Subquery
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from orders import access
from orders.bench import count_of, count_told
from orders.bench_sorting import read_moment
from orders.drawings import in_page
from orders.figure import draw
from orders.finding import orders_found
from orders.models import Order, Query, Revision
from orders.models.order import NOT_OPENED, OPENED
from project.models import Member

GROUP_ROWS = 50
GROUP_ROWS_OF_ALL = 20  # where the groups stand together
NEWS = "news"
REPORTED = "problem"
State = Order.State
OPEN = (State.SENT, State.QUERIED)
# What the clinic need do nothing about, by the state's own word.
AFTER_SENT = ("confirmed", "in_making", "made", "shipped", "cancelled")

# In the order in which they want somebody's hand: what each group is called, and which orders stand in it.
GROUPS = {
    "pick": (noop("Two versions, pick one"), Q(contested=True, state__in=OPEN)),
    "reply": (noop("Waiting for your reply"), Q(contested=False, state=State.QUERIED)),
    "not-opened": (noop("Sent, not opened yet"), NOT_OPENED & Q(state=State.SENT)),
    "opened": (noop("With the workshop"), OPENED & Q(state=State.SENT)),
    "confirmed": (noop("Confirmed"), Q(state=State.CONFIRMED)),
    "in_making": (noop("In making"), Q(state=State.IN_MAKING)),
    "made": (noop("Made"), Q(state=State.MADE)),
    "shipped": (noop("Shipped"), Q(state=State.SHIPPED)),
    "cancelled": (noop("Cancelled"), Q(state=State.CANCELLED)),
}


@dataclass(frozen=True)
class Group:
    """One group of the list: its key and name, how many orders there are as it is told, and those that are shown.

    `follows` is the place that the next page of it starts after, "" on the last.
    """

    key: str
    name: str
    count: str
    orders: list[Order]
    follows: str = ""


@dataclass(frozen=True)
class Place:
    """A row's place in its group: when it was moved last, and its id."""

    moved_at: datetime
    id: uuid.UUID

    @classmethod
    def read(cls, text: str) -> "Place | None":
        """The place that `told` wrote, or None for anything else."""
        moved_at, _tilde, order_id = text.partition("~")
        try:
            return cls(read_moment(moved_at), uuid.UUID(order_id))
        except ValueError:
            return None

    @property
    def told(self) -> str:
        """The place as an address holds it."""
        return f"{self.moved_at.isoformat()}~{self.id}"


def with_waiting(orders: QuerySet[Order]) -> QuerySet[Order]:
    """The orders with what a row needs.

    `sent_at` is when the current revision came, `first_side` and `second_side` its shells, `asked_at` the oldest
    open query.
    """
    current = Revision.objects.filter(order=OuterRef("pk"), number=OuterRef("revision_number"))
    waiting = Query.objects.filter(order=OuterRef("pk"), withdrawn_at=None, reply=None).order_by()
    oldest = waiting.values("order").annotate(at=Min("asked_at")).values("at")
    return orders.select_related("person", "workshop").annotate(
        sent_at=Subquery(current.values("created_at")[:1]),
        first_side=Subquery(current.values("entries__0__side")[:1]),
        second_side=Subquery(current.values("entries__1__side")[:1]),
        asked_at=Subquery(oldest[:1]),
    )


def groups_of(
    member: Member, news: Mapping[uuid.UUID, str], find: str = "", only: str = "", after: Place | None = None
) -> list[Group]:
    """The groups that hold something: one alone, what a reference finds, what has news; else all but the cancelled.

    Before all of them, where they stand together, what a person reports that nobody here has read. `after` is where a
    page of one group starts, and means nothing else.
    """
    orders = access.orders_of(member)
    if find or only == NEWS:
        orders = access.orders_named(member, orders_found(member, find) if find else news)
    if only in GROUPS and not find:
        groups = [group_of(orders, only, GROUP_ROWS, after)]
    else:
        named = bool(find or only)
        keys = [key for key in GROUPS if named or key != "cancelled"]
        groups = [group_of(orders, key, GROUP_ROWS if named else GROUP_ROWS_OF_ALL) for key in keys]
        if not named:
            groups.insert(0, reported(member, news))
    return [group for group in groups if group.orders]


def reported(member: Member, news: Mapping[uuid.UUID, str]) -> Group:
    """The orders whose news is a problem; each stands in its own group besides."""
    ids = [order_id for order_id, what in news.items() if what == REPORTED]
    shown = list(with_waiting(access.orders_named(member, ids)).order_by("moved_at", "id")) if ids else []
    return Group(REPORTED, _("A problem is reported"), str(len(shown)), shown)


def group_of(orders: QuerySet[Order], key: str, most: int, after: Place | None = None) -> Group:
    """One page of a group, by an index however many orders stand in it; told is no more than the bench tells."""
    name, which = GROUPS[key]
    inside = with_waiting(orders).filter(which)
    rows: list[Order] = []
    for part in parts_after(inside, key, after):
        rows += part[: most + 1 - len(rows)]
    more = len(rows) > most
    shown = rows[:most]
    count = count_told(count_of(inside)) if more or after else str(len(shown))
    return Group(key, _(name), count, shown, Place(shown[-1].moved_at, shown[-1].id).told if more else "")


def parts_after(orders: QuerySet[Order], key: str, after: Place | None) -> Iterator[QuerySet[Order]]:
    """A group's orders, what has waited longest first, what is done newest first; or those after a place.

    Those moved at the same moment, then the rest: each is one range of the index, where both in one condition would be
    read from its start.
    """
    done = key in AFTER_SENT
    rows = orders.order_by("-moved_at", "-id") if done else orders.order_by("moved_at", "id")
    if after is None:
        yield rows
        return
    beyond = "lt" if done else "gt"
    yield rows.filter(moved_at=after.moved_at, **{f"id__{beyond}": after.id})
    yield rows.filter(**{f"moved_at__{beyond}": after.moved_at})


def waits_since(order: Order) -> datetime:
    """Since when an order has stood where it stands: asked, sent, or moved last."""
    return order.asked_at or (order.sent_at if order.state == State.SENT else order.moved_at)


@cache
def row_mark(side: str) -> SafeString:
    """The little leg of a row, pointing its way; the words beside it say the side."""
    return in_page(draw({"purpose": "mark", "side": side, "shell": {"state": "ink"}}))
