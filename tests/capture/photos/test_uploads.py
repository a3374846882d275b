"""Parts that come cut, late, twice or at once: nothing is lost, nothing is doubled, nothing is spoiled."""

import hashlib
import threading
from datetime import timedelta

import pytest
from django.core.files.storage import InMemoryStorage, default_storage, storages
from django.db import connection
from django.utils import timezone

from capture import photo_access, photo_store
from capture.models import Photo, Upload, UploadPart
from capture.photos import uploads
from capture.photos.develop import NotDeveloped, TooBusy
from capture.photos.uploads import NotTaken, Standing, keep_whole, standing_of, take_part
from tests import factories
from tests.capture.photos.pictures import (
    CORNERS,
    a_jpeg,
    alike,
    corner_colours,
    corners,
    encoded,
    noise_jpeg,
    seen,
)

PART = 8 * 1024


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


@pytest.fixture
def told(monkeypatch):
    """What the app that hangs photos on orders is told."""
    told = []
    app = photo_access.Registered(clinics_that_sent=lambda member, sha256: (), arrived=told.append)
    monkeypatch.setattr(photo_access, "_registered", [app])
    return told


@pytest.fixture(scope="module")
def photo():
    """A photo of several parts."""
    return noise_jpeg(side_px=160)


def hash_of(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def send(member, data: bytes, part: int = PART, start: int = 0, end: int | None = None) -> Standing:
    """Sends the parts of a photo, from one byte to another."""
    standing = None
    for offset in range(start, len(data) if end is None else end, part):
        body = data[offset : offset + part]
        standing = take_part(member, hash_of(data), offset, len(data), body)
    return standing


def stored(files, folder: str) -> list:
    return [path for path in (files / folder).rglob("*") if path.is_file()]


def test_a_photo_in_parts_is_kept_once_whole(clinician, files, told, photo):
    assert len(photo) > 3 * PART
    unknown = standing_of(clinician.organisation_id, hash_of(photo))

    first = send(clinician, photo, end=PART)
    last = send(clinician, photo, start=PART)

    assert unknown == Standing(hash_of(photo), None, 0, "unknown", None)
    assert first == Standing(hash_of(photo), len(photo), PART, "partial", None)
    assert last == Standing(hash_of(photo), len(photo), len(photo), "kept", None)
    kept = Photo.objects.get()
    assert (kept.clinic, kept.sha256, kept.bytes) == (clinician.organisation, hash_of(photo), len(photo))
    assert (kept.uploaded_by, kept.width, kept.height, kept.says) == (clinician, 160, 160, "")
    assert told == [kept]


def test_one_that_comes_in_one_part_is_stored_nowhere_on_its_way(clinician, files, told, monkeypatch, photo):
    seen_on_the_way = []
    develop = uploads.developed
    monkeypatch.setattr(
        uploads, "developed", lambda file: seen_on_the_way.append(Upload.objects.count()) or develop(file)
    )

    assert send(clinician, photo, part=len(photo)).state == "kept"

    assert seen_on_the_way == [0]
    assert stored(files, "uploads") == []
    assert told == [Photo.objects.get()]


def test_one_part_that_does_not_fit_its_hash_is_sent_anew(clinician, photo):
    with pytest.raises(NotTaken) as refusal:
        take_part(clinician, hash_of(photo), 0, len(photo), photo[:-1] + b"!")

    assert (refusal.value.status, refusal.value.have) == (422, 0)
    assert not Photo.objects.exists()
    assert not Upload.objects.exists()


def test_one_that_was_begun_in_parts_and_then_came_whole_leaves_nothing_behind(clinician, files, photo):
    send(clinician, photo, end=PART)

    assert send(clinician, photo, part=len(photo)).state == "kept"

    assert not Upload.objects.exists()
    assert stored(files, "uploads") == []


def test_the_upload_itself_is_not_kept(clinician, files, photo):
    send(clinician, photo, end=PART)
    assert len(stored(files, "uploads")) == 1

    send(clinician, photo, start=PART)

    assert stored(files, "uploads") == []
    assert not Upload.objects.exists()
    assert not UploadPart.objects.exists()
    assert len(stored(files, "photos")) == 2
    assert all(path.read_bytes() != photo for path in stored(files, "photos"))


def test_the_same_photo_again_is_the_same_photo(clinician, files, told, photo):
    send(clinician, photo)
    again = send(clinician, photo)

    assert (again.state, again.have) == ("kept", len(photo))
    assert Photo.objects.count() == 1
    assert len(stored(files, "photos")) == 2
    assert set(told) == {Photo.objects.get()}


def test_the_same_part_again_does_no_harm(clinician, photo):
    send(clinician, photo, end=2 * PART)
    again = take_part(clinician, hash_of(photo), 0, len(photo), photo[:PART])

    assert (again.state, again.have) == ("partial", 2 * PART)
    assert send(clinician, photo, start=2 * PART).state == "kept"


@pytest.mark.parametrize("start", [1, PART - 1, PART + 1, 5000])
def test_sending_goes_on_from_anywhere_before_the_end_of_what_is_here(clinician, photo, start):
    send(clinician, photo, end=2 * PART)

    assert send(clinician, photo, part=PART + 77, start=start).state == "kept"
    assert Photo.objects.get().sha256 == hash_of(photo)


def test_a_part_beyond_what_is_here_says_where_to_go_on(clinician, photo):
    send(clinician, photo, end=PART)

    with pytest.raises(NotTaken) as refusal:
        send(clinician, photo, start=2 * PART)

    assert (refusal.value.status, refusal.value.have) == (409, PART)
    assert send(clinician, photo, start=PART).state == "kept"


def test_a_short_part_is_gone_on_from(clinician, photo):
    cut = take_part(clinician, hash_of(photo), 0, len(photo), photo[: PART - 1000])

    assert (cut.state, cut.have) == ("partial", PART - 1000)
    assert send(clinician, photo, start=cut.have).state == "kept"


def test_a_part_too_small_to_be_a_part_is_refused(clinician, photo):
    with pytest.raises(NotTaken) as refusal:
        take_part(clinician, hash_of(photo), 0, len(photo), photo[: 4 * 1024 - 1])

    assert refusal.value.status == 400
    assert not Upload.objects.exists()


def test_a_last_part_may_be_small(clinician, photo):
    send(clinician, photo[:], end=0)
    take_part(clinician, hash_of(photo), 0, len(photo), photo[:-1])

    assert take_part(clinician, hash_of(photo), len(photo) - 1, len(photo), photo[-1:]).state == "kept"


def test_a_part_longer_than_the_photo_is_refused(clinician, photo):
    with pytest.raises(NotTaken) as refusal:
        take_part(clinician, hash_of(photo), 0, PART, photo[: PART + 1])

    assert refusal.value.status == 400


def test_a_whole_that_does_not_fit_its_hash_is_sent_anew(clinician, files, photo):
    wrong = photo[:PART] + bytes(PART) + photo[2 * PART :]
    for offset in range(0, len(photo) - PART, PART):
        take_part(clinician, hash_of(photo), offset, len(photo), wrong[offset : offset + PART])

    with pytest.raises(NotTaken) as refusal:
        take_part(clinician, hash_of(photo), len(photo) - PART, len(photo), wrong[-PART:])

    assert (refusal.value.status, refusal.value.have) == (422, 0)
    assert not Photo.objects.exists()
    assert stored(files, "uploads") == []
    assert send(clinician, photo).state == "kept"


def test_a_part_that_the_storage_lost_is_sent_anew(clinician, files, photo):
    send(clinician, photo, end=2 * PART)
    stored(files, "uploads")[0].unlink()

    with pytest.raises(NotTaken) as refusal:
        send(clinician, photo, start=2 * PART)

    assert refusal.value.status == 422
    assert send(clinician, photo).state == "kept"


def test_another_length_for_the_same_hash_begins_anew(clinician, photo):
    take_part(clinician, hash_of(photo), 0, len(photo) + 5, photo[:PART])

    begun_anew = take_part(clinician, hash_of(photo), 0, len(photo), photo[:PART])

    assert (begun_anew.bytes, begun_anew.have) == (len(photo), PART)
    assert send(clinician, photo, start=PART).state == "kept"


@pytest.mark.parametrize(
    ("data", "reason"),
    [(b"", "empty"), (b"just words", "no_picture"), (encoded(corners())[:-40], "damaged")],
)
def test_a_whole_file_that_is_no_picture_is_set_aside_and_stops_nothing(clinician, files, told, data, reason):
    standing = take_part(clinician, hash_of(data), 0, len(data), data)

    assert (standing.state, standing.have, standing.bytes) == ("set_aside", len(data), len(data))
    assert standing.says.startswith("This photo can't be shown: ")
    aside = Photo.objects.get()
    assert (aside.reason, aside.width, aside.height) == (reason, None, None)
    assert told == [aside]
    assert stored(files, "uploads") == stored(files, "photos") == []
    assert take_part(clinician, hash_of(data), 0, len(data), data) == standing


def test_a_photo_of_20_megabytes_may_come_and_a_larger_one_not(clinician, photo):
    assert take_part(clinician, hash_of(photo), 0, 20_000_000, photo[:PART]).state == "partial"

    with pytest.raises(NotTaken) as refusal:
        take_part(clinician, hash_of(b"other"), 0, 20_000_001, photo[:PART])

    assert refusal.value.status == 413
    assert "20 MB" in refusal.value.says


def test_a_part_of_256_kib_may_come_and_a_larger_one_not(clinician):
    assert take_part(clinician, "a" * 64, 0, 10**6, bytes(256 * 1024)).have == 256 * 1024

    with pytest.raises(NotTaken) as refusal:
        take_part(clinician, "b" * 64, 0, 10**6, bytes(256 * 1024 + 1))

    assert refusal.value.status == 413


def test_two_clinics_photos_with_the_same_bytes_know_nothing_of_each_other(clinician, other_clinician, photo):
    send(clinician, photo)

    assert standing_of(other_clinician.organisation_id, hash_of(photo)).state == "unknown"
    assert send(other_clinician, photo).state == "kept"
    assert Photo.objects.count() == 2


def test_only_so_many_may_be_unfinished(clinician, other_clinician, monkeypatch):
    monkeypatch.setattr(uploads, "UNFINISHED_MOST", 2)
    for letter in "ab":
        take_part(clinician, letter * 64, 0, 10**6, bytes(PART))

    with pytest.raises(NotTaken) as refusal:
        take_part(clinician, "c" * 64, 0, 10**6, bytes(PART))

    assert refusal.value.status == 429
    assert take_part(clinician, "b" * 64, PART, 10**6, bytes(PART)).have == 2 * PART
    assert take_part(other_clinician, "c" * 64, 0, 10**6, bytes(PART)).have == PART


def test_one_left_for_an_hour_gives_way(clinician, files, monkeypatch):
    monkeypatch.setattr(uploads, "UNFINISHED_MOST", 2)
    for letter in "ab":
        take_part(clinician, letter * 64, 0, 10**6, bytes(PART))
    Upload.objects.filter(sha256="a" * 64).update(touched_at=timezone.now() - timedelta(minutes=61))

    take_part(clinician, "c" * 64, 0, 10**6, bytes(PART))

    assert set(Upload.objects.values_list("sha256", flat=True)) == {"b" * 64, "c" * 64}
    assert len(stored(files, "uploads")) == 2


def test_one_left_for_a_week_goes_when_another_begins(clinician, files):
    for letter in "ab":
        take_part(clinician, letter * 64, 0, 10**6, bytes(PART))
    Upload.objects.filter(sha256="a" * 64).update(touched_at=timezone.now() - timedelta(days=7, minutes=1))
    Upload.objects.filter(sha256="b" * 64).update(touched_at=timezone.now() - timedelta(days=6))

    take_part(clinician, "c" * 64, 0, 10**6, bytes(PART))

    assert set(Upload.objects.values_list("sha256", flat=True)) == {"b" * 64, "c" * 64}


def busy(file):
    raise TooBusy


def test_a_busy_machine_keeps_what_is_here_and_finishes_it_later(clinician, monkeypatch, photo):
    monkeypatch.setattr(uploads, "developed", busy)
    with pytest.raises(NotTaken) as refusal:
        send(clinician, photo)
    monkeypatch.undo()

    assert (refusal.value.status, refusal.value.have) == (503, len(photo))
    assert standing_of(clinician.organisation_id, hash_of(photo)).state == "partial"
    assert take_part(clinician, hash_of(photo), len(photo), len(photo), b"").state == "kept"


def test_a_photo_for_which_the_machine_is_always_too_busy_is_set_aside(clinician, monkeypatch, photo):
    monkeypatch.setattr(uploads, "developed", busy)
    for _time in range(2):
        with pytest.raises(NotTaken):
            send(clinician, photo, part=len(photo))

    assert send(clinician, photo, part=len(photo)).state == "set_aside"
    assert Photo.objects.get().reason == "too_much"


def test_pictures_without_a_row_go_again(clinician, files, monkeypatch, photo):
    def fails(photo):
        raise RuntimeError("the database is gone")

    monkeypatch.setattr(uploads, "insert", fails)
    with pytest.raises(RuntimeError):
        send(clinician, photo)
    assert stored(files, "photos") == []
    monkeypatch.undo()

    assert take_part(clinician, hash_of(photo), len(photo), len(photo), b"").state == "kept"


def test_one_that_was_finished_meanwhile_is_that_photo(clinician, files, monkeypatch, photo):
    real = uploads.developed

    def slowly(file):
        monkeypatch.setattr(uploads, "developed", real)
        send(clinician, photo)  # another request, faster than this one
        return real(file)

    monkeypatch.setattr(uploads, "developed", slowly)

    assert send(clinician, photo).state == "kept"
    assert Photo.objects.count() == 1
    assert len(stored(files, "photos")) == 2
    assert stored(files, "uploads") == []


def test_one_whose_parts_were_tidied_up_meanwhile_is_that_photo(clinician, monkeypatch, photo):
    real = photo_store.read

    def late(name):
        monkeypatch.setattr(photo_store, "read", real)
        send(clinician, photo)
        return real(name)

    monkeypatch.setattr(photo_store, "read", late)

    assert send(clinician, photo).state == "kept"
    assert Photo.objects.count() == 1


@pytest.mark.django_db(transaction=True)
def test_eight_at_once_make_one_photo(files):
    clinician = factories.member("clinician", factories.clinic())
    data = noise_jpeg(side_px=128)
    faults, start = [], threading.Barrier(8)

    def sends():
        try:
            start.wait(10)
            send(clinician, data)
        except Exception as fault:
            faults.append(fault)
        finally:
            connection.close()

    threads = [threading.Thread(target=sends) for _number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)

    assert faults == []
    assert standing_of(clinician.organisation_id, hash_of(data)).state == "kept"
    assert Photo.objects.count() == 1
    assert len(stored(files, "photos")) == 2
    assert stored(files, "uploads") == []
    assert not Upload.objects.exists()


def test_a_whole_photo_at_hand_is_kept_as_one_that_was_sent(clinician, told):
    data = a_jpeg(seed=7)

    kept = keep_whole(clinician, data)

    assert keep_whole(clinician, data) == kept
    assert (kept.sha256, kept.state, kept.bytes) == (hash_of(data), "kept", len(data))
    assert send(clinician, data).state == "kept"
    assert Photo.objects.count() == 1
    assert told == [kept] * 3


def test_a_storage_without_a_disk_serves_as_well(clinician, settings, photo):
    settings.STORAGES = {
        **settings.STORAGES,
        "default": {"BACKEND": "django.core.files.storage.InMemoryStorage"},
    }
    assert isinstance(storages["default"], InMemoryStorage)

    assert send(clinician, photo).state == "kept"

    large = photo_store.read_picture(Photo.objects.get(), 1600)
    assert seen(large).size == (160, 160)
    assert default_storage.listdir("uploads") == ([], [])


def test_what_is_kept_is_what_was_sent(clinician):
    send(clinician, encoded(corners()))

    assert alike(corner_colours(seen(photo_store.read_picture(Photo.objects.get(), 320))), CORNERS)


def test_a_result_without_pictures_writes_none(clinician, files):
    uploads.keep(clinician, "a" * 64, 5, NotDeveloped("damaged"))

    assert stored(files, "photos") == []
