"""Where photos' bytes lie: parts on their way, and the two pictures that are kept of each photo.

Through Django's storage alone, by whole objects and without appending, so that S3-compatible storage serves as well
as a disk. Every name is made here from ids of the server's own; nothing that a person sent becomes part of one.
"""

import os
import secrets
import uuid
from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from django.core.files.base import ContentFile
from django.core.files.storage import FileSystemStorage, default_storage, storages

from capture.models import Photo, Upload

LARGE, SMALL = 1600, 320  # the longer side of each picture [px]
SIZES = (LARGE, SMALL)


def save_part(upload: Upload, offset: int, body: bytes) -> str:
    """Stores a part under a name of its own, however often it is sent; the name to read it by."""
    name = f"uploads/{upload.id.hex}-{offset}-{secrets.token_hex(8)}"
    return default_storage.save(name, ContentFile(body))


def read(name: str) -> bytes:
    """The stored bytes. Raises FileNotFoundError."""
    with default_storage.open(name) as file:
        return file.read()


def delete(names: Iterable[str]) -> None:
    """Deletes what is stored under these names; a name that is gone already does no harm."""
    for name in names:
        default_storage.delete(name)


@contextmanager
def pictures_saved(photo_id: uuid.UUID, large: bytes, small: bytes) -> Iterator[None]:
    """Holds both pictures of a photo, safe on the disk, while its row is written; without a row they go again."""
    try:
        for size, picture in zip(SIZES, (large, small), strict=True):
            make_safe(default_storage.save(picture_name(photo_id, size), ContentFile(picture)))
        yield
    except BaseException:
        delete_pictures(photo_id)
        raise


def make_safe(name: str) -> None:
    """Waits until a file has reached the disk: the phone lets go of its own once it is told that this one is kept."""
    storage = storages["default"]
    if not isinstance(storage, FileSystemStorage):
        return  # not a disk of this machine: an object store answers only once it has the object
    path = storage.path(name)
    for place in (path, os.path.dirname(path)):
        descriptor = os.open(place, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def read_picture(photo: Photo, size: int) -> bytes:
    """One of the two pictures, a JPEG file. Raises FileNotFoundError, KeyError for another size."""
    if size not in SIZES:
        raise KeyError(size)
    return read(picture_name(photo.id, size))


def delete_pictures(photo_id: uuid.UUID) -> None:
    """Deletes both pictures of a photo."""
    delete(picture_name(photo_id, size) for size in SIZES)


def picture_name(photo_id: uuid.UUID, size: int) -> str:
    """Where a picture lies. Folders by the id's first two digits, since some disks slow down with many files in one."""
    return f"photos/{photo_id.hex[:2]}/{photo_id.hex}-{size}.jpg"
