"""Photos of an order: who may see one, what happens when one arrives. Registered with capture.photo_access."""

import logging
import uuid

from django.http import Http404

from capture import photo_access
from capture.models import Photo, Seal
from capture.seal import read_seal
from orders import intake
from orders.models import PhotoUse
from project.models import Member

log = logging.getLogger(__name__)


def register() -> None:
    """Called once, when the app is ready."""
    photo_access.register(photo_access.Registered(clinics_that_sent=clinics_that_sent, arrived=arrived))


def clinics_that_sent(member: Member, sha256: str) -> set[uuid.UUID]:
    """The clinics that sent this member's workshop an order, a revision of which names this photo."""
    uses = PhotoUse.objects.filter(
        sha256=sha256, seal__revision__order__workshop_id=member.organisation_id
    ).order_by()
    return set(uses.values_list("seal__clinic_id", flat=True))


def arrived(photo: Photo) -> None:
    """Takes in again every seal of the photo's clinic that waited for it. Doing so twice does no harm.

    A seal that can't become an order for another reason stays stored; the phone hears of it when it asks again.
    """
    for seal in seals_waiting_for(photo):
        sender = seal.sent_by or photo.uploaded_by
        if sender is None:
            continue
        try:
            intake.receive(seal, read_seal(bytes(seal.raw)), sender)
        except Http404:
            log.warning("a seal that waited for photos could not be taken in")


def seals_waiting_for(photo: Photo) -> list[Seal]:
    """The seals that name this photo and have become nothing yet, oldest first."""
    waiting = Seal.objects.filter(
        id__in=PhotoUse.objects.filter(sha256=photo.sha256).order_by().values("seal_id"),
        clinic_id=photo.clinic_id,
        revision=None,
        rival=None,
    )
    return list(waiting.select_related("sent_by__organisation").order_by("id"))
