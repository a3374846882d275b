"""A sealed entry becomes an order, once. Registered with capture.sync, which stores the seal first."""

import logging
import uuid

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from capture import services, sync
from capture.models import Seal
from capture.seal import SealContent
from orders import moves
from orders.lookups import for_phone
from orders.models import Catalogue, Order, Revision
from orders.reckon import ENGINE_VERSION, reckon
from orders.reckoning.entry import EntryError
from orders.rulebook.book import load_book
from project.models import Member

log = logging.getLogger(__name__)


class Kept(Exception):
    """The seal is stored but makes no revision; `says` tells the clinician why and what to do."""

    def __init__(self, says: str) -> None:
        super().__init__(says)
        self.says = says


def register() -> None:
    """Called once, when the app is ready."""
    sync.register(sync.Registered(receive=receive, clinic_of=clinic_of, for_phone=for_phone))


def clinic_of(order_id: uuid.UUID) -> uuid.UUID | None:
    """The clinic whose order this is, or None for a new one."""
    return Order.objects.filter(id=order_id).values_list("clinic_id", flat=True).first()


def receive(seal: Seal, content: SealContent, member: Member) -> sync.Outcome:
    """Turns a stored seal into a revision of its order; the same seal again finds the same revision."""
    before = Revision.objects.filter(seal=seal).select_related("order").first()
    if before:
        return sync.Outcome(order=as_told(before.order, before.number))
    try:
        revision = ordered(seal, content, member)
    except Kept as kept:
        return sync.Outcome(order=None, says=kept.says)
    return sync.Outcome(order=as_told(revision.order, revision.number))


def as_told(order: Order, number: int) -> dict:
    """What a phone is told of its order."""
    return {"id": str(order.id), "state": order.state, "revision": number}


def ordered(seal: Seal, content: SealContent, member: Member) -> Revision:
    """The revision that this seal makes. Raises Kept."""
    catalogue = catalogue_named(content)
    reckoned = reckoned_anew(content, catalogue)
    order = Order.objects.filter(id=content.id).first()
    try:
        if order is None:
            return first_revision(seal, content, member, catalogue, reckoned)
        return next_revision(order, seal, content, member, catalogue, reckoned)
    except (IntegrityError, moves.Changed):
        # Another seal of the same order was faster; it stands, this one is kept beside it.
        again = Revision.objects.filter(seal=seal).select_related("order").first()
        if again:
            return again
        raise Kept(
            _("Another version of this order came first. Both are kept. Open it and send what is right.")
        ) from None


def catalogue_named(content: SealContent) -> Catalogue:
    """The very catalogue version that the phone worked with. Raises Kept."""
    catalogue = Catalogue.objects.filter(
        workshop_id=content.workshop_id, version=content.catalogue_version
    ).first()
    if catalogue is None:
        raise Kept(_("This workshop is not known here any more. Choose the workshop again, then send."))
    return catalogue


def reckoned_anew(content: SealContent, catalogue: Catalogue) -> dict:
    """The server's own reckoning of every entry, whatever the phone said. Raises Kept for one that may not be sent."""
    book = load_book()
    if content.book_sha256 != book.sha256:
        log.warning("seal of order %s was checked with another rule book", content.id)
    if {entry.get("reference") for entry in content.entries} != {content.reference}:
        raise Kept(
            _("The reference in the entry is not the visit's. Open it, check the reference, then send.")
        )
    sides = [entry.get("side") for entry in content.entries]
    if len(set(sides)) != len(sides):
        raise Kept(_("Both shells are for the same side. Choose left and right, then send."))
    try:
        results = [reckon(entry, catalogue.content) for entry in content.entries]
    except EntryError as error:
        raise Kept(str(error)) from None
    for result in results:
        refuse_unsendable(result)
    return {
        "entries": list(content.entries),
        "results": results,
        "book_sha256": book.sha256,
        "engine_version": ENGINE_VERSION,
    }


def refuse_unsendable(result: dict) -> None:
    """Raises Kept with what stands in the way."""
    if result["sendable"]:
        return
    log.warning("a phone sent an entry that the server does not find sendable")
    stops = [flag["says"] for flag in result["flags"] if flag["level"] == "stop"]
    raise Kept(" ".join(stops) or _("A reason is missing. Open it, give the reason, then send."))


@transaction.atomic
def first_revision(
    seal: Seal, content: SealContent, member: Member, catalogue: Catalogue, reckoned: dict
) -> Revision:
    """The order with revision 1."""
    visit, _made = services.plan_visit(member, content.visit_id, content.reference, content.initials)
    if visit.person.reference != content.reference:
        raise Kept(_("This visit is planned for another reference. Make a new visit, then send."))
    order = Order(
        id=content.id,
        clinic_id=member.organisation_id,
        workshop=catalogue.workshop,
        person=visit.person,
        visit=visit,
        need_by=content.need_by,
        deliver_to=content.deliver_to,
        moved_at=timezone.now(),
    )
    revision = moves.new_revision(order, 1, seal, catalogue, reckoned)
    moves.send(order, revision, member)
    return revision


def next_revision(
    order: Order, seal: Seal, content: SealContent, member: Member, catalogue: Catalogue, reckoned: dict
) -> Revision:
    """The revision that follows the current one, when the seal was made from that one. Raises Kept, moves.Changed."""
    if content.parent_sha256 != order.current.seal.sha256:
        raise Kept(
            _("Another version of this order came first. Both are kept. Open it and send what is right.")
        )
    if catalogue.workshop_id != order.workshop_id:
        raise Kept(_("This order is with another workshop. Make a new order for this one."))
    if order.state not in moves.states_before("correct"):
        raise Kept(_("The workshop has confirmed this order, so nothing was changed. Call the workshop."))
    revision = moves.new_revision(order, order.revision_number + 1, seal, catalogue, reckoned)
    moves.correct(order, revision, member)
    return revision
