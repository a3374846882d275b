"""Reading: the rows of the workshop's bench, one order with its history, what a phone keeps."""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import F, Max, Prefetch, QuerySet
from django.utils.translation import gettext as _

from capture.models import Photo
from orders import access
from orders.changes import shells_of
from orders.models import Catalogue, Event, Look, Order, PhotoUse, Query, Revision
from orders.proposal import proposal_words
from orders.reckon import catalogue_for_phone
from project.models import Member

PHONE_ORDERS = 200  # the newest; more would only fill a phone


def with_current(orders: QuerySet[Order]) -> QuerySet[Order]:
    """The orders with their current revision as `now[0]`, in two queries however many they are."""
    current = Revision.objects.filter(number=F("order__revision_number")).select_related("seal", "catalogue")
    current = current.defer("seal__raw")
    return orders.select_related("clinic", "workshop", "person").prefetch_related(
        Prefetch("revisions", queryset=current, to_attr="now")
    )


def newest_catalogues() -> list[Catalogue]:
    """The newest catalogue of every workshop, by the workshop's name."""
    newest = Catalogue.objects.order_by("workshop_id", "-version").select_related("workshop")
    by_workshop: dict = {}
    for catalogue in newest:
        by_workshop.setdefault(catalogue.workshop_id, catalogue)
    return sorted(by_workshop.values(), key=lambda catalogue: catalogue.workshop.name)


def for_phone(member: Member) -> dict:
    """The workshops a clinic may send to, and its own orders, as a phone keeps them."""
    newest = with_current(access.orders_of(member).order_by("-moved_at"))
    orders = list(newest[:PHONE_ORDERS])
    asked = open_queries([order.id for order in orders])
    photos = photos_for_phone(member, orders)
    return {
        "workshops": [
            {
                "id": str(catalogue.workshop_id),
                "name": catalogue.workshop.name,
                "catalogue_version": catalogue.version,
                "catalogue": catalogue_for_phone(catalogue.content),
            }
            for catalogue in newest_catalogues()
        ],
        "orders": [order_for_phone(order, asked.get(order.id, []), photos[order.id]) for order in orders],
    }


def photos_for_phone(member: Member, orders: Sequence[Order]) -> dict[uuid.UUID, list[dict]]:
    """The photos of each order's current revision as its seal names them, in two queries however many they are."""
    seals = {order.now[0].seal_id: order.id for order in orders}
    uses = list(PhotoUse.objects.filter(seal_id__in=seals))
    hashes = {use.sha256 for use in uses}
    sizes = dict(
        Photo.objects.filter(clinic_id=member.organisation_id, sha256__in=hashes).values_list(
            "sha256", "bytes"
        )
    )
    photos: dict[uuid.UUID, list[dict]] = {order.id: [] for order in orders}
    for use in uses:
        named = {
            "sha256": use.sha256,
            "bytes": sizes.get(use.sha256, 0),
            "view": use.view,
            "entry": use.entry,
        }
        if use.measured:
            named["measured"] = use.measured
        photos[seals[use.seal_id]].append(named)
    return photos


def order_for_phone(order: Order, asked: Sequence[Query], photos: Sequence[dict]) -> dict:
    """What a phone is told of an order that its clinic sent: enough to reply from another phone than the sender's."""
    revision = order.now[0]
    return {
        "id": str(order.id),
        "visit": str(order.visit_id),
        "reference": order.person.reference,
        "initials": order.person.initials,
        "sides": [entry["side"] for entry in revision.entries],
        "workshop": order.workshop.name,
        "workshop_id": str(order.workshop_id),
        "state": order.state,
        "contested": order.contested,
        "seal_sha256": revision.seal.sha256,
        "revision": revision.number,
        "need_by": order.need_by.isoformat() if order.need_by else None,
        "deliver_to": order.deliver_to or None,
        "entries": revision.entries,
        "photos": list(photos),
        "queries": [query_for_phone(query, revision) for query in asked],
    }


def query_for_phone(query: Query, revision: Revision) -> dict:
    """A question that waits for the clinic, with what it proposes in its words."""
    shells = shells_of(revision) if query.proposed else []
    proposed = next((proposal_words(query, shell) for shell in shells if shell.side == query.side), "")
    says = _("They propose: {words}. The order's page takes it with one tap.").format(words=proposed)
    return {
        "id": str(query.id),
        "side": query.side,
        "field": query.field,
        "text": f"{query.text} {says}" if proposed else query.text,
        "asked_at": query.asked_at.isoformat(),
    }


@dataclass(frozen=True)
class Happened:
    """An event with the member behind it, who may have left."""

    what: str
    at: datetime
    revision: int | None
    member: Member | None


@dataclass(frozen=True)
class BenchRow:
    """One order on the bench.

    With it its current revision, the last that happened, the queries that wait for the clinic, oldest first, and when
    this workshop looked last.
    """

    order: Order
    revision: Revision
    last: Event
    asked: list[Query]
    looked_at: datetime | None = None


def bench_rows(member: Member, order_ids: Sequence[uuid.UUID]) -> list[BenchRow]:
    """The rows of these orders, in their order, in six queries however many they are."""
    orders = {order.id: order for order in with_current(access.orders_named(member, order_ids))}
    last = last_events(order_ids)
    looks, asked = last_looks(member, order_ids), open_queries(order_ids)
    rows = []
    for order in (orders[order_id] for order_id in order_ids if order_id in orders):
        revision = order.now[0]
        waiting, looked_at = asked.get(order.id, []), looks.get(order.id)
        rows.append(BenchRow(order, revision, last[order.id], waiting, looked_at))
    return rows


def last_events(order_ids: Sequence[uuid.UUID]) -> dict[uuid.UUID, Event]:
    """The last event of each order."""
    newest = Event.objects.filter(order_id__in=order_ids).values("order_id").annotate(newest=Max("id"))
    return {event.order_id: event for event in Event.objects.filter(id__in=newest.values("newest"))}


def open_queries(order_ids: Sequence[uuid.UUID]) -> dict[uuid.UUID, list[Query]]:
    """The queries of each order that wait for the clinic, oldest first; orders without one are left out."""
    waiting: dict[uuid.UUID, list[Query]] = {}
    for query in Query.objects.filter(order_id__in=order_ids, withdrawn_at=None, reply=None).order_by(
        "asked_at"
    ):
        waiting.setdefault(query.order_id, []).append(query)
    return waiting


def last_looks(member: Member, order_ids: Sequence[uuid.UUID]) -> dict[uuid.UUID, datetime]:
    """When somebody of this member's organisation last opened each order; orders nobody opened are left out."""
    looks = Look.objects.filter(organisation_id=member.organisation_id, order_id__in=order_ids)
    return dict(looks.values_list("order_id").annotate(Max("at")).order_by())


def revisions_of(order: Order) -> list[Revision]:
    """Every revision of an order, newest first, with what it was sealed and reckoned with."""
    revisions = order.revisions.select_related("seal__sent_by__organisation", "catalogue").defer("seal__raw")
    return list(revisions.order_by("-number"))


def happened_to(order: Order) -> list[Happened]:
    """Everything that happened to an order, oldest first."""
    events = list(Event.objects.filter(order_id=order.id).order_by("id"))
    ids = {event.member_id for event in events if event.member_id}
    members = Member.objects.select_related("organisation").in_bulk(ids)
    return [
        Happened(event.what, event.at, event.detail.get("revision"), members.get(event.member_id))
        for event in events
    ]
