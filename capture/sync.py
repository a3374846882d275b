"""Takes seals from phones: stored first, then interpreted; the same seal twice is one.

What a seal becomes is not this app's to say. Whoever turns seals into something registers here.
"""

import uuid
from collections.abc import Callable, Collection
from dataclasses import dataclass

from django.db import IntegrityError, transaction
from django.http import Http404
from django.utils.translation import gettext as _

from capture.models import Photo, Seal
from capture.seal import SealContent, SealError, read_seal, sha256_of
from project.models import Member


@dataclass(frozen=True)
class Outcome:
    """What became of a seal: the order it is now part of, the photos it waits for, or what the clinician must know."""

    order: dict | None
    says: str | None = None
    waits_for: tuple[str, ...] = ()  # hashes of photos that have not come yet

    @property
    def word(self) -> str:
        """ordered, waiting (for photos; it becomes an order once they are here) or kept."""
        if self.order:
            return "ordered"
        return "waiting" if self.waits_for else "kept"


class CutShort(SealError):
    """The bytes that came are not those that were named: a cut upload arrives as a short body, and is sent again."""


class Erased(Exception):
    """The order was deleted at the office, so nothing of it is taken again. Its text says so to the clinician."""


Receiver = Callable[[Seal, SealContent, Member], Outcome]


@dataclass(frozen=True)
class Registered:
    """What an app that turns seals into something must bring."""

    receive: Receiver  # interprets a seal once it is stored
    clinic_of: Callable[[uuid.UUID], uuid.UUID | None]  # the clinic that an order id belongs to, if any
    was_erased: Callable[[uuid.UUID], bool]  # whether an order with this id was here once and was deleted
    for_phone: Callable[[Member], dict]  # what a phone keeps of it for when there is no signal


_registered: list[Registered] = []


def register(receiver: Registered) -> None:
    """Names the one app that turns seals into something; called when that app is ready."""
    _registered[:] = [receiver]


def for_phone(member: Member) -> dict:
    """What the registered app gives a phone to keep."""
    return _registered[0].for_phone(member)


def take_seal(member: Member, order_id: uuid.UUID, sha256: str, raw: bytes) -> dict:
    """Stores a seal's bytes and has them interpreted; the receipt that the phone waits for.

    Raises
    ------
    SealError
        If the bytes are not those that were named (CutShort), or cannot be read as a seal of this order. Nothing is
        stored then, and the phone keeps its own.
    Http404
        If the order id is another clinic's.
    Erased
        If the order was deleted at the office.
    """
    if sha256_of(raw) != sha256:
        raise CutShort("", _("did not arrive whole; it will be sent again"))
    content = read_seal(raw)
    if content.id != order_id:
        raise SealError("id", _("is not the order it was sent for"))
    becomes = _registered[0]
    if becomes.clinic_of(order_id) not in {None, member.organisation_id}:
        raise Http404
    if becomes.was_erased(order_id):
        raise Erased(_("This order was deleted at the office. It is not taken again."))
    seal = kept(member, content, sha256, raw)
    outcome = becomes.receive(seal, content, member)
    return receipt(seal, outcome, photo_states(seal, content))


def kept(member: Member, content: SealContent, sha256: str, raw: bytes) -> Seal:
    """The stored seal; one that came before is found again. Raises Http404 when another clinic's has this id."""
    try:
        with transaction.atomic():
            return Seal.objects.create(
                order_id=content.id,
                sha256=sha256,
                raw=raw,
                parent_sha256=content.parent_sha256,
                clinic_id=member.organisation_id,
                sent_by=member,
            )
    except IntegrityError:
        seal = Seal.objects.get(order_id=content.id, sha256=sha256)
        if seal.clinic_id != member.organisation_id:
            raise Http404 from None
        return seal


def held(clinic_id: uuid.UUID, seals: Collection[tuple[uuid.UUID, str]], photos: Collection[str]) -> dict:
    """Which of these seals (by order and hash) and photos this clinic has here, as hashes.

    A phone asks at its start what became of what it counts as received: a server restored from an older backup lacks
    some of it, and gets it again.
    """
    named = Seal.objects.filter(clinic_id=clinic_id, sha256__in={sha256 for _order, sha256 in seals})
    here = set(named.values_list("order_id", "sha256"))
    seen = Photo.objects.filter(clinic_id=clinic_id, sha256__in=set(photos))
    return {
        "seals": [sha256 for order_id, sha256 in seals if (order_id, sha256) in here],
        "photos": sorted(seen.values_list("sha256", flat=True)),
    }


def photo_states(seal: Seal, content: SealContent) -> dict[str, str]:
    """Each hash of the seal's photo list, once and in its order: kept, set_aside, or missing while it has not come."""
    named = dict.fromkeys(photo["sha256"] for photo in content.photos)
    here = Photo.objects.filter(clinic_id=seal.clinic_id, sha256__in=named).values_list("sha256", "state")
    return dict.fromkeys(named, "missing") | dict(here)


def receipt(seal: Seal, outcome: Outcome, photos: dict[str, str]) -> dict:
    """What the phone compares with what it sent. Only this counts as received."""
    return {
        "schema": "shankline-receipt-1",
        "id": str(seal.order_id),
        "sha256": seal.sha256,
        "bytes": len(seal.raw),
        "received_at": seal.received_at.isoformat(),
        "outcome": outcome.word,
        "order": outcome.order,
        "says": outcome.says,
        "photos": [{"sha256": sha256, "state": state} for sha256, state in photos.items()],
        "photos_missing": list(outcome.waits_for),
    }
