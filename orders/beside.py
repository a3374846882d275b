"""What stands beside the entries of a seal: its photos, and earlier orders for the same legs.

The one thing here that asks the database; the reckoning gets plain quantities, as orders/rulebook/beside.py says.
"""

import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import F
from django.utils import timezone

from capture.seal import SealContent
from orders.models import Order
from orders.photo_lengths import lengths_beside

WANTED_VIEWS = ("front", "side", "knee", "foot")
MOST_EARLIER = 40  # orders of one person: more than a lifetime's


@dataclass(frozen=True)
class Earlier:
    """An order of the same person that came before: when, whether it was confirmed, its shells (entry, result)."""

    at: datetime
    confirmed: bool
    shells: Sequence[tuple[dict, dict]]


def beside_for(clinic_id: uuid.UUID, content: SealContent) -> list[dict]:
    """The quantities beside each of a seal's entries, in its order; in one query, whatever the seal holds.

    Parameters
    ----------
    clinic_id
        Whose seal it is: another clinic's orders are never looked at, nor told of.
    content : SealContent
        The entries need not be readable.
    """
    since, earlier = orders_before(clinic_id, content)
    return [
        photos_beside(content, place) | earlier_beside(entry, since, earlier)
        for place, entry in enumerate(content.entries)
    ]


def photos_beside(content: SealContent, place: int) -> dict:
    """Which of the wanted views the seal's photos show of one of its shells, and what was measured in them."""
    photos = [photo for photo in content.photos if photo["entry"] == place]
    seen = {photo["view"] for photo in photos}
    return {f"photo_{view}": view in seen for view in WANTED_VIEWS} | lengths_beside(photos)


def orders_before(clinic_id: uuid.UUID, content: SealContent) -> tuple[datetime, list[Earlier]]:
    """When this order began, and the same person's orders that began before it, newest first, cancelled ones left out.

    Counted from the order's beginning and not from today, so that a late reply changes no flag.
    """
    orders = Order.objects.filter(
        clinic_id=clinic_id,
        person__reference=content.reference,
        revisions__number=F("revision_number"),
    ).exclude(state=Order.State.CANCELLED)
    wanted = ("id", "created_at", "state", "revisions__entries", "revisions__results")
    rows = list(orders.order_by("-created_at").values_list(*wanted)[: MOST_EARLIER + 1])
    since = next((began for order_id, began, *_ in rows if order_id == content.id), timezone.now())
    return since, [
        Earlier(began, state == Order.State.CONFIRMED, list(zip(entries, results, strict=True)))
        for order_id, began, state, entries, results in rows
        if order_id != content.id and began <= since
    ]


def earlier_beside(entry: dict, since: datetime, earlier: Sequence[Earlier]) -> dict:
    """What earlier orders say of one leg.

    Until fittings are written down, the last shell made is that of the last confirmed order. No order says yet that
    it is a remake, so that one within 30 days is asked about.
    """
    leg = entry.get("side"), entry.get("level")
    same = [
        (order, result)
        for order in earlier
        for before, result in order.shells
        if (before.get("side"), before.get("level")) == leg
    ]
    made = next((result for order, result in same if order.confirmed), None)
    days = (timezone.localdate(since) - timezone.localdate(same[0][0].at)).days if same else None
    return {
        "earlier_days": days,
        "is_remake": False,
        "last_length_mm": made and made["finished_length_mm"],
        "last_girth_mm": made and made["girth_mm"],
    }
