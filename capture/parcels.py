"""A file that a phone saved because it could not send: seals and photos, taken in at the office.

Its first line is JSON, `{"schema": "shankline-parcel-1", "clinic", "parts": [{"kind", "sha256", "bytes", "order"}]}`, and
the bytes of the parts follow in that order (`order` with a seal only). What is whole goes the way of what a phone sends:
the same seal twice is one, whether it came by the file or by the phone.
"""

import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from typing import BinaryIO

from django.http import Http404
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from capture import sync
from capture.photos.develop import TooBusy
from capture.photos.uploads import PHOTO_BYTES_MOST, NotTaken, keep_whole
from capture.seal import MAX_BYTES, Id, SealError, Sha256, Whole, loaded, read_seal, sha256_of
from orders.reckoning.shape import Choice, ListOf, named
from project.models import Member

HEAD_BYTES_MOST = 256 * 1024
HEAD = named(
    "",
    "clinic",
    schema=Choice(("shankline-parcel-1",)),
    clinic=Id(),
    parts=ListOf(
        named(
            "order",
            kind=Choice(("seal", "photo")),
            sha256=Sha256(),
            bytes=Whole(0, PHOTO_BYTES_MOST),
            order=Id(),
        ),
        1,
        1500,
    ),
)


class NoParcel(ValueError):
    """A file that can't be taken in at all; its text says why, for the person."""


@dataclass(frozen=True)
class Part:
    """One part of the file: what it is, under which name, and its bytes; None where the file is cut off or damaged."""

    kind: str
    sha256: str
    order_id: uuid.UUID | None
    raw: bytes | None


@dataclass(frozen=True)
class Taken:
    """What became of one entry of the file, in words; `order_id` where it is an order now."""

    reference: str
    says: str
    order_id: uuid.UUID | None = None


def take_in(member: Member, file: BinaryIO) -> list[Taken]:
    """Takes in all that is whole. One thing that can't be taken never keeps the others out. Raises NoParcel."""
    lost = 0
    taken = []
    for part in parts_of(member, file):
        if part.kind == "photo":
            lost += not photo_kept(member, part)
        else:
            taken.append(seal_taken(member, part))
    if lost:
        says = ngettext("%(count)s photo could not be read.", "%(count)s photos could not be read.", lost)
        taken.append(Taken("", says % {"count": lost}))
    return taken


def parts_of(member: Member, file: BinaryIO) -> Iterator[Part]:
    """The parts, in the file's order. Raises NoParcel before the first when the file is none or is another clinic's."""
    line = file.readline(HEAD_BYTES_MOST)
    try:
        head = HEAD.read(loaded(line), "")
    except SealError as error:
        raise NoParcel(_("This is no file that a phone saved.")) from error
    if head["clinic"] not in {None, member.organisation_id}:
        raise NoParcel(_("This file was saved on another clinic's phone. It is taken in there."))
    for part in head["parts"]:
        raw = file.read(part["bytes"])
        whole = len(raw) == part["bytes"] and sha256_of(raw) == part["sha256"]
        yield Part(part["kind"], part["sha256"], part["order"], raw if whole else None)


def photo_kept(member: Member, part: Part) -> bool:
    """Whether the photo is accounted for now, kept or set aside."""
    if part.raw is None:
        return False
    try:
        keep_whole(member, part.raw)
    except (NotTaken, TooBusy):
        return False
    return True


def seal_taken(member: Member, part: Part) -> Taken:
    """What became of one seal."""
    if part.raw is None or part.order_id is None or len(part.raw) > MAX_BYTES:
        return Taken("", _("One entry could not be read: the file is cut off or damaged. Save it again."))
    try:
        receipt = sync.take_seal(member, part.order_id, part.sha256, part.raw)
    except (SealError, Http404, sync.Erased) as refusal:
        return Taken("", str(refusal) or _("One entry can't be taken in here."))
    return Taken(
        read_seal(part.raw).reference, in_words(receipt), part.order_id if receipt["order"] else None
    )


def in_words(receipt: dict) -> str:
    """A receipt, for the person at the desk."""
    if receipt["outcome"] == "waiting":
        missing = len(receipt["photos_missing"])
        says = ngettext(
            "Received. It becomes an order once %(count)s photo is here.",
            "Received. It becomes an order once %(count)s photos are here.",
            missing,
        )
        return says % {"count": missing}
    return receipt["says"] or _("Received, and with the workshop.")
