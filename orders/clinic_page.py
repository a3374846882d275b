"""What a clinic sees of an order it sent: the talk with the workshop, versions to pick from, the handout's links."""

from dataclasses import dataclass
from datetime import datetime

from orders.changes import Change, changes, shells_of
from orders.intake import Kept, picked_revision
from orders.models import Handout, Order, Revision, Rival
from orders.talk import member_words

BEFORE_CONFIRMED = (Order.State.SENT, Order.State.QUERIED)


@dataclass(frozen=True)
class Version:
    """A kept seal beside the current revision. `cannot` says why it can't be picked; then nothing is compared."""

    rival: Rival
    sent_by: str
    sent_at: datetime
    changes: list[Change]
    cannot: str = ""


def versions(order: Order, current: Revision) -> list[Version]:
    """The kept seals that nobody has settled, each with what differs from the current revision."""
    rivals = order.rivals.filter(settled_at=None).select_related("seal__sent_by__organisation").order_by("at")
    return [version(order, rival, current) for rival in rivals]


def version(order: Order, rival: Rival, current: Revision) -> Version:
    """One kept seal, compared."""
    said = (rival, member_words(rival.seal.sent_by), rival.at)
    try:
        other = picked_revision(order, rival)
    except Kept as kept:
        return Version(*said, changes=[], cannot=kept.says)
    return Version(*said, changes=changes(shells_of(current), shells_of(other)))


def may_have_handout(order: Order) -> bool:
    """Whether a link may be made: only for what is confirmed, and not for what is cancelled."""
    return order.state not in (*BEFORE_CONFIRMED, Order.State.CANCELLED)


def links_of(order: Order) -> list[Handout]:
    """Every link that was made, newest first."""
    return list(order.handouts.select_related("made_by__organisation"))


def open_link(links: list[Handout]) -> Handout | None:
    """The one that works, or None."""
    return next((link for link in links if link.is_open), None)
