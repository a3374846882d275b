"""The workshop's queue: which orders stand on it, in the order of work, a page at a time.

A page is found by keyset (bench_sorting.py): it starts after the last row of the page before, by the same index however
long the queue is. The queue runs through its groups one after the other, in each by what it is sorted by.
"""

import hashlib
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db.models import QuerySet
from django.utils import timezone
from django.utils.http import urlencode
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from orders import access
from orders.bench_sorting import (
    DONE,
    DUE,
    SORTINGS,
    Place,
    Stretch,
    rows_from,
    rows_of_few_from,
    stretches_of,
)
from orders.finding import orders_found
from orders.models import Order
from orders.models.order import WITH_REASON
from orders.news import news_of
from project.models import Member

PAGE_ROWS = 50
SOON_DAYS = 7
SOON, REASON, NEWS = "soon", "reason", "news"
COUNTED_MOST = 1000  # a count goes no further, so that it costs the same however long the queue is

# What the bench calls a state, where that isn't the state's own word.
GROUP_NAMES = {Order.State.SENT: noop("New"), Order.State.QUERIED: noop("Waits for a clinic")}
OPEN = [state for state in Order.State.values if state not in DONE]


@dataclass(frozen=True)
class Wanted:
    """What the bench is asked to show, and by what.

    `show` is a state, what is due soon, has a reason or has news, or "" for all that is open; `find` looks for a
    reference instead.
    """

    show: str = ""
    by: str = DUE
    find: str = ""

    @property
    def state(self) -> str:
        """The one state that is shown, or ""."""
        return self.show if self.show in Order.State.values else ""

    @property
    def named(self) -> bool:
        """Whether the orders are known one by one, few enough to name; in whatever state they are."""
        return bool(self.find) or self.show == NEWS

    @property
    def sortings(self) -> list[str]:
        """What it can be sorted by: what is due soon stands by its day, what is done by when it left."""
        return [DUE] if self.show == SOON or self.state in DONE else list(SORTINGS)

    @property
    def asked(self) -> dict[str, str]:
        """The words of its address; what goes without saying is left out."""
        by = self.by if self.by != DUE else ""
        said = {"find": self.find} if self.find else {"show": self.show}
        return {key: value for key, value in {**said, "by": by}.items() if value}


def group_name(state: str) -> str:
    """What the bench calls the orders in this state."""
    return _(GROUP_NAMES[state]) if state in GROUP_NAMES else capfirst(Order.State(state).label)


def read_wanted(asked: dict) -> Wanted:
    """What an address asks for; what it doesn't know it leaves aside."""
    show, by = asked.get("show", ""), asked.get("by", "")
    find = asked.get("find", "").strip()[:40]
    known = not find and show in {*Order.State.values, SOON, REASON, NEWS}
    wanted = Wanted(show=show if known else "", find=find)
    return Wanted(show=wanted.show, find=find, by=by if by in wanted.sortings else DUE)


def soon_before() -> date:
    """The first day that isn't soon any more."""
    return timezone.localdate() + timedelta(days=SOON_DAYS)


@dataclass(frozen=True)
class Queue:
    """What one member is asked to be shown: the orders, and the stretches that they stand in."""

    member: Member
    wanted: Wanted

    @property
    def orders(self) -> QuerySet[Order]:
        """The orders, in no order."""
        if self.wanted.find:
            return access.orders_named(self.member, orders_found(self.member, self.wanted.find))
        if self.wanted.show == NEWS:
            return access.orders_named(self.member, news_of(self.member))
        orders = access.orders_of(self.member)
        if self.wanted.show == SOON:
            return orders.filter(need_by__lt=soon_before())
        return orders.filter(WITH_REASON) if self.wanted.show == REASON else orders

    @property
    def stretches(self) -> list[Stretch]:
        """The stretches it runs through."""
        states = (
            Order.State.values if self.wanted.named else [self.wanted.state] if self.wanted.state else OPEN
        )
        return [stretch for state in states for stretch in stretches_of(state, self.wanted.by)]

    def rows_after(self, after: Place | None) -> Iterator[tuple[Stretch, QuerySet[Order] | list[Order]]]:
        """The rows after a place, or from the start: stretch by stretch, to be taken as far as they are needed."""
        read = rows_of_few_from if self.wanted.named else rows_from
        return read(self.orders, self.stretches, after)


def orders_on_bench(
    member: Member, wanted: Wanted, after: Place | None = None
) -> tuple[list[uuid.UUID], Place | None]:
    """One page of the queue: the orders' ids, and the place that the next page starts after (None on the last)."""
    found: list[tuple[Order, Stretch]] = []
    for stretch, rows in Queue(member, wanted).rows_after(after):
        found += [(row, stretch) for row in rows[: PAGE_ROWS + 1 - len(found)]]
        if len(found) > PAGE_ROWS:
            found.pop()
            return [row.id for row, _stretch in found], Place.of(*found[-1])
    return [row.id for row, _stretch in found], None


@dataclass(frozen=True)
class Counted:
    """One line of the filter beside the queue."""

    show: str
    name: str
    count: int
    current: bool
    asked: str

    @property
    def apart(self) -> bool:
        """Whether it stands apart: what cuts across the states, and what is done."""
        return self.show in (SOON, Order.State.SHIPPED)

    @property
    def told(self) -> str:
        """The count as it is shown."""
        return count_told(self.count)


def bench_filter(member: Member, wanted: Wanted, news: int) -> list[Counted]:
    """All that is open, each open state, what is due soon, has a reason or has news, what has left: with how many.

    Each is counted by itself and no further than it is told: a constant number of queries, each of a bounded length.
    """
    orders = access.orders_of(member)
    opened = orders.filter(state__in=OPEN)
    by_state = [(state, group_name(state), count_of(orders.filter(state=state))) for state in OPEN]
    lines = [("", _("All open"), min(sum(count for *_name, count in by_state), COUNTED_MOST)), *by_state]
    soon = count_of(opened.filter(need_by__lt=soon_before()))
    lines.append((SOON, _("Due in {count} days").format(count=SOON_DAYS), soon))
    lines.append((REASON, _("With a reason"), count_of(opened.filter(reasons__gt=0))))
    lines.append((NEWS, _("With news"), news))
    left = Order.State.SHIPPED
    lines.append((left.value, group_name(left), count_of(orders.filter(state=left))))
    return [
        Counted(show, name, count, show == wanted.show and not wanted.find, address_of(show, wanted.by))
        for show, name, count in lines
    ]


def address_of(show: str, by: str) -> str:
    """What the address says to show something else, sorted as now where that can be."""
    shown = Wanted(show=show)
    return urlencode(Wanted(show=show, by=by if by in shown.sortings else DUE).asked)


@dataclass(frozen=True)
class Sorting:
    """One of the ways to sort what is shown."""

    by: str
    name: str
    current: bool
    asked: str


def bench_sortings(wanted: Wanted) -> list[Sorting]:
    """The ways to sort what is shown; none where there is but one."""
    if len(wanted.sortings) == 1:
        return []
    return [
        Sorting(by, _(SORTINGS[by]), by == wanted.by, urlencode(Wanted(wanted.show, by, wanted.find).asked))
        for by in wanted.sortings
    ]


def count_of(orders: QuerySet[Order]) -> int:
    """How many there are, counted up to what is told; by their ids alone, so that nothing else of them is looked up."""
    return orders.order_by().values("id")[:COUNTED_MOST].count()


def count_told(count: int) -> str:
    """A count of `count_of`'s as it is shown."""
    return f"{COUNTED_MOST - 1}+" if count >= COUNTED_MOST else str(count)


def fingerprint(member: Member, asked: str, now: datetime) -> str:
    """What changes whenever the bench would read otherwise, in one short query by an index.

    The last move of any of the workshop's orders, what is asked for, and the time in steps of five minutes, since ages
    are told in minutes.
    """
    newest = access.orders_of(member).order_by("-moved_at", "-id").values_list("id", "moved_at").first()
    said = [str(newest), asked, str(member.organisation_id), now.strftime("%Y%m%d%H"), str(now.minute // 5)]
    return hashlib.sha256("\n".join(said).encode()).hexdigest()[:24]
