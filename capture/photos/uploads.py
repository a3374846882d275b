"""Takes photos from phones in parts; the same photo twice is one.

A part that is cut, short or sent again never spoils what is there: parts are only ever added where the last one ends,
each stored under a name of its own, and the whole is held against its hash before anything is made of it.
"""

import hashlib
import tempfile
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import timedelta
from typing import BinaryIO

from django.db import IntegrityError, transaction
from django.db.models import F, Sum
from django.utils import timezone
from django.utils.translation import gettext as _

from capture import photo_access, photo_store
from capture.models import Photo, Upload, UploadPart
from capture.photos.develop import Developed, NotDeveloped, TooBusy, developed
from project.models import Member, Organisation

PHOTO_BYTES_MOST = 20_000_000
PART_BYTES_MOST = 256 * 1024
PART_BYTES_LEAST = 4 * 1024  # but for the last one, so that a photo can't be cut into millions
UNFINISHED_MOST = 64  # of one clinic; by the largest photo 1.3 GB
UNFINISHED_KEPT = timedelta(days=7)
UNFINISHED_SAFE = timedelta(hours=1)  # so long after its last part an upload gives way to no other
TRIES_MOST = 3  # that a machine may be too busy for one photo, before the photo is taken to be the reason


class NotTaken(Exception):
    """A part that was not taken. `status` as in HTTP, `says` for the person.

    `have` is the byte to go on from; None where the refusal says nothing about what is here.
    """

    def __init__(self, status: int, says: str, have: int | None = None) -> None:
        super().__init__(says)
        self.status, self.says, self.have = status, says, have


class Damaged(Exception):
    """What is stored of an upload is not what was sent."""


@dataclass(frozen=True)
class Standing:
    """How far one photo has come: state is unknown, partial, kept or set_aside."""

    sha256: str
    bytes: int | None
    have: int
    state: str
    says: str | None


def standing_of(clinic_id: uuid.UUID, sha256: str) -> Standing:
    """What the server has of a photo."""
    # The upload is asked for first: it goes only once the photo is there, so one of them is always found.
    upload = Upload.objects.filter(clinic_id=clinic_id, sha256=sha256).first()
    photo = photo_named(clinic_id, sha256)
    if photo:
        return standing_with(photo)
    if upload:
        return Standing(sha256, upload.bytes, have_of(upload), "partial", None)
    return Standing(sha256, None, 0, "unknown", None)


def standing_with(photo: Photo) -> Standing:
    """The same of one that is accounted for."""
    return Standing(photo.sha256, photo.bytes, photo.bytes, photo.state, photo.says or None)


def take_part(member: Member, sha256: str, offset: int, total_bytes: int, body: bytes) -> Standing:
    """Adds a part to a photo, and makes the photo once its last byte is there.

    Parameters
    ----------
    offset : int
        The byte of the whole that `body` begins with. Where it begins before the end of what is here, only what is
        new is taken. A body with nothing in it asks to finish what is all here.
    total_bytes : int
        The size of the whole.

    Raises
    ------
    NotTaken
        With what to do about it. Nothing that was there before is spoiled; only a whole that does not fit its hash
        is dropped, and `have` is 0 then.
    """
    photo = photo_named(member.organisation_id, sha256)
    if not photo:
        refuse_wrong_sizes(offset, total_bytes, body)
        is_whole = offset == 0 and len(body) == total_bytes
        photo = (
            came_whole(member, sha256, body)
            if is_whole
            else with_part(member, sha256, offset, total_bytes, body)
        )
    if not photo:
        return standing_of(member.organisation_id, sha256)
    photo_access.arrived(photo)
    return standing_with(photo)


def with_part(member: Member, sha256: str, offset: int, total_bytes: int, body: bytes) -> Photo | None:
    """The photo that this part completes, if it does. Raises NotTaken."""
    upload = begun(member.organisation, sha256, total_bytes)
    add_part(upload, offset, body)
    return finished(upload, member) if have_of(upload) == upload.bytes else None


def came_whole(member: Member, sha256: str, body: bytes) -> Photo:
    """The photo whose one part is all of it, as with most that a phone has made smaller. Raises NotTaken.

    Its bytes are stored only if the machine is too busy for them.
    """
    if hashlib.sha256(body).hexdigest() != sha256:
        raise damaged()
    try:
        result = developed_bytes(body)
    except TooBusy:
        upload = begun(member.organisation, sha256, len(body))
        add_part(upload, 0, body)
        result = no_time_for(upload)
    photo = keep(member, sha256, len(body), result)
    for upload in Upload.objects.filter(clinic_id=member.organisation_id, sha256=sha256):
        drop(upload)
    return photo


def developed_bytes(raw: bytes) -> Developed | NotDeveloped:
    """What becomes of these bytes. Raises TooBusy."""
    with tempfile.TemporaryFile() as file:
        file.write(raw)
        file.flush()
        return developed(file)


def damaged() -> NotTaken:
    return NotTaken(422, _("The photo was damaged on its way; it will be sent again."), 0)


def keep_whole(member: Member, raw: bytes) -> Photo:
    """The photo with these bytes, made now or before, where they are at hand in one piece. Raises NotTaken, TooBusy."""
    if len(raw) > PHOTO_BYTES_MOST:
        raise NotTaken(413, too_large())
    sha256 = hashlib.sha256(raw).hexdigest()
    photo = photo_named(member.organisation_id, sha256)
    if not photo:
        photo = keep(member, sha256, len(raw), developed_bytes(raw))
    photo_access.arrived(photo)
    return photo


def photo_named(clinic_id: uuid.UUID, sha256: str) -> Photo | None:
    """The clinic's photo with this hash, if it has come whole."""
    return Photo.objects.filter(clinic_id=clinic_id, sha256=sha256).first()


def have_of(upload: Upload) -> int:
    """How many of the first bytes are here."""
    return upload.parts.aggregate(have=Sum("bytes"))["have"] or 0


def refuse_wrong_sizes(offset: int, total_bytes: int, body: bytes) -> None:
    """Raises NotTaken for a photo or part that is too large, too small, or longer than the whole."""
    if total_bytes > PHOTO_BYTES_MOST:
        raise NotTaken(413, too_large())
    if len(body) > PART_BYTES_MOST:
        raise NotTaken(413, _("A part of a photo is at most 256 KiB."))
    end = offset + len(body)
    if end > total_bytes:
        raise NotTaken(400, _("This part is longer than what is left of the photo."))
    if len(body) < PART_BYTES_LEAST and end < total_bytes:
        raise NotTaken(400, _("This part did not arrive whole; it will be sent again."))


def too_large() -> str:
    return _("This photo is larger than 20 MB. Take it again with a smaller size set in the camera.")


def begun(clinic: Organisation, sha256: str, total_bytes: int) -> Upload:
    """The clinic's upload with this hash, begun now or before. Raises NotTaken while too many are unfinished."""
    upload = Upload.objects.filter(clinic=clinic, sha256=sha256).first()
    if upload and upload.bytes != total_bytes:
        drop(upload)  # one hash has one length, so whoever named the other one was wrong
        upload = None
    if upload:
        return upload
    make_room(clinic)
    upload, _made = Upload.objects.get_or_create(
        clinic=clinic, sha256=sha256, defaults={"bytes": total_bytes, "touched_at": timezone.now()}
    )
    return upload


def make_room(clinic: Organisation) -> None:
    """Drops what was left unfinished for long. Raises NotTaken when that leaves no room for one more.

    Two phones at once may both get the last place; the bound is there to keep a disk from filling, not to be exact.
    """
    unfinished = Upload.objects.filter(clinic=clinic).order_by("touched_at")
    now = timezone.now()
    for upload in unfinished.filter(touched_at__lt=now - UNFINISHED_KEPT):
        drop(upload)
    if unfinished.count() < UNFINISHED_MOST:
        return
    oldest = unfinished.first()
    if oldest and oldest.touched_at > now - UNFINISHED_SAFE:
        raise NotTaken(
            429, _("Many photos of your clinic are on their way. This one waits and is sent later.")
        )
    if oldest:
        drop(oldest)


def add_part(upload: Upload, offset: int, body: bytes) -> None:
    """Stores what is new in this part. Raises NotTaken for one that begins beyond what is here."""
    have = have_of(upload)
    if offset > have:
        raise NotTaken(409, _("A part before this one is missing; sending goes on from there."), have)
    new = body[have - offset :]
    if not new:
        return
    name = photo_store.save_part(upload, have, new)
    try:
        with transaction.atomic():
            UploadPart.objects.create(upload=upload, offset=have, bytes=len(new), name=name)
            Upload.objects.filter(id=upload.id).update(touched_at=timezone.now())
    except IntegrityError:
        photo_store.delete([name])  # the same part came a second time meanwhile, or the whole upload is done


def finished(upload: Upload, member: Member) -> Photo | None:
    """The photo made from an upload whose bytes are all here; None when the upload went meanwhile. Raises NotTaken."""
    try:
        with whole(upload) as file:
            photo = keep(member, upload.sha256, upload.bytes, developed_in_time(upload, file))
    except Damaged:
        photo = photo_named(upload.clinic_id, upload.sha256)  # somebody else may have finished, and tidied up
        if not photo and drop(upload):
            raise damaged() from None
    drop(upload)
    return photo


@contextmanager
def whole(upload: Upload) -> Iterator[BinaryIO]:
    """The upload's bytes put together in a nameless file. Raises Damaged when a part is gone or the hash differs."""
    digest = hashlib.sha256()
    with tempfile.TemporaryFile() as file:
        for name in upload.parts.order_by("offset").values_list("name", flat=True):
            try:
                part = photo_store.read(name)
            except FileNotFoundError:
                raise Damaged from None
            digest.update(part)
            file.write(part)
        if digest.hexdigest() != upload.sha256:
            raise Damaged
        file.flush()
        yield file


def developed_in_time(upload: Upload, file: BinaryIO) -> Developed | NotDeveloped:
    """What becomes of the file. Raises NotTaken while the machine is too busy, but not for ever."""
    try:
        return developed(file)
    except TooBusy:
        return no_time_for(upload)


def no_time_for(upload: Upload) -> NotDeveloped:
    """Counts that the machine was too busy; once that was so often, the photo is the reason. Raises NotTaken before."""
    Upload.objects.filter(id=upload.id).update(tries=F("tries") + 1)
    if upload.tries + 1 < TRIES_MOST:
        says = _("The photo is here whole, but there is no time for it just now. It is tried again soon.")
        raise NotTaken(503, says, upload.bytes)
    return NotDeveloped(Photo.Reason.TOO_MUCH)


def keep(member: Member, sha256: str, sent_bytes: int, result: Developed | NotDeveloped) -> Photo:
    """Writes the photo and its pictures; where another one was faster, that one is the photo."""
    photo = Photo(clinic_id=member.organisation_id, sha256=sha256, bytes=sent_bytes, uploaded_by=member)
    try:
        if isinstance(result, NotDeveloped):
            photo.state, photo.reason = Photo.State.SET_ASIDE, result.reason
            insert(photo)
        else:
            photo.state, photo.width, photo.height = Photo.State.KEPT, result.width, result.height
            with photo_store.pictures_saved(photo.id, result.large, result.small):
                insert(photo)
    except IntegrityError:
        return Photo.objects.get(clinic_id=photo.clinic_id, sha256=sha256)
    return photo


def insert(photo: Photo) -> None:
    """A new row, in a transaction of its own. Raises IntegrityError when there is one."""
    with transaction.atomic():
        photo.save(force_insert=True)


def drop(upload: Upload) -> bool:
    """Lets go of an upload and its parts; whether it was still there."""
    with transaction.atomic():
        # Locked, so that no part is added between listing and deleting them.
        held = Upload.objects.select_for_update().filter(id=upload.id).first()
        if held is None:
            return False
        names = list(held.parts.values_list("name", flat=True))
        held.delete()
    photo_store.delete(names)
    return True
