"""The table of moves, and one function per move. Nothing else changes an order's state.

Each is a conditional UPDATE on id, state and revision with its event, in one transaction. When nothing was
updated, somebody was faster: `Changed` says what the order is now, and nothing else has happened.
"""

from django.db import transaction
from django.utils import timezone

from capture.models import Seal
from orders.models import Catalogue, Order, Revision
from orders.models.event import record
from project.models import Member

State = Order.State
CLINIC, WORKSHOP = "clinic", "workshop"

# (state before, move): (who moves, state after)
MOVES = {
    (None, "send"): (CLINIC, State.SENT),
    (State.SENT, "correct"): (CLINIC, State.SENT),
    (State.SENT, "confirm"): (WORKSHOP, State.CONFIRMED),
}


class Changed(Exception):
    """The order is not what the mover thought. `order` is what it is now."""

    def __init__(self, order: Order) -> None:
        super().__init__(f"order {order.id} is {order.state} at revision {order.revision_number}")
        self.order = order


class NotYours(Exception):
    """This member's organisation may not make this move."""


def state_after(state: str | None, move: str, member: Member) -> str | None:
    """The state that `move` leads to, or None where the table has no such move. Raises NotYours for the other side."""
    if (state, move) not in MOVES:
        return None
    side, after = MOVES[state, move]
    if side != member.organisation.kind:
        raise NotYours(move)
    return after


def states_before(move: str) -> list[str]:
    """The states that `move` starts from."""
    return [state for state, name in MOVES if name == move and state is not None]


@transaction.atomic
def send(order: Order, revision: Revision, member: Member) -> Order:
    """The order comes into being, with its first revision."""
    order.state = state_after(None, "send", member)
    order.moved_at = timezone.now()
    order.revision_number = revision.number
    order.save(force_insert=True)
    revision.save(force_insert=True)
    record(order.id, "send", member, revision=revision.number, seal=revision.seal.sha256)
    return order


@transaction.atomic
def correct(order: Order, revision: Revision, member: Member) -> Order:
    """A new revision takes the place of the one before it. Raises Changed."""
    advance(order, "correct", member, order.revision_number, revision_number=revision.number)
    revision.save(force_insert=True)
    record(order.id, "correct", member, revision=revision.number, seal=revision.seal.sha256)
    return order


@transaction.atomic
def confirm(order: Order, seal_sha256: str, member: Member) -> Order:
    """The workshop confirms the very revision it has read, named by its seal's hash. Raises Changed."""
    revision = Revision.objects.filter(order=order, seal__sha256=seal_sha256).first()
    if revision is None:
        raise Changed(Order.objects.get(id=order.id))
    advance(order, "confirm", member, revision.number)
    record(order.id, "confirm", member, revision=revision.number, seal=seal_sha256)
    return order


def advance(order: Order, move: str, member: Member, revision_number: int, **changes: object) -> None:
    """The conditional UPDATE behind every move; raises Changed when the order is no longer what `move` starts from."""
    before = states_before(move)
    after = state_after(before[0], move, member)
    moved = Order.objects.filter(id=order.id, state__in=before, revision_number=revision_number).update(
        state=after, moved_at=timezone.now(), **changes
    )
    if not moved:
        raise Changed(Order.objects.get(id=order.id))
    order.refresh_from_db()


def new_revision(order: Order, number: int, seal: Seal, catalogue: Catalogue, reckoned: dict) -> Revision:
    """An unsaved revision from what intake read and reckoned."""
    return Revision(order=order, number=number, seal=seal, catalogue=catalogue, **reckoned)
