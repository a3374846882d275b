"""Photos of an order: who may see one, what happens when one arrives, how a page shows them.

Registered with capture.photo_access.
"""

import logging
import math
import uuid
from dataclasses import dataclass

from django.db.models import Exists, OuterRef
from django.http import Http404
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from capture import photo_access
from capture.models import Photo, Seal
from capture.photo_store import SMALL
from capture.seal import read_seal
from orders import intake
from orders.models import PhotoUse, Revision
from orders.photo_lengths import length_in
from project.models import Member

log = logging.getLogger(__name__)

VIEW_WORDS = {
    "front": noop("front"),
    "side": noop("side"),
    "knee": noop("knee, near"),
    "foot": noop("foot, near"),
    "free": noop("something else"),
}
MEASURE_WORDS = {
    "length": noop("Length"),
    "hardware_length": noop("Hardware length"),
    "hardware_above_rim": noop("Hardware above rim"),
}
SHEET_WORDS = {
    "a4": noop("a sheet of A4"),
    "letter": noop("a sheet of US Letter"),
    "card": noop("a bank card"),
}


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
    """Takes in again every seal of the photo's clinic whose last missing photo it is. Doing so twice does no harm.

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
    """The seals that waited for this photo alone and have become nothing yet, oldest first."""
    here = Photo.objects.filter(clinic_id=photo.clinic_id, sha256=OuterRef("sha256"))
    still_missing = PhotoUse.objects.filter(~Exists(here), seal_id=OuterRef("id"))
    waiting = Seal.objects.filter(
        ~Exists(still_missing),
        id__in=PhotoUse.objects.filter(sha256=photo.sha256).order_by().values("seal_id"),
        clinic_id=photo.clinic_id,
        revision=None,
        rival=None,
    )
    return list(waiting.select_related("sent_by__organisation").order_by("id"))


@dataclass(frozen=True)
class PhotoShown:
    """One photo of a revision, as both sides see it.

    Attributes
    ----------
    sha256, name : str
        Its hash, and what it shows in words: "Photo, foot, near".
    entry : int
        Which of the revision's shells it shows, from 0.
    alt : str
        The picture's text alternative, with the order's reference.
    set_aside : str
        Why it can't be shown; "" where it can.
    width, height : int
        Of the large picture. [px]
    measured : str
        What was read in it, in words; "" where nothing was.
    """

    sha256: str
    name: str
    view: str
    entry: int
    alt: str
    set_aside: str
    width: int
    height: int
    measured: str = ""

    @property
    def field(self) -> str:
        """What a query about it names."""
        return f"photo:{self.sha256}"

    @property
    def small(self) -> tuple[int, int]:
        """Width and height of the small picture, so that its place is kept while it loads. [px]"""
        longer = max(self.width, self.height, 1)
        return round(self.width * SMALL / longer) or 1, round(self.height * SMALL / longer) or 1


def photos_of(revision: Revision, reference: str) -> list[PhotoShown]:
    """A revision's photos in the order of its seal, the same one once for each shell; in two queries."""
    uses = list(PhotoUse.objects.filter(seal_id=revision.seal_id))
    named = {use.sha256 for use in uses}
    here = Photo.objects.filter(clinic_id=revision.seal.clinic_id, sha256__in=named) if named else []
    photos = {photo.sha256: photo for photo in here}
    once = {(use.entry, use.sha256): use for use in reversed(uses)}
    shown = [use for use in uses if once[use.entry, use.sha256] is use]
    return [
        photo_shown(use, photos[use.sha256], revision, reference) for use in shown if use.sha256 in photos
    ]


def photo_shown(use: PhotoUse, photo: Photo, revision: Revision, reference: str) -> PhotoShown:
    """One photo in words."""
    view = _(VIEW_WORDS[use.view])
    side = _(revision.entries[use.entry]["side"])
    return PhotoShown(
        sha256=use.sha256,
        name=_("Photo, {view}").format(view=view),
        view=view,
        entry=use.entry,
        alt=_("{reference}, {side}: photo, {view}").format(reference=reference, side=side, view=view),
        set_aside=photo.says,
        width=photo.width or 0,
        height=photo.height or 0,
        measured=measured_words(use.measured),
    )


def measured_words(measured: dict | None) -> str:
    """A length read in a photo, with its uncertainty and the sheet; "" where nothing was, or can be, read."""
    found = length_in(measured)
    if found is None:
        return ""
    return _(
        "{what} {mm} ± {U_mm} mm, read in the photo by {sheet}. A check on the tape, never in its place."
    ).format(
        what=_(MEASURE_WORDS[measured["what"]]),
        mm=round(found.mm),
        U_mm=math.ceil(found.U_mm),
        sheet=_(SHEET_WORDS[measured["sheet"]]),
    )
