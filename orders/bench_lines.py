"""The bench's rows as they are read: shell by shell, in a few words."""

import uuid
from collections.abc import Container
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from orders.bench import group_name
from orders.drawings import bench_mark
from orders.figure_rows import digits
from orders.flags_shown import FlagCount, flag_counts
from orders.lookups import BenchRow
from orders.models import Order, Query
from orders.talk import about_words
from orders.when import ago_words, due_words, waited_words
from orders.wording import uncapitalised, words_of

EVENT_WORDS = {
    "send": noop("sent"),
    "correct": noop("corrected"),
    "query": noop("asked"),
    "withdraw": noop("query withdrawn"),
    "reply": noop("reply"),
    "contest": noop("second version"),
    "pick": noop("version picked"),
    "confirm": noop("confirmed"),
    "start": noop("begun"),
    "stage": noop("stage done"),
    "stage undone": noop("stage taken back"),
    "inspect": noop("measured"),
    "remake": noop("to be made again"),
    "make": noop("made"),
    "ship": noop("shipped"),
    "cancel": noop("cancelled"),
    "handout made": noop("handout link made"),
    "handout withdrawn": noop("handout link withdrawn"),
    "problem": noop("problem reported"),
}
# While a promise still stands.
PROMISED = {Order.State.CONFIRMED, Order.State.IN_MAKING, Order.State.MADE}
PINS = {"one": noop("one pin"), "several": noop("several pins")}
PROFILES = {"low": noop("low"), "high": noop("high")}
PINS_BY_NAME = {"single_axis": "one", "polycentric": "several"}


@dataclass(frozen=True)
class ShellLine:
    """One shell of a row, in words. `mark` is its outline as SVG, at the bench's one scale."""

    side: str
    mark: str
    finished_mm: str
    girth_mm: str
    knee: str
    foot: str
    wall: str
    rear: str


@dataclass(frozen=True)
class BenchLine:
    """One row of the bench.

    `last` is what happened last, `below` when, or of a query what it is about; `age` since when the order is there.
    `news` is whether the clinic has done something since anybody here looked, who had looked before.
    """

    order: Order
    shells: list[ShellLine]
    flags: list[FlagCount]
    revision: int
    due: str
    due_today: bool
    last: str
    below: str
    age: str
    news: bool
    promised: bool


@dataclass(frozen=True)
class BenchGroup:
    """The rows in one state, under its name."""

    state: str
    name: str
    lines: list[BenchLine]


def bench_groups(
    rows: list[BenchRow], news: Container[uuid.UUID], today: date, now: datetime
) -> list[BenchGroup]:
    """The rows in groups, in the order they come in; `news` are the orders that have some."""
    return [
        BenchGroup(state, group_name(state), [bench_line(row, news, today, now) for row in group])
        for state, group in groupby(rows, key=lambda row: row.order.state)
    ]


def bench_line(row: BenchRow, news: Container[uuid.UUID], today: date, now: datetime) -> BenchLine:
    """One row in words."""
    day = row.order.need_by
    content = row.revision.catalogue.content
    last, below = asked_words(row.asked, now) if row.asked else last_words(row, now)
    return BenchLine(
        order=row.order,
        shells=[shell_line(entry, result, content) for entry, result in row.revision.shells],
        flags=flag_counts(row.revision.results),
        revision=row.revision.number,
        due=due_words(day, today) if day else "",
        due_today=day is not None and day <= today,
        last=last,
        below=below,
        age=_("first sent {ago}").format(ago=waited_words(row.order.created_at, now)),
        news=row.looked_at is not None and row.order.id in news,
        promised=bool(row.order.promised_for and row.order.state in PROMISED),
    )


def last_words(row: BenchRow, now: datetime) -> tuple[str, str]:
    """What happened last, and when."""
    return _(EVENT_WORDS[row.last.what]), ago_words(row.last.at, now)


def asked_words(waiting: list[Query], now: datetime) -> tuple[str, str]:
    """How long the oldest query has waited for the clinic, what it is about, and how many more there are."""
    first = waiting[0]
    asked = _("asked {ago}").format(ago=waited_words(first.asked_at, now))
    about = _("on {what}").format(what=uncapitalised(about_words(first.field)))
    if len(waiting) == 1:
        return asked, about
    return asked, _("{about}, {count} more").format(about=about, count=len(waiting) - 1)


def shell_line(entry: dict, result: dict, catalogue: dict) -> ShellLine:
    """One shell in words: its size, what it is fitted round, what it is made of."""

    def option(key: str) -> str:
        return uncapitalised(words_of(f"shell.{key}", entry["shell"][key], "mm", catalogue))

    return ShellLine(
        side=_(entry["side"]),
        mark=bench_mark(entry, result, catalogue),
        finished_mm=digits(result["finished_length_mm"], 0),
        girth_mm=digits(result["girth_mm"], 0),
        knee=knee_words(entry["knee"]),
        foot=foot_words(entry["foot"]),
        wall=option("wall"),
        rear=option("rear"),
    )


def knee_words(knee: dict) -> str:
    """ "several pins, fluid": what was seen, else what it is called; a mechanical knee isn't said to be one."""
    seen = knee.get("pivots_seen")
    pins = _(PINS[seen if seen in PINS else PINS_BY_NAME[knee["named"]]])
    control = knee["control"]
    return pins if control == "mechanical" else f"{pins}, {words_of('knee.control', control, 'mm', {})}"


def foot_words(foot: dict) -> str:
    """ "high, jointed": what stands above the rim, and how the ankle moves."""
    return f"{_(PROFILES[foot['profile']])}, {words_of('foot.ankle', foot['ankle'], 'mm', {})}"
