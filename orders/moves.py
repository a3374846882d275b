"""The table of moves, and one function per move. Nothing else changes an order's state.

Each is a conditional UPDATE on id, state and revision with its event and its mail rows, in one transaction. When
nothing was updated, somebody was faster: `Changed` says what the order is now, and nothing else has happened.
"""

from collections.abc import Iterable
from datetime import date

from django.db import transaction
from django.utils import timezone

from capture.models import Seal
from orders.finding import write_parts
from orders.mail import tell
from orders.models import (
    Catalogue,
    Inspection,
    Order,
    Query,
    Reply,
    Revision,
    Rival,
    Shipment,
    StageDone,
)
from orders.models.event import record
from orders.promise import earliest_promise
from project.models import Member

State = Order.State
CLINIC, WORKSHOP = "clinic", "workshop"
REMADE = Inspection.Outcome.REMADE

# (state before, move): (who moves, state after)
MOVES = {
    (None, "send"): (CLINIC, State.SENT),
    (State.SENT, "correct"): (CLINIC, State.SENT),
    (State.QUERIED, "correct"): (CLINIC, State.QUERIED),
    (State.SENT, "query"): (WORKSHOP, State.QUERIED),
    (State.QUERIED, "query"): (WORKSHOP, State.QUERIED),
    (State.QUERIED, "reply"): (CLINIC, State.SENT),
    (State.QUERIED, "withdraw"): (WORKSHOP, State.SENT),
    (State.SENT, "pick"): (CLINIC, State.SENT),
    (State.QUERIED, "pick"): (CLINIC, State.QUERIED),
    (State.SENT, "confirm"): (WORKSHOP, State.CONFIRMED),
    (State.SENT, "cancel"): (CLINIC, State.CANCELLED),
    (State.QUERIED, "cancel"): (CLINIC, State.CANCELLED),
    (State.CONFIRMED, "cancel"): (CLINIC, State.CANCELLED),
    (State.CONFIRMED, "start"): (WORKSHOP, State.IN_MAKING),
    (State.IN_MAKING, "stage"): (WORKSHOP, State.IN_MAKING),
    (State.IN_MAKING, "inspect"): (WORKSHOP, State.IN_MAKING),
    (State.IN_MAKING, "make"): (WORKSHOP, State.MADE),
    (State.MADE, "ship"): (WORKSHOP, State.SHIPPED),
}


class Changed(Exception):
    """The order is not what the mover thought. `order` is what it is now."""

    def __init__(self, order: Order) -> None:
        super().__init__(f"order {order.id} is {order.state} at revision {order.revision_number}")
        self.order = order


class NotYours(Exception):
    """This member's organisation may not make this move."""


class TooEarly(Exception):
    """The promised day lies before the first that the catalogue's lead time allows: `earliest`."""

    def __init__(self, earliest: date) -> None:
        super().__init__(f"not before {earliest}")
        self.earliest = earliest


def states_before(move: str) -> list[str]:
    """The states that `move` starts from."""
    return [state for state, name in MOVES if name == move and state is not None]


def may_move(order: Order, move: str, member: Member) -> bool:
    """Whether the table lets this member make this move now. For showing a button; the move itself asks again."""
    side, _after = MOVES.get((order.state, move), (None, None))
    return side == member.organisation.kind


@transaction.atomic
def send(order: Order, revision: Revision, member: Member) -> None:
    """The order comes into being, with its first revision."""
    side, order.state = MOVES[None, "send"]
    if side != member.organisation.kind:
        raise NotYours("send")
    order.moved_at = timezone.now()
    order.revision_number, order.reasons = revision.number, reasons_in(revision)
    order.save(force_insert=True)
    write_parts(order)
    revision.save(force_insert=True)
    tell(order, "send", WORKSHOP)
    record(order.id, "send", member, revision=revision.number, seal=revision.seal.sha256)


@transaction.atomic
def correct(
    order: Order,
    revision: Revision,
    member: Member,
    replies: Iterable[tuple[Query, str]] = (),
    **wanted: object,
) -> None:
    """A new revision takes the place of the one before it, with replies to open queries where there are some.

    When it answers the last open query, the move is a reply and the order is the workshop's again. `wanted` is when
    and where the shell is needed now. Raises Changed.
    """
    replies = list(replies)
    answered = {query.id for query, _text in replies}
    left_open = [query for query in open_queries(order) if query.id not in answered]
    move = "reply" if replies and order.state == State.QUERIED and not left_open else "correct"
    changes = {"revision_number": revision.number, "reasons": reasons_in(revision), "opened": False}
    advance(order, move, member, **changes, **wanted)
    revision.save(force_insert=True)
    for query, text in replies:
        Reply.objects.create(query=query, revision=revision, text=text, by=member)
    tell(order, move, WORKSHOP)
    said = {"revision": revision.number, "seal": revision.seal.sha256}
    record(order.id, move, member, **said, queries=sorted(str(query_id) for query_id in answered))


@transaction.atomic
def query(
    order: Order, member: Member, revision: Revision, side: str, field: str, text: str, proposed: str = ""
) -> Query:
    """The workshop asks about one entry, and may propose a value for it; the order goes back to the clinic.

    Raises Changed.
    """
    if revision.number != order.revision_number:
        raise Changed(Order.objects.get(id=order.id))
    advance(order, "query", member)
    asked = Query.objects.create(
        order=order,
        revision=revision,
        side=side,
        field=field,
        text=text,
        proposed=proposed,
        asked_by=member,
    )
    tell(order, "query", CLINIC)
    record(order.id, "query", member, query=str(asked.id), revision=revision.number)
    return asked


@transaction.atomic
def withdraw(order: Order, asked: Query, member: Member) -> None:
    """The workshop takes an open query back; with none left, the order is its own again. Raises Changed."""
    if order.state != State.QUERIED or asked.state != "open":
        raise Changed(Order.objects.get(id=order.id))
    withdrawn = Query.objects.filter(id=asked.id, withdrawn_at=None, reply=None).update(
        withdrawn_at=timezone.now()
    )
    if not withdrawn:
        raise Changed(Order.objects.get(id=order.id))
    if not open_queries(order):
        advance(order, "withdraw", member)
    elif MOVES[State.QUERIED, "withdraw"][0] != member.organisation.kind:
        raise NotYours("withdraw")
    tell(order, "withdraw", CLINIC)
    record(order.id, "withdraw", member, query=str(asked.id))


@transaction.atomic
def contest(order: Order, seal: Seal, member: Member) -> None:
    """Keeps a seal that was not made from the current revision; nothing is confirmed until the clinic picks."""
    Rival.objects.get_or_create(order=order, seal=seal)
    if order.state in (State.SENT, State.QUERIED):
        Order.objects.filter(id=order.id, state=order.state).update(contested=True)
        order.refresh_from_db()
    record(order.id, "contest", member, seal=seal.sha256)


@transaction.atomic
def pick(order: Order, member: Member, revision: Revision | None = None) -> None:
    """The clinic picks between seals with one parent: the current revision, or `revision` made from the other.

    Raises Changed.
    """
    changes: dict[str, object] = {"contested": False}
    if revision:
        changes |= {"revision_number": revision.number, "reasons": reasons_in(revision), "opened": False}
    advance(order, "pick", member, **changes)
    if revision:
        revision.save(force_insert=True)
    order.rivals.filter(settled_at=None).update(settled_at=timezone.now())
    tell(order, "pick", WORKSHOP)
    record(order.id, "pick", member, revision=order.revision_number, seal=order.current.seal.sha256)


@transaction.atomic
def confirm(order: Order, seal_sha256: str, member: Member, promised_for: date | None = None) -> None:
    """The workshop confirms the very revision it has read, named by its seal's hash, and promises a day.

    The day is when the shell leaves the workshop; without one it is the first that the catalogue's lead time allows.
    Raises Changed, TooEarly.
    """
    revision = Revision.objects.filter(order=order, seal__sha256=seal_sha256).first()
    if revision is None or revision.number != order.revision_number or order.contested:
        raise Changed(Order.objects.get(id=order.id))
    earliest = earliest_promise(revision.catalogue.content, timezone.localdate())
    if may_move(order, "confirm", member) and promised_for and promised_for < earliest:
        raise TooEarly(earliest)
    advance(order, "confirm", member, promised_for=promised_for or earliest)
    tell(order, "confirm", CLINIC)
    record(
        order.id,
        "confirm",
        member,
        revision=revision.number,
        seal=seal_sha256,
        promised_for=order.promised_for.isoformat(),
    )


@transaction.atomic
def start(order: Order, member: Member) -> None:
    """The workshop begins to make; from now on nothing can be cancelled. Raises Changed."""
    advance(order, "start", member)
    tell(order, "start", CLINIC)
    record(order.id, "start", member, revision=order.revision_number)


@transaction.atomic
def mark_stage(order: Order, member: Member, side: str, stage: str, done: bool) -> None:
    """Writes down that a stage of one shell is done, or that it isn't after all; twice is once. Raises Changed."""
    advance(order, "stage", member)
    found = {"order": order, "side": side, "stage": stage, "attempt": attempt_of(order, side)}
    if done:
        _made, changed = StageDone.objects.get_or_create(**found, defaults={"by": member})
    else:
        changed = StageDone.objects.filter(**found).delete()[0]
    if changed:
        record(order.id, "stage" if done else "stage undone", member, side=side, stage=stage)


@transaction.atomic
def inspect(order: Order, member: Member, inspection: Inspection) -> None:
    """What was made of one shell is written down. With every shell good, the order is made. Raises Changed."""
    advance(order, "inspect", member)
    if inspection.attempt != attempt_of(order, inspection.side) or inspection.side in inspected_sides(order):
        raise Changed(Order.objects.get(id=order.id))
    inspection.order, inspection.by = order, member
    inspection.save(force_insert=True)
    said = {"side": inspection.side, "inspection": str(inspection.id)}
    record(order.id, "remake" if inspection.outcome == REMADE else "inspect", member, **said)
    if inspected_sides(order) == {entry["side"] for entry in order.current.entries}:
        make(order, member)


def make(order: Order, member: Member) -> None:
    """The order is made: every shell has been measured and is good. Part of `inspect`'s transaction."""
    advance(order, "make", member)
    tell(order, "make", CLINIC)
    record(order.id, "make", member, revision=order.revision_number)


@transaction.atomic
def ship(order: Order, member: Member, carrier: str, number: str) -> None:
    """The order leaves the workshop. Raises Changed."""
    advance(order, "ship", member)
    Shipment.objects.create(order=order, carrier=carrier, number=number, by=member)
    tell(order, "ship", CLINIC)
    record(order.id, "ship", member, revision=order.revision_number)


@transaction.atomic
def cancel(order: Order, member: Member) -> None:
    """The clinic takes the order back, for good. Raises Changed."""
    advance(order, "cancel", member)
    tell(order, "cancel", WORKSHOP)
    record(order.id, "cancel", member, revision=order.revision_number)


def advance(order: Order, move: str, member: Member, **changes: object) -> None:
    """The conditional UPDATE behind every move: `order` must still be as it was read.

    Raises Changed when it is not, or when the table has no such move from its state; NotYours for the other side.
    """
    if (order.state, move) not in MOVES:
        raise Changed(Order.objects.get(id=order.id))
    side, after = MOVES[order.state, move]
    if side != member.organisation.kind:
        raise NotYours(move)
    as_read = Order.objects.filter(
        id=order.id, state=order.state, revision_number=order.revision_number, contested=order.contested
    )
    if not as_read.update(state=after, moved_at=timezone.now(), **changes):
        raise Changed(Order.objects.get(id=order.id))
    order.refresh_from_db()


def open_queries(order: Order) -> list[Query]:
    """The order's queries that wait for the clinic, oldest first."""
    return list(order.queries.filter(withdrawn_at=None, reply=None))


def attempt_of(order: Order, side: str) -> int:
    """Which shell of this side is being made: the first, or one more for each that has to be made again."""
    return 1 + order.inspections.filter(side=side, outcome=REMADE).count()


def inspected_sides(order: Order) -> set[str]:
    """The sides whose shell was measured and is good."""
    return set(order.inspections.exclude(outcome=REMADE).values_list("side", flat=True))


def reasons_in(revision: Revision) -> int:
    """How many flags of a revision ask for a reason."""
    return sum(flag["level"] == "explain" for result in revision.results for flag in result["flags"])


def new_revision(order: Order, number: int, seal: Seal, catalogue: Catalogue, reckoned: dict) -> Revision:
    """An unsaved revision from what intake read and reckoned."""
    return Revision(order=order, number=number, seal=seal, catalogue=catalogue, **reckoned)
