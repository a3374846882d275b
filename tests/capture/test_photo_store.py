"""Where photos' bytes lie: under names of the server's own, safe before anybody is told so."""

import os
import re
import uuid

import pytest
from django.core.files.storage import default_storage

from capture import photo_store
from capture.models import Photo, Upload


@pytest.fixture(autouse=True)
def files(settings, tmp_path):
    """A storage of this test alone."""
    settings.STORAGES = {
        **settings.STORAGES,
        "default": {
            "BACKEND": "django.core.files.storage.FileSystemStorage",
            "OPTIONS": {"location": tmp_path / "files"},
        },
    }
    return tmp_path / "files"


def test_a_part_sent_twice_lies_under_two_names():
    upload = Upload(sha256="../../etc/passwd")

    names = {photo_store.save_part(upload, 0, b"one"), photo_store.save_part(upload, 0, b"two")}

    assert len(names) == 2
    assert {photo_store.read(name) for name in names} == {b"one", b"two"}


def test_no_name_is_made_of_what_was_sent():
    upload = Upload(sha256="../../etc/passwd")
    photo = Photo(sha256="../../etc/passwd")

    assert re.fullmatch(r"uploads/[0-9a-f]{32}-4096-[0-9a-f]{16}", photo_store.save_part(upload, 4096, b"x"))
    assert re.fullmatch(r"photos/[0-9a-f]{2}/[0-9a-f]{32}-320\.jpg", photo_store.picture_name(photo.id, 320))


def test_both_pictures_are_on_the_disk_before_the_row_is_written(files, monkeypatch):
    flushed = []
    real = os.fsync
    monkeypatch.setattr(
        photo_store.os, "fsync", lambda fd: (flushed.append(os.readlink(f"/proc/self/fd/{fd}")), real(fd))
    )
    photo = Photo()

    with photo_store.pictures_saved(photo.id, b"large", b"small"):
        written = {str(files / photo_store.picture_name(photo.id, size)) for size in (1600, 320)}
        assert written < set(flushed)
        assert str(files / "photos" / photo.id.hex[:2]) in flushed

    assert photo_store.read_picture(photo, 1600) == b"large"
    assert photo_store.read_picture(photo, 320) == b"small"


def test_pictures_go_again_when_the_row_is_not_written():
    photo = Photo()

    with pytest.raises(ZeroDivisionError), photo_store.pictures_saved(photo.id, b"large", b"small"):
        1 / 0  # noqa: B018

    assert not default_storage.exists(photo_store.picture_name(photo.id, 1600))
    assert not default_storage.exists(photo_store.picture_name(photo.id, 320))


def test_only_the_two_sizes_can_be_read():
    with pytest.raises(KeyError):
        photo_store.read_picture(Photo(), 640)


def test_deleting_what_is_gone_does_no_harm():
    photo_store.delete(["uploads/none"])
    photo_store.delete_pictures(uuid.uuid4())
