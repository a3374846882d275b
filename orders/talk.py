"""What workshop and clinic have said to each other about an order: queries and replies as one thread."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from django.utils.translation import gettext as _

from orders.changes import shells_of
from orders.models import Order, PhotoUse, Query, Revision
from orders.photos import VIEW_WORDS
from orders.proposal import Outcome, outcome, proposal_words
from orders.wording import label_of
from project.models import Member

ABOUT_A_PHOTO = "photo:"


@dataclass(frozen=True)
class Asked:
    """One query with its reply, in words. `side` is "" where the order has one shell."""

    query: Query
    about: str
    side: str
    asked_by: str
    replied_by: str
    proposed: str = ""
    outcome: Outcome | None = None

    @property
    def photo(self) -> str:
        """The hash of the photo that it is about, or ""."""
        return photo_in(self.query.field)

    @property
    def is_open(self) -> bool:
        """Whether it waits for the clinic."""
        return self.query.state == "open"


def talk(order: Order, two_shells: bool) -> list[Asked]:
    """Every query of the order, oldest first, in one query to the database."""
    queries = order.queries.select_related(
        "asked_by__organisation", "revision__catalogue", "reply__by__organisation", "reply__revision"
    )
    queries = list(queries)
    views = views_asked_about(order, queries)
    return [asked(query, two_shells, views) for query in queries]


def with_outcomes(asked: list[Asked], current: Revision) -> list[Asked]:
    """The thread for the clinic: each open proposal with what accepting it would change."""
    return [replace(one, outcome=outcome(one.query, current)) if one.is_open else one for one in asked]


def photo_in(field: str) -> str:
    """The hash in a field that names a photo, or ""."""
    return field.removeprefix(ABOUT_A_PHOTO) if field.startswith(ABOUT_A_PHOTO) else ""


def views_asked_about(order: Order, queries: Sequence[Query]) -> dict[str, str]:
    """The view of each photo that was asked about, by its hash; nothing is looked up when none was."""
    asked_about = [photo_in(query.field) for query in queries if photo_in(query.field)]
    if not asked_about:
        return {}
    uses = PhotoUse.objects.filter(seal__revision__order=order, sha256__in=asked_about)
    return dict(uses.order_by("id").values_list("sha256", "view"))


def asked(query: Query, two_shells: bool, views: Mapping[str, str]) -> Asked:
    """One query in words."""
    reply = query.reply if query.state == "replied" else None
    return Asked(
        query=query,
        about=about_words(query.field, views),
        side=_(query.side) if two_shells else "",
        asked_by=member_words(query.asked_by),
        replied_by=member_words(reply.by) if reply else "",
        proposed=proposed_words(query),
    )


def proposed_words(query: Query) -> str:
    """What a query proposes, in words; "" for nothing."""
    shells = shells_of(query.revision) if query.proposed else []
    return next((proposal_words(query, shell) for shell in shells if shell.side == query.side), "")


def about_words(field: str, views: Mapping[str, str] | None = None) -> str:
    """What a query is about: a field's name, or a photo, with its view where that is known."""
    sha256 = photo_in(field)
    if not sha256:
        return label_of(field)
    view = (views or {}).get(sha256)
    return _("Photo, {view}").format(view=_(VIEW_WORDS[view])) if view else _("A photo")


def member_words(member: Member | None) -> str:
    """Initials and organisation; the person may have left."""
    return f"{member.initials}, {member.organisation.name}" if member else _("somebody who has left")
