"""The workshop's queue: which orders stand on it, in the order of work, a page at a time.

A page is found by keyset: it starts after the last row of the page before, by the same index however long the
queue is. The queue runs through its groups one after the other, in each first the orders with a date (soonest
first), then those without.
"""

import hashlib
import uuid
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db.models import Q, QuerySet
from django.utils import timezone
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from orders import access
from orders.models import Order
from project.models import Member

PAGE_ROWS = 50
SOON_DAYS = 7
SOON, REASON = "soon", "reason"
FOUND_MOST = 500  # a search that finds more is told to no more
COUNTED_MOST = 1000  # a count goes no further, so that it costs the same however long the queue is

# What the bench calls a state, where that isn't the state's own word.
GROUP_NAMES = {Order.State.SENT: noop("New"), Order.State.QUERIED: noop("Waits for a clinic")}
# Where nothing is left to do: only a search finds these.
DONE = {Order.State.SHIPPED.value, Order.State.CANCELLED.value}
OPEN = [state for state in Order.State.values if state not in DONE]


@dataclass(frozen=True)
class Wanted:
    """What the bench is asked to show: one state or all, only what is due soon, has a reason, or some references."""

    state: str = ""
    soon: bool = False
    find: str = ""
    reason: bool = False


@dataclass(frozen=True)
class Place:
    """A row's place in the queue: its state, its day (None for no day) and its id."""

    state: str
    day: date | None
    order_id: uuid.UUID

    @classmethod
    def of(cls, order: Order) -> "Place":
        return cls(order.state, order.need_by, order.id)

    @classmethod
    def read(cls, text: str) -> "Place | None":
        """The place that `str` wrote, or None for anything else."""
        try:
            state, day, order_id = text.split("_")
            return cls(Order.State(state), date.fromisoformat(day) if day else None, uuid.UUID(order_id))
        except ValueError:
            return None

    def __str__(self) -> str:
        return f"{self.state}_{self.day or ''}_{self.order_id}"


def group_name(state: str) -> str:
    """What the bench calls the orders in this state."""
    return _(GROUP_NAMES[state]) if state in GROUP_NAMES else capfirst(Order.State(state).label)


def read_wanted(asked: dict) -> Wanted:
    """What an address asks for; what it doesn't know it leaves aside."""
    show = asked.get("show", "")
    return Wanted(
        state=show if show in Order.State.values else "",
        soon=show == SOON,
        reason=show == REASON,
        find=asked.get("find", "").strip()[:40],
    )


def orders_wanted(member: Member, wanted: Wanted) -> QuerySet[Order]:
    """The orders of this workshop that are asked for, in no order."""
    orders = access.orders_of(member)
    if wanted.find:
        orders = orders.filter(person__reference__icontains=wanted.find)
    if wanted.soon:
        orders = orders.filter(need_by__lt=soon_before())
    if wanted.reason:
        orders = orders.filter(reasons__gt=0)
    return orders


def soon_before() -> date:
    """The first day that isn't soon any more."""
    return timezone.localdate() + timedelta(days=SOON_DAYS)


def orders_on_bench(
    member: Member, wanted: Wanted, after: Place | None = None
) -> tuple[list[uuid.UUID], Place | None]:
    """One page of the queue: the orders' ids, and the place that the next page starts after (None on the last)."""
    orders = orders_wanted(member, wanted)
    if wanted.find:  # looked through once, not once a stretch
        orders = access.orders_of(member).filter(
            id__in=list(orders.values_list("id", flat=True)[:FOUND_MOST])
        )
    rows: list[Order] = []
    for state, dated in runs(wanted, after):
        rows += run_after(orders, state, dated, after)[: PAGE_ROWS + 1 - len(rows)]
        if len(rows) > PAGE_ROWS:
            rows.pop()
            return [row.id for row in rows], Place.of(rows[-1])
    return [row.id for row in rows], None


def runs(wanted: Wanted, after: Place | None) -> list[tuple[str, bool]]:
    """The stretches of the queue that are left after a place: each a state, with or without a day."""
    states = [wanted.state] if wanted.state else Order.State.values if wanted.find else OPEN
    every = [(state, dated) for state in states for dated in (True, False)]
    here = (after.state, after.day is not None) if after else None
    return every[every.index(here) :] if here in every else every


def run_after(orders: QuerySet[Order], state: str, dated: bool, after: Place | None) -> QuerySet[Order]:
    """One stretch of the queue, in order, after a place where that lies in it; what is done, newest first."""
    run = orders.filter(state=state, need_by__isnull=not dated).only("id", "state", "need_by")
    back = "-" if state in DONE else ""
    beyond = "lt" if back else "gt"
    run = run.order_by(f"{back}need_by", f"{back}id")
    if after is None or (after.state, after.day is not None) != (state, dated):
        return run
    if not dated:
        return run.filter(**{f"id__{beyond}": after.order_id})
    same_day = Q(need_by=after.day, **{f"id__{beyond}": after.order_id})
    return run.filter(Q(**{f"need_by__{beyond}": after.day}) | same_day)


@dataclass(frozen=True)
class Counted:
    """One line of the filter beside the queue."""

    show: str
    name: str
    count: int
    current: bool

    @property
    def apart(self) -> bool:
        """Whether it stands apart: what cuts across the states, and what is done."""
        return self.show in (SOON, Order.State.SHIPPED)

    @property
    def told(self) -> str:
        """The count as it is shown."""
        return f"{COUNTED_MOST - 1}+" if self.count >= COUNTED_MOST else str(self.count)


def bench_filter(member: Member, wanted: Wanted) -> list[Counted]:
    """All that is open, each open state, what is due soon or has a reason, what has left: with how many there are.

    Each is counted by itself and no further than it is told: a constant number of queries, each of a bounded length.
    """
    orders = access.orders_of(member)
    opened = orders.filter(state__in=OPEN)
    shown = "" if wanted.find else wanted.state or ("all" if not (wanted.soon or wanted.reason) else "")
    shown = shown or (SOON if wanted.soon else REASON if wanted.reason else "")
    by_state = [(state, group_name(state), count_of(orders.filter(state=state))) for state in OPEN]
    lines = [("all", _("All open"), min(sum(count for *_name, count in by_state), COUNTED_MOST)), *by_state]
    soon = count_of(opened.filter(need_by__lt=soon_before()))
    lines.append((SOON, _("Due in {count} days").format(count=SOON_DAYS), soon))
    lines.append((REASON, _("With a reason"), count_of(opened.filter(reasons__gt=0))))
    left = Order.State.SHIPPED
    lines.append((left.value, group_name(left), count_of(orders.filter(state=left))))
    return [Counted(show, name, count, show == shown) for show, name, count in lines]


def count_of(orders: QuerySet[Order]) -> int:
    """How many there are, counted up to what is told."""
    return orders.order_by()[:COUNTED_MOST].count()


def fingerprint(member: Member, asked: str, now: datetime) -> str:
    """What changes whenever the bench would read otherwise, in one short query by an index.

    The last move of any of the workshop's orders, what is asked for, and the time in steps of five minutes, since ages
    are told in minutes.
    """
    newest = access.orders_of(member).order_by("-moved_at", "-id").values_list("id", "moved_at").first()
    said = [str(newest), asked, str(member.organisation_id), now.strftime("%Y%m%d%H"), str(now.minute // 5)]
    return hashlib.sha256("\n".join(said).encode()).hexdigest()[:24]
