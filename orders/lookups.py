"""Reading: the workshop's bench, one order with its history, what a phone keeps."""

from django.db.models import F, Prefetch, QuerySet

from orders import access
from orders.models import Catalogue, Order, Revision
from project.models import Member

PHONE_ORDERS = 200  # the newest; more would only fill a phone


def with_current(orders: QuerySet[Order]) -> QuerySet[Order]:
    """The orders with their current revision as `now[0]`, in two queries however many they are."""
    current = Revision.objects.filter(number=F("order__revision_number")).select_related("seal", "catalogue")
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
    orders = with_current(access.orders_of(member).order_by("-moved_at"))[:PHONE_ORDERS]
    return {
        "workshops": [
            {
                "id": str(catalogue.workshop_id),
                "name": catalogue.workshop.name,
                "catalogue_version": catalogue.version,
                "catalogue": catalogue.content,
            }
            for catalogue in newest_catalogues()
        ],
        "orders": [order_for_phone(order) for order in orders],
    }


def order_for_phone(order: Order) -> dict:
    """What a phone is told of an order that its clinic sent."""
    revision = order.now[0]
    return {
        "id": str(order.id),
        "visit": str(order.visit_id),
        "reference": order.person.reference,
        "side": " and ".join(entry["side"] for entry in revision.entries),
        "workshop": order.workshop.name,
        "state": order.state,
        "seal_sha256": revision.seal.sha256,
        "revision": revision.number,
    }
