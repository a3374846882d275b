"""What a clinic sees of an order it sent: the talk with the workshop, versions to pick from, the handout's links."""

from dataclasses import dataclass
from datetime import datetime

from django.utils.translation import gettext as _

from orders.changes import Change, changes, shells_of
from orders.intake import Kept, picked_revision
from orders.models import Handout, Order, Query, Revision, Rival
from orders.wording import label_of
from project.models import Member

BEFORE_CONFIRMED = (Order.State.SENT, Order.State.QUERIED)


@dataclass(frozen=True)
class Asked:
    """One query with its reply, in words. `side` is "" where the order has one shell."""

    query: Query
    about: str
    side: str
    asked_by: str
    replied_by: str

    @property
    def is_open(self) -> bool:
        """Whether it waits for the clinic."""
        return self.query.state == "open"


@dataclass(frozen=True)
class Version:
    """A kept seal beside the current revision. `cannot` says why it can't be picked; then nothing is compared."""

    rival: Rival
    sent_by: str
    sent_at: datetime
    changes: list[Change]
    cannot: str = ""


def talk(order: Order, two_shells: bool) -> list[Asked]:
    """Every query of the order, oldest first."""
    queries = order.queries.select_related(
        "asked_by__organisation", "revision", "reply__by__organisation", "reply__revision"
    )
    return [asked(query, two_shells) for query in queries]


def asked(query: Query, two_shells: bool) -> Asked:
    """One query in words."""
    reply = query.reply if query.state == "replied" else None
    return Asked(
        query=query,
        about=about_words(query.field),
        side=_(query.side) if two_shells else "",
        asked_by=member_words(query.asked_by),
        replied_by=member_words(reply.by) if reply else "",
    )


def about_words(field: str) -> str:
    """What a query is about: a field's name, or a photo."""
    return _("A photo") if field.startswith("photo:") else label_of(field)


def member_words(member: Member | None) -> str:
    """Initials and organisation; the person may have left."""
    return f"{member.initials}, {member.organisation.name}" if member else _("somebody who has left")


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
