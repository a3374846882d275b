"""The documents as an order's page lists them."""

from dataclasses import dataclass

from django.utils.translation import gettext as _

from orders.documents.kinds import Kind, documents_of
from orders.documents.store import BEFORE_CONFIRMATION, has_documents
from orders.models import Order, Revision
from project.models import Member


@dataclass(frozen=True)
class Offered:
    """One document. `name` is its file's; a preview is made anew for each reader."""

    title: str
    format: str
    name: str
    preview: bool


@dataclass(frozen=True)
class OfferedGroup:
    """The documents of one shell, or, with an empty side, of the whole order."""

    side: str
    documents: list[Offered]

    @property
    def has_surfaces(self) -> bool:
        """Whether there are surfaces among them, which have no slots."""
        return any(document.name.endswith((".stl", ".3mf")) for document in self.documents)


def offered(order: Order, read: Revision, member: Member) -> list[OfferedGroup]:
    """The documents of the revision on the page, if it is the one that counts."""
    if read.number != order.revision_number:
        return []
    preview = order.state in BEFORE_CONFIRMATION
    if not preview and not has_documents(order):
        return []
    groups: dict[str, list[Offered]] = {}
    for kind, side in documents_of(read):
        if may_have(kind, member) and (kind.preview or not preview):
            row = Offered(_(kind.title), _(kind.format), kind.name(side), preview)
            groups.setdefault(side, []).append(row)
    return [OfferedGroup(_(side) if side else "", documents) for side, documents in groups.items()]


def may_have(kind: Kind, member: Member) -> bool:
    """Whether a member of this side may have documents of this kind; of which orders is asked in access.py."""
    return member.in_workshop or kind.for_clinic
