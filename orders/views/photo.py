"""One photo of an order, large: for the workshop that makes it, and for the clinic that sent it."""

import uuid
from dataclasses import dataclass

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from orders.access import order_to_make, order_to_read
from orders.asking import may_ask
from orders.lookups import revisions_of
from orders.models import Order
from orders.photos import PhotoShown, photos_of
from orders.views.order import revision_asked
from project.access import CLINIC, WORKSHOP, for_members


@dataclass(frozen=True)
class Places:
    """What a side's pages are called: the one that a photo's page extends, the order's, a photo's."""

    base: str
    order: str
    photo: str


WORKSHOP_PLACES = Places("orders/desk.html", "orders:order", "orders:photo")
CLINIC_PLACES = Places("orders/clinic.html", "orders:clinic-order", "orders:clinic-photo")


@require_safe
@for_members(*WORKSHOP)
def photo(request: HttpRequest, order_id: uuid.UUID, sha256: str) -> HttpResponse:
    """The photo with this hash, of the revision that `?revision=` names or of the current one, with its neighbours."""
    found = order_to_make(request.member, order_id)
    return photo_page(request, found, sha256, WORKSHOP_PLACES)


@require_safe
@for_members(*CLINIC)
def clinic_photo(request: HttpRequest, order_id: uuid.UUID, sha256: str) -> HttpResponse:
    """The same for a clinic's member."""
    found = order_to_read(request.member, order_id)
    return photo_page(request, found, sha256, CLINIC_PLACES)


def photo_page(request: HttpRequest, found: Order, sha256: str, places: Places) -> HttpResponse:
    read = revision_asked(revisions_of(found), request.GET.get("revision", ""), found)
    photos = [shown for shown in photos_of(read, found.person.reference) if not shown.set_aside]
    here = next((place for place, shown in enumerate(photos) if shown.sha256 == sha256), None)
    if here is None:
        raise Http404
    context = {
        "places": places,
        "order": found,
        "read": read,
        "photo": photos[here],
        "side": read.entries[photos[here].entry]["side"],
        "place": here + 1,
        "count": len(photos),
        "beside": Beside(
            photos[here - 1] if here else None, photos[here + 1] if photos[here + 1 :] else None
        ),
        "may_ask": may_ask(found, read, request.member),
    }
    return render(request, "orders/photo.html", context)


@dataclass(frozen=True)
class Beside:
    """The photos before and after this one, if there are any."""

    before: PhotoShown | None
    after: PhotoShown | None
