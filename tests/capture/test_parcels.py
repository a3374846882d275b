"""A phone's file, taken in at the office the way it would have gone."""

import io
import json

import pytest

from capture import parcels
from capture.models import Photo, Seal
from orders.models import Event, Order
from tests import factories
from tests.capture.photos.pictures import a_jpeg


def parcel(clinic, *parts: tuple[str, bytes, str | None], **changes) -> io.BytesIO:
    """A file as a phone writes it; parts are (kind, bytes, order)."""
    named = [
        {
            "kind": kind,
            "sha256": factories.hash_of(raw),
            "bytes": len(raw),
            **({"order": order} if order else {}),
        }
        for kind, raw, order in parts
    ]
    head = {"schema": "shankline-parcel-1", "clinic": str(clinic.id), "parts": named, **changes}
    return io.BytesIO(json.dumps(head).encode() + b"\n" + b"".join(raw for _kind, raw, _order in parts))


@pytest.fixture
def seal(fabricator):
    """A seal with one photo: (its bytes, its order, the photo's bytes)."""
    photo = a_jpeg(7)
    raw = factories.seal(fabricator.organisation, photos=[factories.named_photo(factories.hash_of(photo))])
    return raw, json.loads(raw)["id"], photo


def test_an_entry_with_its_photo_becomes_an_order_once(clinician, seal):
    raw, order_id, photo = seal
    file = parcel(clinician.organisation, ("photo", photo, None), ("seal", raw, order_id))

    first = parcels.take_in(clinician, file)
    file.seek(0)
    second = parcels.take_in(clinician, file)

    assert first == second
    assert (first[0].reference, str(first[0].order_id)) == ("T-0001", order_id)
    assert [model.objects.count() for model in (Seal, Photo, Order, Event)] == [1, 1, 1, 1]
    assert bytes(Seal.objects.get().raw) == raw


def test_the_file_and_the_phone_are_one(client_for, clinician, lead, seal):
    raw, order_id, photo = seal
    parcels.take_in(lead, parcel(clinician.organisation, ("photo", photo, None), ("seal", raw, order_id)))

    answer = client_for(clinician).put(
        f"/api/entries/{order_id}/seals/{factories.hash_of(raw)}", data=raw, content_type="application/json"
    )

    assert answer.json()["order"] == {"id": order_id, "state": "sent", "revision": 1}
    assert (Seal.objects.count(), Order.objects.count()) == (1, 1)


def test_what_is_whole_of_a_cut_file_is_taken(clinician, seal, fabricator):
    raw, order_id, photo = seal
    other = factories.seal(fabricator.organisation)
    whole = parcel(
        clinician.organisation,
        ("seal", other, json.loads(other)["id"]),
        ("seal", raw, order_id),
        ("photo", photo, None),
    ).getvalue()

    taken = parcels.take_in(clinician, io.BytesIO(whole[:-20]))

    assert [one.says for one in taken] == [
        "Received, and with the workshop.",
        "Received. It becomes an order once 1 photo is here.",
        "1 photo could not be read.",
    ]
    assert not Photo.objects.exists()


def test_a_damaged_entry_is_said_and_the_next_one_taken(clinician, seal):
    raw, order_id, photo = seal
    file = parcel(
        clinician.organisation, ("seal", b"{}", order_id), ("photo", photo, None), ("seal", raw, order_id)
    ).getvalue()

    damaged, good = parcels.take_in(clinician, io.BytesIO(file.replace(b"\n{}", b"\n{!", 1)))

    assert "damaged" in damaged.says
    assert str(good.order_id) == order_id


@pytest.mark.parametrize(
    "raw", [b"", b"\n", b"no JSON\n", b"{}\n", b'{"schema": "shankline-parcel-2"}\n', b"\xff\xfe\n"]
)
def test_a_file_that_is_none_is_said(clinician, raw):
    with pytest.raises(parcels.NoParcel, match="no file that a phone saved"):
        parcels.take_in(clinician, io.BytesIO(raw))


def test_another_clinics_file_is_not_taken(clinician, other_clinician, seal):
    raw, order_id, _photo = seal

    with pytest.raises(parcels.NoParcel, match="another clinic"):
        parcels.take_in(clinician, parcel(other_clinician.organisation, ("seal", raw, order_id)))

    assert not Seal.objects.exists()


def test_another_clinics_order_is_nothing(clinician, other_clinician, fabricator):
    order = factories.order(other_clinician, fabricator.organisation)
    raw = factories.seal(fabricator.organisation, order_id=order.id)

    (taken,) = parcels.take_in(clinician, parcel(clinician.organisation, ("seal", raw, str(order.id))))

    assert (taken.says, taken.order_id) == ("One entry can't be taken in here.", None)
    assert Seal.objects.count() == 1
