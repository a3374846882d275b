"""A photo comes in by parts and is seen by those who may; whatever goes wrong is said in JSON."""

import base64
import errno
import hashlib
import io
import json

import pytest
from django.http.request import UnreadablePostError
from django.test import RequestFactory
from PIL import Image

from capture import photo_store
from capture.models import Photo, Upload
from capture.photos.uploads import keep_whole
from capture.views import photo as views
from capture.views.photo import whole_body
from tests import factories
from tests.capture.photos.pictures import CORNERS, a_jpeg, alike, corner_colours, corners, encoded, noise_jpeg

PART = 8 * 1024
EMPTY = hashlib.sha256(b"").hexdigest()


def hash_of(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def put(
    client, data: bytes, offset: int = 0, length: int | None = None, body: bytes | None = None, **headers
):
    """Sends one part of a photo."""
    end = len(data) if length is None else offset + length
    return client.put(
        f"/api/photos/{hash_of(data)}/parts/{offset}?bytes={len(data)}",
        data[offset:end] if body is None else body,
        content_type="application/octet-stream",
        **headers,
    )


def is_problem(answer, status: int) -> dict:
    """The problem that an answer holds."""
    assert answer.status_code == status
    assert answer["Content-Type"] == "application/problem+json"
    problem = answer.json()
    assert problem["status"] == status
    assert problem["title"]
    return problem


def test_a_photo_in_parts_is_taken_and_told_after_each(client_for, clinician):
    client, data = client_for(clinician), noise_jpeg(side_px=120)
    address = f"/api/photos/{hash_of(data)}"

    before = client.get(address)
    first = put(client, data, 0, PART)
    between = client.get(address)
    last = put(client, data, PART)
    after = client.get(address)

    named = {"sha256": hash_of(data), "bytes": len(data), "says": None}
    assert before.json() == {**named, "bytes": None, "have": 0, "state": "unknown"}
    assert first.json() == between.json() == {**named, "have": PART, "state": "partial"}
    assert last.json() == after.json() == {**named, "have": len(data), "state": "kept"}
    for answer in (before, first, between, last, after):
        assert (answer.status_code, answer["Content-Type"]) == (200, "application/json")
        assert answer["Cache-Control"] == "no-store"


def test_what_is_no_picture_is_set_aside_and_no_error(client_for, clinician):
    answer = put(client_for(clinician), b"just words, under the name photo.jpg")

    assert (answer.status_code, answer.json()["state"]) == (200, "set_aside")
    assert "not a JPEG, PNG, WebP or HEIC" in answer.json()["says"]


def test_an_empty_file_is_set_aside(client_for, clinician):
    assert put(client_for(clinician), b"").json()["state"] == "set_aside"
    assert Photo.objects.get().sha256 == EMPTY


def test_a_part_beyond_what_is_here_says_where_to_go_on(client_for, clinician):
    client, data = client_for(clinician), noise_jpeg(side_px=160)
    put(client, data, 0, PART)

    assert is_problem(put(client, data, 2 * PART, PART), 409)["have"] == PART


def test_a_refusal_that_knows_nothing_of_what_is_here_names_no_byte(client_for, clinician):
    client, data = client_for(clinician), noise_jpeg(side_px=160)
    put(client, data, 0, PART)

    assert is_problem(put(client, data, PART, 100), 400)["have"] is None


@pytest.mark.parametrize(
    "query", ["", "?bytes=", "?bytes=-1", "?bytes=1e3", "?bytes=²", "?bytes=123456789012", "?size=9"]
)
def test_the_size_of_the_whole_must_be_named(client_for, clinician, query):
    address = f"/api/photos/{'a' * 64}/parts/0{query}"

    answer = client_for(clinician).put(address, b"x", content_type="application/octet-stream")

    is_problem(answer, 400)
    assert not Upload.objects.exists()


def test_a_part_that_is_too_long_is_not_even_read(client_for, clinician):
    data = bytes(256 * 1024 + 1)

    is_problem(put(client_for(clinician), data), 413)
    assert not Upload.objects.exists()


def test_a_photo_that_is_too_large_says_so(client_for, clinician):
    address = f"/api/photos/{'a' * 64}/parts/0?bytes=20000001"

    answer = client_for(clinician).put(address, bytes(PART), content_type="application/octet-stream")

    assert "20 MB" in is_problem(answer, 413)["title"]


def a_request(body: bytes, length: str, **headers):
    """A request whose connection delivers `body`, whatever was announced."""
    request = RequestFactory().put("/", body, content_type="application/octet-stream", **headers)
    request.META["CONTENT_LENGTH"] = length
    return request


@pytest.mark.parametrize("announced", ["9", "5000", "262144"])
def test_a_body_cut_short_is_not_taken(announced):
    with pytest.raises(views.NotTaken) as refusal:
        whole_body(a_request(b"only 8 b", announced))

    assert (refusal.value.status, refusal.value.have) == (400, None)


@pytest.mark.parametrize("announced", ["-1", "many", "²", "8 "])
def test_a_length_that_is_no_number_is_refused(announced):
    with pytest.raises(views.NotTaken) as refusal:
        whole_body(a_request(b"only 8 b", announced))

    assert refusal.value.status == 400


def test_without_a_length_there_is_no_body():
    request = RequestFactory().put("/", b"", content_type="application/octet-stream")
    assert "CONTENT_LENGTH" not in request.META

    assert whole_body(request) == b""


def test_a_connection_that_breaks_while_it_is_read_takes_nothing(monkeypatch):
    class Broken(io.BytesIO):
        def read(self, *args):
            raise OSError("connection reset")

    request = a_request(b"only 8 b", "8")
    request._stream = Broken()
    with pytest.raises(UnreadablePostError):
        assert request.body

    request = a_request(b"only 8 b", "8")
    request._stream = Broken()
    with pytest.raises(views.NotTaken) as refusal:
        whole_body(request)

    assert refusal.value.status == 400


def test_a_part_with_a_digest_is_held_against_it(client_for, clinician):
    client, data = client_for(clinician), noise_jpeg(side_px=160)

    def digest_of(part):
        return f"sha-256=:{base64.b64encode(hashlib.sha256(part).digest()).decode()}:"

    right = put(client, data, 0, PART, headers={"Content-Digest": digest_of(data[:PART])})
    wrong = put(client, data, PART, PART, headers={"Content-Digest": digest_of(data[:PART])})
    other = put(client, data, PART, PART, headers={"Content-Digest": "sha-512=:AAAA:"})

    assert right.json()["have"] == PART
    is_problem(wrong, 400)
    assert other.json()["have"] == 2 * PART


def test_a_damaged_whole_is_sent_anew_from_the_start(client_for, clinician):
    client, data = client_for(clinician), noise_jpeg(side_px=120)
    put(client, data, 0, PART, body=bytes(PART))

    assert is_problem(put(client, data, PART), 422)["have"] == 0
    assert put(client, data).json()["state"] == "kept"


@pytest.mark.parametrize(("fault", "status"), [(errno.ENOSPC, 507), (errno.EDQUOT, 507), (errno.EIO, 503)])
def test_a_storage_that_fails_loses_nothing(client_for, clinician, monkeypatch, fault, status):
    client, data = client_for(clinician), noise_jpeg(side_px=120)
    put(client, data, 0, PART)

    def fails(*args):
        raise OSError(fault, "of a test")

    with monkeypatch.context() as broken:
        broken.setattr(photo_store, "save_part", fails)
        answer = put(client, data, PART)

    assert "stays on this phone" in is_problem(answer, status)["title"]
    assert int(answer["Retry-After"]) > 0
    assert put(client, data, PART).json()["state"] == "kept"


@pytest.mark.parametrize(
    ("verb", "address", "allowed"),
    [
        ("post", f"/api/photos/{EMPTY}", "GET"),
        ("delete", f"/api/photos/{EMPTY}", "GET"),
        ("get", f"/api/photos/{EMPTY}/parts/0?bytes=0", "PUT"),
        ("post", f"/api/photos/{EMPTY}/parts/0?bytes=0", "PUT"),
    ],
)
def test_another_verb_is_a_problem_too(client_for, clinician, verb, address, allowed):
    answer = getattr(client_for(clinician), verb)(address)

    is_problem(answer, 405)
    assert answer["Allow"] == allowed


@pytest.mark.parametrize(
    "address",
    [
        "/api/photos/abc",
        f"/api/photos/{EMPTY.upper()}",
        f"/api/photos/{EMPTY}/parts/-1",
        f"/api/photos/{EMPTY}/parts/1234567890",
        "/api/photos/../../etc/passwd",
    ],
)
def test_an_address_that_is_none_is_a_problem(client_for, clinician, address):
    is_problem(client_for(clinician).get(address), 404)


def test_only_a_clinics_members_may_send(client_for, clinician, fabricator):
    data = a_jpeg()

    is_problem(put(client_for(None), data), 401)
    is_problem(put(client_for(fabricator), data), 404)
    is_problem(client_for(None).get(f"/api/photos/{hash_of(data)}"), 401)
    assert not Upload.objects.exists()
    assert not Photo.objects.exists()
    assert put(client_for(clinician), data).json()["state"] == "kept"


def test_a_page_from_elsewhere_may_not_send(client_for, clinician):
    is_problem(put(client_for(clinician, enforce_csrf_checks=True), a_jpeg()), 403)
    assert not Photo.objects.exists()


def test_the_phones_own_token_lets_it_send(client_for, clinician):
    client = client_for(clinician, enforce_csrf_checks=True)
    token = client.get("/api/phone").json()["csrf"]

    assert put(client, a_jpeg(), headers={"X-CSRFToken": token}).json()["state"] == "kept"


def test_another_clinic_hears_nothing_of_a_photo(client_for, clinician, other_clinician):
    data = a_jpeg()
    assert put(client_for(clinician), data).json()["state"] == "kept"

    assert client_for(other_clinician).get(f"/api/photos/{hash_of(data)}").json()["state"] == "unknown"


def pictures_of(photo: Photo) -> list[str]:
    return [f"/photos/{photo.sha256}/{size}" for size in (1600, 320)]


def test_a_picture_is_served_as_nothing_but_a_picture(client_for, clinician):
    photo = keep_whole(clinician, encoded(corners(2000, 1000)))

    for address, size in zip(pictures_of(photo), [(1600, 800), (320, 160)], strict=True):
        answer = client_for(clinician).get(address)

        assert answer.status_code == 200
        assert answer["Content-Type"] == "image/jpeg"
        assert answer["Cache-Control"] == "no-store"
        assert answer["X-Content-Type-Options"] == "nosniff"
        assert answer["Content-Disposition"] == 'inline; filename="photo.jpg"'
        assert answer["Cross-Origin-Resource-Policy"] == "same-origin"
        assert "default-src 'none'" in answer["Content-Security-Policy"]
        image = Image.open(io.BytesIO(answer.content))
        assert image.size == size
        assert alike(corner_colours(image), CORNERS)


def test_a_picture_is_seen_by_its_clinic_and_the_workshop_it_was_sent_to(
    client_for, clinician, lead, other_clinician, fabricator, other_fabricator
):
    photo, unsent = keep_whole(clinician, a_jpeg(1)), keep_whole(clinician, a_jpeg(2))
    named = {"sha256": photo.sha256, "bytes": photo.bytes, "view": "side", "entry": 0}
    factories.order(clinician, fabricator.organisation, photos=[named])

    for address in pictures_of(photo):
        for member in (clinician, lead, fabricator):
            assert client_for(member).get(address).status_code == 200
        for member in (other_clinician, other_fabricator):
            assert client_for(member).get(address).status_code == 404
        assert client_for(None).get(address).status_code == 302
    assert client_for(fabricator).get(pictures_of(unsent)[0]).status_code == 404
    assert client_for(clinician).get(pictures_of(unsent)[0]).status_code == 200


@pytest.mark.parametrize("size", ["640", "0320", "1600.jpg", "large", "../1600", ""])
def test_another_size_is_nothing(client_for, clinician, size):
    photo = keep_whole(clinician, a_jpeg())

    assert client_for(clinician).get(f"/photos/{photo.sha256}/{size}").status_code == 404


def test_one_that_was_set_aside_has_no_picture(client_for, clinician):
    photo = keep_whole(clinician, b"just words")
    assert photo.state == "set_aside"

    assert client_for(clinician).get(pictures_of(photo)[0]).status_code == 404


def test_one_whose_picture_the_storage_lost_is_nothing(client_for, clinician):
    photo = keep_whole(clinician, a_jpeg())
    photo_store.delete_pictures(photo.id)

    assert client_for(clinician).get(pictures_of(photo)[1]).status_code == 404


def test_a_picture_can_only_be_read(client_for, clinician):
    photo = keep_whole(clinician, a_jpeg())

    assert client_for(clinician).post(pictures_of(photo)[0]).status_code == 405
    assert client_for(clinician).delete(pictures_of(photo)[0]).status_code == 405


def test_an_answer_is_json_to_the_last_byte(client_for, clinician):
    answer = put(client_for(clinician), a_jpeg())

    assert set(json.loads(answer.content)) == {"sha256", "bytes", "have", "state", "says"}
