"""What one phone asks about itself, and that its send key sends and reads nothing."""

import gzip
import json
import uuid

import pytest
from django.db import OperationalError, transaction
from django.test import Client
from django.urls import reverse

from capture import sync
from capture.models import Photo, Seal
from orders.models import Event, Order
from orders.models.event import record
from project import send_keys
from project.models import SendKey
from tests import factories

PROBLEM = "application/problem+json"


def new_key(client) -> str:
    answer = client.post(reverse("capture:phone-key"), data="", content_type="text/plain")
    assert answer.status_code == 200, answer.content
    return answer.json()["key"]


def bearing(token: str) -> Client:
    """A phone without a session, which checks CSRF as the site does."""
    return Client(enforce_csrf_checks=True, headers={"Authorization": f"Bearer {token}"})


def put(client, raw: bytes):
    address = f"/api/entries/{json.loads(raw)['id']}/seals/{factories.hash_of(raw)}"
    return client.put(address, data=raw, content_type="application/json")


def test_a_key_sends_a_seal_when_there_is_no_session(client_for, clinician, fabricator):
    token = new_key(client_for(clinician))
    raw = factories.seal(fabricator.organisation)

    answer = put(bearing(token), raw)

    assert (answer.status_code, answer.json()["outcome"]) == (200, "ordered")
    assert Seal.objects.get().sent_by == clinician
    assert not answer.cookies


def test_a_key_sends_a_photo_and_learns_how_far_it_is(client_for, clinician):
    phone, body = bearing(new_key(client_for(clinician))), b"no picture at all"
    sha256 = factories.hash_of(body)

    before = phone.get(reverse("capture:photo-standing", args=[sha256])).json()
    address = reverse("capture:photo-part", args=[sha256, "0"]) + f"?bytes={len(body)}"
    answer = phone.put(address, data=body, content_type="application/octet-stream")

    assert before["state"] == "unknown"
    assert answer.json()["state"] == "set_aside"
    assert Photo.objects.get().uploaded_by == clinician


@pytest.mark.parametrize(
    ("verb", "name"),
    [
        ("get", "phone"),
        ("post", "plan-visit"),
        ("post", "phone-key"),
        ("post", "phone-have"),
        ("get", "visits"),
        ("get", "phones"),
    ],
)
def test_a_key_reads_nothing(client_for, clinician, fabricator, built_pages, verb, name):
    order = factories.order(clinician, fabricator.organisation)
    token = new_key(client_for(clinician))
    phone = Client(headers={"Authorization": f"Bearer {token}"})

    answer = getattr(phone, verb)(reverse(f"capture:{name}"))

    assert answer.status_code in {302, 401}
    assert order.person.initials not in answer.content.decode()


def test_a_key_reads_no_other_clinics_photo_and_sends_into_no_other_clinics_order(
    client_for, clinician, other_clinician, fabricator
):
    order = factories.order(other_clinician, fabricator.organisation)
    factories.photo(other_clinician, "1" * 64)
    phone = bearing(new_key(client_for(clinician)))

    standing = phone.get(reverse("capture:photo-standing", args=["1" * 64])).json()
    answer = put(phone, factories.seal(fabricator.organisation, order_id=order.id))

    assert standing["state"] == "unknown"
    assert (answer.status_code, answer["Content-Type"]) == (404, PROBLEM)


@pytest.mark.parametrize("bearer", ["Bearer wrong", "Bearer ", "Bearer", "bearer  "])
def test_a_wrong_key_is_401_even_beside_a_session(client_for, clinician, fabricator, bearer):
    client = client_for(clinician, headers={"Authorization": bearer})

    answer = put(client, factories.seal(fabricator.organisation))

    assert (answer.status_code, answer["Content-Type"]) == (401, PROBLEM)
    assert not Seal.objects.exists()


def test_without_a_key_the_session_needs_its_csrf_token(client_for, clinician, fabricator):
    strict = client_for(clinician, enforce_csrf_checks=True)
    raw = factories.seal(fabricator.organisation)

    refused = put(strict, raw)
    csrf = strict.get(reverse("capture:phone")).json()["csrf"]
    taken = strict.put(
        f"/api/entries/{json.loads(raw)['id']}/seals/{factories.hash_of(raw)}",
        data=raw,
        content_type="application/json",
        headers={"X-CSRFToken": csrf},
    )

    assert (refused.status_code, refused["Content-Type"]) == (403, PROBLEM)
    assert taken.status_code == 200


def test_a_fabricator_gets_no_key(client_for, fabricator):
    answer = client_for(fabricator).post(reverse("capture:phone-key"))

    assert answer.status_code == 404
    assert not SendKey.objects.exists()


def test_a_key_with_time_left_is_kept_and_another_members_ended(client_for, clinician, lead):
    client = client_for(clinician)
    token = new_key(client)

    again = client.post(reverse("capture:phone-key"), data=token, content_type="text/plain").json()
    other = client_for(lead).post(reverse("capture:phone-key"), data=token, content_type="text/plain").json()

    assert again["key"] == token
    assert other["key"] not in {token, ""}
    assert send_keys.holder_of(token) is None
    assert send_keys.holder_of(other["key"]) == lead


def test_signing_out_anywhere_ends_this_phones_key_and_no_other(client_for, clinician):
    one, other = client_for(clinician), client_for(clinician)
    token, others = new_key(one), new_key(other)

    one.post(reverse("account_logout"))

    assert send_keys.holder_of(token) is None
    assert send_keys.holder_of(others) == clinician


def test_the_phone_signs_out_by_its_session_or_by_its_key_alone(client_for, clinician, fabricator):
    client = client_for(clinician)
    token, kept = new_key(client), new_key(client_for(clinician))

    by_session = client.post(reverse("capture:phone-sign-out"))
    by_key = bearing(kept).post(reverse("capture:phone-sign-out"))

    assert by_session.json() == by_key.json() == {"signed_out": True}
    assert client.get(reverse("capture:phone")).status_code == 401
    assert not SendKey.objects.exists()
    assert put(bearing(token), factories.seal(fabricator.organisation)).status_code == 401


def test_a_new_password_ends_every_key(client_for, clinician):
    clinician.user.set_password("four hills and a tarn")
    clinician.user.save()
    client = client_for(clinician)
    token = new_key(client)

    client.post(
        reverse("account_change_password"),
        {
            "oldpassword": "four hills and a tarn",
            "password1": "three dry stone walls",
            "password2": "three dry stone walls",
        },
    )

    clinician.user.refresh_from_db()
    assert clinician.user.check_password("three dry stone walls")
    assert send_keys.holder_of(token) is None


def test_a_lead_ends_a_lost_phone_and_a_clinician_only_their_own(client_for, clinician, lead):
    token, leads = new_key(client_for(clinician)), new_key(client_for(lead))
    key, leads_key = (SendKey.objects.get(sha256=send_keys.digest(text)) for text in (token, leads))

    refused = client_for(clinician).post(reverse("capture:phone-end", args=[leads_key.id]))
    page = client_for(lead).get(reverse("capture:phones")).content.decode()
    client_for(lead).post(reverse("capture:phone-end", args=[key.id]))

    assert refused.status_code == 404
    assert page.count("may send until") == 2
    assert token not in page
    assert send_keys.holder_of(token) is None
    assert send_keys.holder_of(leads) == lead


def ask_have(client, seals, photos):
    body = json.dumps({"seals": seals, "photos": photos})
    return client.post(reverse("capture:phone-have"), data=body, content_type="application/json")


def test_the_have_list_names_what_this_clinic_has_and_no_other(
    client_for, clinician, other_clinician, fabricator
):
    own = factories.order(clinician, fabricator.organisation)
    others = factories.order(other_clinician, fabricator.organisation)
    factories.photo(clinician, "1" * 64)
    factories.photo(other_clinician, "2" * 64)
    seals = [{"order": str(order.id), "sha256": order.current.seal.sha256} for order in (own, others)]
    seals.append({"order": str(uuid.uuid4()), "sha256": own.current.seal.sha256})

    answer = ask_have(client_for(clinician), seals, ["1" * 64, "2" * 64, "3" * 64]).json()

    assert answer["seals"] == [own.current.seal.sha256]
    assert answer["photos"] == ["1" * 64]
    assert answer["now"] >= own.current.seal.received_at.isoformat()


@pytest.mark.parametrize("body", ["", "[]", '{"seals": []}', '{"seals": ["x"], "photos": []}'])
def test_a_have_list_that_is_none_is_refused(client_for, clinician, body):
    answer = client_for(clinician).post(
        reverse("capture:phone-have"), data=body, content_type="application/json"
    )

    assert (answer.status_code, answer["Content-Type"]) == (400, PROBLEM)


def test_what_was_deleted_at_the_office_does_not_come_back(client_for, clinician, fabricator):
    raw = factories.seal(fabricator.organisation)
    with transaction.atomic():  # an erased order leaves its events, and nothing else
        record(json.loads(raw)["id"], "send", clinician)

    answer = put(client_for(clinician), raw)

    assert (answer.status_code, answer["Content-Type"]) == (410, PROBLEM)
    assert "deleted at the office" in answer.json()["title"]
    assert not Seal.objects.exists()
    assert not Order.objects.exists()
    assert Event.objects.count() == 1


def test_a_locked_database_is_said_in_json_and_nothing_is_kept(client_for, clinician, monkeypatch):
    def locked(*args):
        raise OperationalError("database is locked")

    monkeypatch.setattr(sync, "take_seal", locked)
    answer = put(client_for(clinician), factories.seal(clinician.organisation))

    assert (answer.status_code, answer["Content-Type"]) == (503, PROBLEM)


def test_a_failure_below_api_is_json_whatever_failed(client_for, clinician, monkeypatch):
    def broken(*args):
        raise ZeroDivisionError

    monkeypatch.setattr(sync, "take_seal", broken)
    client = client_for(clinician, raise_request_exception=False)

    answer = put(client, factories.seal(clinician.organisation))

    assert (answer.status_code, answer["Content-Type"]) == (500, PROBLEM)


def test_a_wrong_verb_is_json(client_for, clinician):
    answer = client_for(clinician).get(reverse("capture:phone-have"))

    assert (answer.status_code, answer["Content-Type"], answer["Allow"]) == (405, PROBLEM, "POST")


def test_what_a_phone_keeps_is_sent_compressed(client_for, clinician, fabricator):
    told = client_for(clinician).get(reverse("capture:phone"), headers={"Accept-Encoding": "gzip"})

    assert told.headers["Content-Encoding"] == "gzip"
    assert json.loads(gzip.decompress(told.content))["member"]["id"] == str(clinician.id)
