"""The orders that the bench can be read in, and how a page goes on after a row, by an index all the way.

The queue is a row of stretches: one state, or within it what has a day and what has none. In each the rows stand by a
few keys, the last of them the id, so that no two share a place.
"""

import uuid
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from operator import attrgetter

from django.db.models import QuerySet
from django.utils.translation import gettext_noop as noop

from orders.models import Order

DUE, AGE, FLAGS = "due", "age", "flags"
# How the page calls each: the soonest, the oldest, the most reasons first. The first is meant where nothing is said.
SORTINGS = {DUE: noop("due date"), AGE: noop("age"), FLAGS: noop("flags")}
# Where nothing is left to do: only a search, or asking for it, shows these, what was moved last first.
DONE = {Order.State.SHIPPED.value, Order.State.CANCELLED.value}
REASONS_MOST = 32_767  # what the column holds


@dataclass(frozen=True)
class Stretch:
    """A part of the queue that is read along one index: a state, by its keys ("-" for the largest first).

    `dated` is whether its rows have a day, or None where that doesn't matter.
    """

    state: str
    keys: tuple[str, ...]
    dated: bool | None = None

    @property
    def names(self) -> list[str]:
        """The keys' names alone."""
        return [key.removeprefix("-") for key in self.keys]

    def rows(self, orders: QuerySet[Order]) -> QuerySet[Order]:
        """The stretch's rows, in order."""
        where = {} if self.dated is None else {"need_by__isnull": not self.dated}
        return orders.filter(state=self.state, **where).order_by(*self.keys).only(*self.names)

    def rows_after(self, orders: QuerySet[Order], values: tuple) -> Iterator[QuerySet[Order]]:
        """The stretch's rows after a place in it, in order.

        Those that differ from it in the last key alone, then those that differ in the one before, and so on: each is
        one range of the index, where all of them in one condition would be read from the stretch's start.
        """
        for at in reversed(range(len(self.keys))):
            beyond = "lt" if self.keys[at].startswith("-") else "gt"
            same = dict(zip(self.names[:at], values[:at], strict=True))
            yield self.rows(orders).filter(**same, **{f"{self.names[at]}__{beyond}": values[at]})

    def rows_of_few(self, few: Collection[Order]) -> list[Order]:
        """The stretch's rows among a few that are at hand, in the same order."""
        rows = [row for row in few if row.state == self.state and self.dated in (None, bool(row.need_by))]
        for key, name in reversed(list(zip(self.keys, self.names, strict=True))):
            rows.sort(key=attrgetter(name), reverse=key.startswith("-"))
        return rows

    def is_after(self, row: Order, values: tuple) -> bool:
        """Whether a row of the stretch comes after a place in it."""
        for key, name, value in zip(self.keys, self.names, values, strict=True):
            mine = getattr(row, name)
            if mine != value:
                return mine < value if key.startswith("-") else mine > value
        return False


def stretches_of(state: str, by: str) -> list[Stretch]:
    """The stretches of one state. Without a day comes behind every day; what is done stands by when it left."""
    if state in DONE:
        return [Stretch(state, ("-moved_at", "-id"))]
    if by == AGE:
        return [Stretch(state, ("created_at", "id"))]
    if by == FLAGS:
        return [Stretch(state, ("-reasons", "created_at", "id"))]
    return [
        Stretch(state, ("need_by", "created_at", "id"), dated=True),
        Stretch(state, ("created_at", "id"), dated=False),
    ]


def read_moment(text: str) -> datetime:
    """A moment as `Place` writes it. Raises ValueError, also for one without a time zone."""
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError(text)
    return moment


def read_reasons(text: str) -> int:
    """A count of reasons. Raises ValueError, also for one that no order can have."""
    if not 0 <= int(text) <= REASONS_MOST:
        raise ValueError(text)
    return int(text)


READ: dict[str, Callable] = {
    "need_by": date.fromisoformat,
    "created_at": read_moment,
    "moved_at": read_moment,
    "reasons": read_reasons,
    "id": uuid.UUID,
}


@dataclass(frozen=True)
class Place:
    """A row's place in the queue: its stretch, and the values of that stretch's keys."""

    stretch: Stretch
    values: tuple

    @classmethod
    def of(cls, row: Order, stretch: Stretch) -> "Place":
        return cls(stretch, tuple(getattr(row, name) for name in stretch.names))

    @classmethod
    def read(cls, text: str, by: str) -> "Place | None":
        """The place that `str` wrote in a queue by the same keys, or None for anything else."""
        try:
            state, number, *told = text.split("~")
            stretch = stretches_of(Order.State(state).value, by)[READ["reasons"](number)]
            return cls(stretch, tuple(READ[name](one) for name, one in zip(stretch.names, told, strict=True)))
        except (ValueError, IndexError):
            return None

    def told(self, by: str) -> str:
        """The place as an address holds it."""
        number = stretches_of(self.stretch.state, by).index(self.stretch)
        values = [value.isoformat() if hasattr(value, "isoformat") else str(value) for value in self.values]
        return "~".join([self.stretch.state, str(number), *values])


def rows_from(
    orders: QuerySet[Order], stretches: Sequence[Stretch], after: Place | None
) -> Iterator[tuple[Stretch, QuerySet[Order]]]:
    """The rows of these stretches, in order, from the start or after a place: query sets, none of them asked yet."""
    if after and after.stretch in stretches:
        stretches = stretches[stretches.index(after.stretch) + 1 :]
        yield from ((after.stretch, rows) for rows in after.stretch.rows_after(orders, after.values))
    yield from ((stretch, stretch.rows(orders)) for stretch in stretches)


def rows_of_few_from(
    few: Collection[Order], stretches: Sequence[Stretch], after: Place | None
) -> Iterator[tuple[Stretch, list[Order]]]:
    """As `rows_from`, of a few orders that are at hand: by an index, all of their states would be read for them."""
    past = after is None or after.stretch not in stretches
    for stretch in stretches:
        rows = stretch.rows_of_few(few)
        if past:
            yield stretch, rows
        elif stretch == after.stretch:
            past = True
            yield stretch, [row for row in rows if stretch.is_after(row, after.values)]
