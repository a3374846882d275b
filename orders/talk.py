"""What workshop and clinic have said to each other about an order: queries and replies as one thread."""

from dataclasses import dataclass

from django.utils.translation import gettext as _

from orders.models import Order, Query
from orders.wording import label_of
from project.models import Member


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


def talk(order: Order, two_shells: bool) -> list[Asked]:
    """Every query of the order, oldest first, in one query to the database."""
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
