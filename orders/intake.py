"""A sealed entry becomes an order, once. Registered with capture.sync, which stores the seal first."""

import logging
import uuid

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from capture import services, sync
from capture.models import Seal
from capture.seal import SealContent, read_seal
from orders import moves
from orders.beside import beside_for
from orders.lookups import for_phone
from orders.models import Catalogue, Event, Order, PhotoUse, Query, Revision, Rival
from orders.reckon import ENGINE_VERSION, reckon
from orders.reckoning.entry import EntryError
from orders.rulebook.book import load_book
from orders.rulebook.told import flags_in_words
from project.models import Member

log = logging.getLogger(__name__)


class Kept(Exception):
    """The seal is stored but makes no revision; `says` tells the clinician why and what to do."""

    def __init__(self, says: str) -> None:
        super().__init__(says)
        self.says = says


class Waits(Exception):
    """The seal is stored and becomes a revision once the photos with these hashes have come."""

    def __init__(self, sha256s: tuple[str, ...]) -> None:
        super().__init__(f"{len(sha256s)} photos have not come yet")
        self.sha256s = sha256s


def register() -> None:
    """Called once, when the app is ready."""
    sync.register(
        sync.Registered(receive=receive, clinic_of=clinic_of, was_erased=was_erased, for_phone=for_phone)
    )


def clinic_of(order_id: uuid.UUID) -> uuid.UUID | None:
    """The clinic whose order this is, or None for a new one."""
    return Order.objects.filter(id=order_id).values_list("clinic_id", flat=True).first()


def was_erased(order_id: uuid.UUID) -> bool:
    """Whether this order was here and was deleted: its events stay, since they hold ids and hashes only."""
    return not Order.objects.filter(id=order_id).exists() and Event.objects.filter(order_id=order_id).exists()


def receive(seal: Seal, content: SealContent, member: Member) -> sync.Outcome:
    """Turns a stored seal into a revision of its order; the same seal again finds what it became."""
    before = Revision.objects.filter(seal=seal).select_related("order").first()
    if before:
        return sync.Outcome(order=as_told(before.order, before.number))
    try:
        revision, says = ordered(seal, content, member)
    except Kept as kept:
        return sync.Outcome(order=None, says=kept.says)
    except Waits as waits:
        return sync.Outcome(order=None, waits_for=waits.sha256s)
    return sync.Outcome(order=as_told(revision.order, revision.number), says=says)


def as_told(order: Order, number: int) -> dict:
    """What a phone is told of its order."""
    return {"id": str(order.id), "state": order.state, "revision": number}


def ordered(seal: Seal, content: SealContent, member: Member) -> tuple[Revision, str | None]:
    """The revision that this seal makes, and what its sender should know. Raises Kept, Waits."""
    catalogue = catalogue_named(content)
    reckoned = reckoned_anew(seal, content, catalogue)
    wait_for_photos(seal, content)
    order = Order.objects.filter(id=content.id).first()
    try:
        if order is None:
            return first_revision(seal, content, member, catalogue, reckoned), None
        return next_revision(order, seal, content, member, catalogue, reckoned)
    except (IntegrityError, moves.Changed):
        # Another seal of the same order was faster; it stands, this one is kept beside it.
        same = Revision.objects.filter(seal=seal).select_related("order").first()
        if same:
            return same, None
        raise kept_beside(Order.objects.get(id=content.id), seal, member) from None


def catalogue_named(content: SealContent) -> Catalogue:
    """The very catalogue version that the phone worked with. Raises Kept."""
    catalogue = Catalogue.objects.filter(
        workshop_id=content.workshop_id, version=content.catalogue_version
    ).first()
    if catalogue is None:
        raise Kept(_("This workshop is not known here any more. Choose the workshop again, then send."))
    return catalogue


def reckoned_anew(seal: Seal, content: SealContent, catalogue: Catalogue) -> dict:
    """The server's own reckoning of every entry, whatever the phone said. Raises Kept for one that may not be sent.

    Only what the entry itself says can keep it from being sent. A phone without signal knows nothing of earlier
    orders, and an older sheet nothing of wanted photos: what the checks find there reaches both sides as a flag
    without a reason, and the workshop can ask. It must not come back after the visit is over.
    """
    book = load_book()
    if content.book_sha256 != book.sha256:
        log.warning("seal of order %s was checked with another rule book", content.id)
    # compared, never hashed: what stands in an entry isn't read yet, and may be a list
    if any(entry.get("reference") != content.reference for entry in content.entries):
        raise Kept(
            _("The reference in the entry is not the visit's. Open it, check the reference, then send.")
        )
    sides = [entry.get("side") for entry in content.entries]
    if sides[1:] == sides[:1]:
        raise Kept(_("Both shells are for the same side. Choose left and right, then send."))
    try:
        for entry in content.entries:
            refuse_unsendable(reckon(entry, catalogue.content, told=True))
        beside = beside_for(seal.clinic_id, content)
        results = [
            reckon(entry, catalogue.content, beside=known, told=True)
            for entry, known in zip(content.entries, beside, strict=True)
        ]
    except EntryError as error:
        raise Kept(str(error)) from None
    return {
        "entries": list(content.entries),
        "results": results,
        "book_sha256": book.sha256,
        "engine_version": ENGINE_VERSION,
    }


def wait_for_photos(seal: Seal, content: SealContent) -> None:
    """Writes down which photos the seal names. Raises Waits while one of them is neither kept nor set aside.

    Written down first, looked for second: a photo that comes in between then finds the seal that waits for it.
    """
    if any(photo["entry"] >= len(content.entries) for photo in content.photos):
        raise Kept(
            _("A photo is of a shell that is not in the order. Open it, look at its photos, then send.")
        )
    PhotoUse.objects.bulk_create(
        (
            PhotoUse(
                seal=seal,
                place=place,
                **{key: photo[key] for key in ("sha256", "view", "entry", "measured")},
            )
            for place, photo in enumerate(content.photos)
        ),
        ignore_conflicts=True,
    )
    states = sync.photo_states(seal, content)
    missing = tuple(sha256 for sha256, state in states.items() if state == "missing")
    if missing:
        raise Waits(missing)


def refuse_unsendable(result: dict) -> None:
    """Raises Kept with what stands in the way."""
    if result["sendable"]:
        return
    log.warning("a phone sent an entry that the server does not find sendable")
    says = zip(result["flags"], flags_in_words(result), strict=True)
    stops = [words for flag, words in says if flag["level"] == "stop"]
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
) -> tuple[Revision, str | None]:
    """The revision that follows the current one, when the seal was made from that one. Raises Kept, moves.Changed."""
    same = Revision.objects.filter(seal=seal).select_related("order").first()
    if same:  # sent twice at once: the other one was just faster
        return same, None
    if catalogue.workshop_id != order.workshop_id:
        raise Kept(_("This order is with another workshop. Make a new order for this one."))
    if was_followed(seal):
        raise Kept(_("A later version of this order came first and counts. This one is kept."))
    if content.parent_sha256 != order.current.seal.sha256 or order.state not in moves.states_before(
        "correct"
    ):
        raise kept_beside(order, seal, member)
    replies, says = replies_to_open_queries(order, content)
    revision = moves.new_revision(order, order.revision_number + 1, seal, catalogue, reckoned)
    moves.correct(order, revision, member, replies, need_by=content.need_by, deliver_to=content.deliver_to)
    return revision, says


def was_followed(seal: Seal) -> bool:
    """Whether a revision was made from a later seal of the same phone's: this one waited for photos too long."""
    later = Revision.objects.filter(order_id=seal.order_id, seal__parent_sha256=seal.sha256)
    return later.exists()


def replies_to_open_queries(order: Order, content: SealContent) -> tuple[list[tuple[Query, str]], str | None]:
    """The seal's replies to queries that are still open; the rest is told, not lost: the seal holds its words."""
    still_open = {query.id: query for query in moves.open_queries(order)}
    replies = [(still_open[query_id], text) for query_id, text in content.replies if query_id in still_open]
    if len(replies) == len(content.replies):
        return replies, None
    return replies, _(
        "A question was withdrawn in the meantime. What you changed has gone to the workshop all the same."
    )


def kept_beside(order: Order, seal: Seal, member: Member) -> Kept:
    """Keeps the seal beside the order's revisions, once; what the clinic is told of it."""
    if not Rival.objects.filter(seal=seal).exists():
        moves.contest(order, seal, member)
    if order.state in moves.states_before("pick"):
        return Kept(_("Another version of this order came first. Both are kept; pick the one that counts."))
    return Kept(
        _("The order is %(state)s, so nothing was changed. What you sent is kept. Call the workshop.")
        % {"state": order.get_state_display()}
    )


def picked_revision(order: Order, rival: Rival) -> Revision:
    """The unsaved revision that a kept seal makes when the clinic picks it. Raises Kept when it can't be one now."""
    content = read_seal(bytes(rival.seal.raw))
    catalogue = catalogue_named(content)
    if catalogue.workshop_id != order.workshop_id:
        raise Kept(_("This version was for another workshop. Make a new order for that one."))
    reckoned = reckoned_anew(rival.seal, content, catalogue)
    return moves.new_revision(order, order.revision_number + 1, rival.seal, catalogue, reckoned)
