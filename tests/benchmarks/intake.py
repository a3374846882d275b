"""An entry with four photos, taken in as a phone sends it, against a bare Django view that writes the same bytes.

The bare view stands behind the same middleware and writes to the same database and disk: the entry as it came, the two
pictures of each photo, the revision; each body in a transaction of its own, each file safe on the disk before it answers.
It reads nothing, asks for nobody's key and keeps nothing from coming twice. Decoding a photo from outside takes a child
process of its own, whatever takes the photo in: so the two are compared with it in both and in neither, where pictures
made before stand in for it. The clients are Django's own, in this process: no socket hides anything.
"""

import itertools
import json
import tempfile
import uuid
from collections.abc import Iterator
from datetime import timedelta

from tests.benchmarks.own_site import own_site
from tests.benchmarks.timing import Figure, ratio, typical_ms

PHOTOS, PHOTO_PX, PART = 4, 430, 256 * 1024
SLOWEST = 1 / 0.7  # times as long, which is 0.7 of the rate


def figures() -> Iterator[Figure]:
    """Yields them as they are measured, on a site of its own that goes again."""
    with own_site():
        yield from measured()


def measured() -> Iterator[Figure]:
    """Both sides in turns, on one database."""
    from capture.photos import uploads  # this and what follows need the site's tables

    ours, decode = Ours(), uploads.developed
    pictures = decode_once(ours.photo())
    bare = Bare(ours, pictures)
    print(
        f"  photos of {len(ours.photo()) // 1000} kB, kept as {len(pictures.large + pictures.small) // 1000} kB"
    )

    both = ratio(ours.entry, bare.entry_decoded, 9)
    yield Figure(
        "an entry with four photos taken in, against a bare view, decoding in both", both, "×", SLOWEST
    )
    yield Figure("an entry with four photos taken in", typical_ms(ours.entry, 5), "ms")
    yield Figure("of that, decoding the photos", typical_ms(bare.decode, 5), "ms")
    uploads.developed = lambda _file: pictures
    try:
        neither = ratio(ours.entry, bare.entry, 25)
        yield Figure("the same against a bare view, decoding in neither", neither, "×")
        yield Figure("the same, without decoding", typical_ms(ours.entry, 25), "ms")
        yield Figure("the bare view, without decoding", typical_ms(bare.entry, 25), "ms")
    finally:
        uploads.developed = decode


def decode_once(raw: bytes):
    """The two pictures that the site keeps of a photo."""
    from capture.photos.develop import developed

    with tempfile.TemporaryFile() as file:
        file.write(raw)
        file.flush()
        return developed(file)


class Ours:
    """The site's own way in, by a send key, call for call as static/js/offline does it."""

    def __init__(self) -> None:
        from django.test import Client
        from django.utils import timezone

        from project import send_keys
        from project.models import SendKey
        from tests import factories
        from tests.capture.photos.pictures import noise_jpeg

        member, self.workshop = factories.member("clinician", factories.clinic()), factories.workshop()
        factories.member("fabricator", self.workshop)
        expires_at = timezone.now() + timedelta(days=1)
        SendKey.objects.create(member=member, sha256=send_keys.digest("key"), expires_at=expires_at)
        self.client = Client(headers={"Authorization": "Bearer key"})
        self.picture, self.numbers = noise_jpeg(PHOTO_PX), itertools.count()

    def photo(self) -> bytes:
        """One that never came before: a comment (ITU-T T.81, B.2.4.5) before its end numbers it."""
        return self.picture[:-2] + b"\xff\xfe\x00\x0a%08d" % next(self.numbers) + b"\xff\xd9"

    def sealed(self) -> tuple[bytes, list[bytes]]:
        """A new entry's bytes and its photos."""
        from tests import factories

        photos = [self.photo() for _ in range(PHOTOS)]
        named = [factories.named_photo(factories.hash_of(photo)) for photo in photos]
        return factories.seal(self.workshop, photos=named), photos

    def entry(self) -> None:
        """Text, photos, text again for the receipt."""
        from tests.factories import hash_of

        raw, photos = self.sealed()
        address = f"/api/entries/{json.loads(raw)['id']}/seals/{hash_of(raw)}"
        expect(self.put(address, raw)["outcome"], "waiting")
        for photo in photos:
            place = f"/api/photos/{hash_of(photo)}"
            expect(self.client.get(place).json()["have"], 0)
            for at in range(0, len(photo), PART):
                told = self.put(f"{place}/parts/{at}?bytes={len(photo)}", photo[at : at + PART])
            expect(told["state"], "kept")
        expect(self.put(address, raw)["outcome"], "ordered")

    def put(self, address: str, body: bytes) -> dict:
        return self.client.put(address, data=body, content_type="application/octet-stream").json()


def expect(came: object, wanted: object) -> None:
    if came != wanted:
        raise AssertionError(f"{came!r} instead of {wanted!r}")


class Bare:
    """A view and a table that know nothing; the bytes are those that ours leaves behind."""

    def __init__(self, ours: Ours, pictures) -> None:
        from django.db import connection
        from django.test import Client

        from orders.models import Revision

        ours.entry()
        revision = Revision.objects.get()
        self.revision = json.dumps([revision.entries, revision.results]).encode()
        self.ours, self.pictures, self.client = ours, pictures, Client()
        with connection.cursor() as cursor:
            cursor.execute("create table bare (id char(32) primary key, name text, raw blob)")
        from django.urls import path
        from django.views.decorators.csrf import csrf_exempt

        from project import urls

        urls.urlpatterns.insert(0, path("bare/<slug:kind>", csrf_exempt(bare_view)))

    def entry(self) -> None:
        """The entry, its photos' pictures, its revision."""
        raw, photos = self.ours.sealed()
        self.put("row", raw)
        for _photo in photos:
            self.put("files", self.pictures.large + self.pictures.small)
        self.put("row", self.revision)

    def entry_decoded(self) -> None:
        """The same, with a child process for each photo."""
        self.decode()
        self.entry()

    def decode(self) -> None:
        for _ in range(PHOTOS):
            decode_once(self.ours.photo())

    def put(self, kind: str, body: bytes) -> None:
        address = f"/bare/{kind}?large={len(self.pictures.large)}"
        expect(self.client.put(address, data=body, content_type="application/octet-stream").status_code, 204)


def bare_view(request, kind: str):
    """Writes the body: to one row, or to two files that a row names."""
    from django.core.files.base import ContentFile
    from django.core.files.storage import default_storage
    from django.db import connection, transaction
    from django.http import HttpResponse

    from capture.photo_store import make_safe

    name, raw = uuid.uuid4().hex, request.body
    if kind == "files":
        large = int(request.GET["large"])
        for size, picture in enumerate((raw[:large], raw[large:])):
            make_safe(default_storage.save(f"bare/{name[:2]}/{name}-{size}", ContentFile(picture)))
        raw = b""
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("insert into bare values (%s, %s, %s)", [name, kind, raw])
    return HttpResponse(status=204)
