import json
import uuid

import pytest

from capture.models import Person, Seal, Visit
from orders.models import Event, Order
from tests import factories
from tests.orders.entries import set_at

PROBLEM = "application/problem+json"


def put(client, raw: bytes, order_id=None, sha256=None):
    order_id = order_id or json.loads(raw)["id"]
    address = f"/api/entries/{order_id}/seals/{sha256 or factories.hash_of(raw)}"
    return client.put(address, data=raw, content_type="application/json")


def test_a_seal_becomes_an_order_and_its_receipt_names_it(client_for, clinician, fabricator):
    raw = factories.seal(fabricator.organisation)

    answer = put(client_for(clinician), raw)

    receipt = answer.json()
    assert (answer.status_code, answer["Content-Type"], answer["Cache-Control"]) == (
        200,
        "application/json",
        "no-store",
    )
    assert receipt["sha256"] == factories.hash_of(raw)
    assert receipt["bytes"] == len(raw)
    assert receipt["outcome"] == "ordered"
    assert receipt["order"] == {"id": json.loads(raw)["id"], "state": "sent", "revision": 1}
    assert bytes(Seal.objects.get().raw) == raw


def test_the_same_seal_twice_is_one_and_has_the_same_receipt(client_for, clinician, fabricator):
    raw = factories.seal(fabricator.organisation)
    client = client_for(clinician)

    first, second = put(client, raw).json(), put(client, raw).json()

    assert first == second
    assert (Seal.objects.count(), Order.objects.count(), Event.objects.count()) == (1, 1, 1)


def test_a_cut_body_is_refused_and_nothing_kept(client_for, clinician, fabricator):
    raw = factories.seal(fabricator.organisation)

    answer = put(client_for(clinician), raw[:-20], json.loads(raw)["id"], factories.hash_of(raw))

    assert (answer.status_code, answer["Content-Type"]) == (400, PROBLEM)
    assert answer.json()["title"] == "did not arrive whole; it will be sent again"
    assert not Seal.objects.exists()


def test_a_seal_sent_for_another_order_is_refused(client_for, clinician, fabricator):
    answer = put(client_for(clinician), factories.seal(fabricator.organisation), order_id=uuid.uuid4())

    assert answer.json()["errors"] == [{"field": "id", "says": "is not the order it was sent for"}]
    assert not Seal.objects.exists()


def test_the_server_reckons_anew_whatever_the_phone_says(client_for, clinician, fabricator):
    # 120 mm is below the least length that can be measured: length.impossible is a stop
    impossible = factories.entry(length=["100 mm"], second_route=None)

    answer = put(client_for(clinician), factories.seal(fabricator.organisation, impossible)).json()

    assert (answer["outcome"], answer["order"]) == ("kept", None)
    assert "100" in answer["says"]
    assert Seal.objects.count() == 1
    assert not Order.objects.exists()


def test_an_unreadable_entry_is_kept_and_said(client_for, clinician, fabricator):
    answer = put(
        client_for(clinician), factories.seal(fabricator.organisation, factories.entry(side="middle"))
    ).json()

    assert answer["outcome"] == "kept"
    assert "side" in answer["says"]


LONG = "9" * 1_000
# Every kind of odd value that JSON can say, at fields of every kind.
ODD = [None, True, -3, 1e300, 10**400, "", "0 0", "nan", LONG, "4\x00", "\ud800", [], [[]], {}, {"a": []}]
FIELDS = (
    *("schema", "reference", "side", "units", "level", "taken", "length", "girth", "girth_from"),
    *("knee", "knee.named", "knee.control", "foot", "foot.ankle", "shell", "shell.wall"),
)
NULLABLE = {"gap": None, "extra_girths": [], "service_points": [], "answers": {}, "pivots": None}


@pytest.mark.parametrize("field", [*FIELDS, *NULLABLE])
def test_an_odd_value_is_kept_and_said_with_its_field_and_makes_no_order(
    client_for, clinician, fabricator, field
):
    client = client_for(clinician)
    odd = [value for value in ODD if field not in NULLABLE or value not in (None, NULLABLE[field])]
    for value in odd:
        entry = factories.entry()
        set_at(entry, field, value)
        visit = {"id": str(uuid.uuid4()), "reference": "T-0001", "initials": "A. B."}

        answer = put(client, factories.seal(fabricator.organisation, entry, visit=visit))

        assert answer.status_code == 200, (value, answer.content)
        receipt = answer.json()
        assert (receipt["outcome"], receipt["order"]) == ("kept", None), value
        # what could be read as text is said in words: the wall isn't made, the gap can't be read
        assert field.split(".")[-1] in receipt["says"] or field == "gap", (value, receipt["says"])
        assert len(receipt["says"]) < 500
    assert Seal.objects.count() == len(odd)
    assert not Order.objects.exists()
    assert not Event.objects.exists()


@pytest.mark.parametrize("side", [[], {}, ["left"]])
def test_two_shells_of_an_odd_side_are_kept_and_said(client_for, clinician, fabricator, side):
    pair = factories.entry(side="left"), factories.entry(side=side)

    receipt = put(client_for(clinician), factories.seal(fabricator.organisation, *pair)).json()

    assert (receipt["outcome"], receipt["order"]) == ("kept", None)
    assert receipt["says"].startswith("side: ")


@pytest.mark.parametrize(
    "field",
    [
        *(
            "schema",
            "parent_sha256",
            "visit",
            "visit.reference",
            "visit.initials",
            "workshop",
            "catalogue_version",
        ),
        *("book_sha256", "sheet_build", "need_by", "deliver_to", "entries", "photos", "replies"),
    ],
)
def test_an_odd_value_of_the_seal_itself_is_refused_at_its_key_and_nothing_is_kept(
    client_for, clinician, fabricator, field
):
    client = client_for(clinician)
    plain = json.loads(factories.seal(fabricator.organisation))
    taken = {
        "need_by": [None],
        "deliver_to": [None, "", "0 0", "nan"],
        "parent_sha256": [None],
        "photos": [[]],
    }
    taken |= {"replies": [None, []], "sheet_build": ["", "0 0", "nan"], "visit.initials": ["", "0 0", "nan"]}
    taken |= {"visit.reference": ["0 0", "nan"]}
    for value in ODD:
        if value in taken.get(field, []):
            continue
        content = json.loads(json.dumps(plain))
        set_at(content, field, value)

        answer = put(client, json.dumps(content).encode())

        assert (answer.status_code, answer["Content-Type"]) == (400, PROBLEM), value
        assert answer.json()["errors"][0]["field"].startswith(field), value
    assert not Seal.objects.exists()
    assert not Visit.objects.exists()


def test_an_unanswered_explain_is_kept_and_said(client_for, clinician, fabricator):
    seated = factories.entry(taken="seated")

    answer = put(client_for(clinician), factories.seal(fabricator.organisation, seated)).json()

    assert answer["outcome"] == "kept"
    assert "reason" in answer["says"]


def test_a_reason_lets_it_go(client_for, clinician, fabricator):
    seated = factories.entry(taken="seated", answers={"taken.not_standing": "He can't stand today."})

    assert (
        put(client_for(clinician), factories.seal(fabricator.organisation, seated)).json()["outcome"]
        == "ordered"
    )


def test_a_workshop_that_is_not_known_is_said(client_for, clinician, fabricator):
    raw = factories.seal(fabricator.organisation, workshop=str(uuid.uuid4()))

    answer = put(client_for(clinician), raw).json()

    assert answer["outcome"] == "kept"
    assert "Choose the workshop again" in answer["says"]


def test_a_reference_that_is_not_the_visits_is_said(client_for, clinician, fabricator):
    visit = {"id": str(uuid.uuid4()), "reference": "T-9999", "initials": ""}

    answer = put(client_for(clinician), factories.seal(fabricator.organisation, visit=visit)).json()

    assert answer["outcome"] == "kept"
    assert "reference" in answer["says"]


def test_a_correction_follows_its_parent(client_for, clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    longer = factories.entry(length=["15 3/4"], second_route=None)
    raw = factories.seal(
        fabricator.organisation,
        longer,
        order_id=order.id,
        parent=order.current.seal.sha256,
        visit_id=order.visit_id,
    )

    answer = put(client_for(clinician), raw).json()

    assert answer["order"]["revision"] == 2
    order.refresh_from_db()
    assert order.current.results[0]["finished_length_mm"] == 387  # 15.75 × 25.4 − 12.7 = 387.35, down


def test_two_seals_with_one_parent_are_both_kept_and_one_counts(client_for, clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    parent = order.current.seal.sha256
    client = client_for(clinician)
    answers = []
    for length in ("15 3/4", "15 7/8"):
        one = factories.entry(length=[length], second_route=None)
        raw = factories.seal(
            fabricator.organisation, one, order_id=order.id, parent=parent, visit_id=order.visit_id
        )
        answers.append(put(client, raw).json())

    assert [answer["outcome"] for answer in answers] == ["ordered", "kept"]
    assert "Both are kept" in answers[1]["says"]
    assert Seal.objects.count() == 3
    order.refresh_from_db()
    assert order.revision_number == 2


def test_a_seal_after_confirmation_is_kept_and_moves_nothing(client_for, clinician, fabricator):
    from orders import moves

    order = factories.order(clinician, fabricator.organisation)
    moves.confirm(order, order.current.seal.sha256, fabricator)

    answer = factories.correction(order, clinician, factories.entry(length=["15 3/4"], second_route=None))

    assert answer["outcome"] == "kept"
    assert "confirmed" in answer["says"]
    order.refresh_from_db()
    assert (order.state, order.revision_number) == ("confirmed", 1)


def test_another_clinics_order_is_as_nothing(client_for, clinician, other_clinician, fabricator):
    order = factories.order(clinician, fabricator.organisation)
    raw = factories.seal(fabricator.organisation, order_id=order.id, parent=order.current.seal.sha256)

    answer = put(client_for(other_clinician), raw)

    assert (answer.status_code, answer["Content-Type"]) == (404, PROBLEM)
    assert Seal.objects.count() == 1


def test_another_clinics_stored_seal_is_as_nothing(client_for, clinician, other_clinician, fabricator):
    raw = factories.seal(fabricator.organisation, factories.entry(side="middle"))
    assert put(client_for(clinician), raw).json()["outcome"] == "kept"

    assert put(client_for(other_clinician), raw).status_code == 404


@pytest.mark.parametrize(
    ("verb", "address"),
    [
        ("get", "/api/phone"),
        ("post", "/api/visits"),
        ("put", f"/api/entries/7c9e6679-7425-40de-944b-e07fc1f90ae7/seals/{'0' * 64}"),
    ],
)
def test_a_stranger_is_told_to_sign_in_and_never_redirected(client_for, db, verb, address):
    answer = client_for().generic(verb.upper(), address, "{}", content_type="application/json")

    assert (answer.status_code, answer["Content-Type"]) == (401, PROBLEM)
    assert "everything on this phone stays" in answer.json()["title"]


@pytest.mark.parametrize("address", ["/api/phone", "/api/", "/api/what"])
def test_a_workshop_finds_nothing_here(client_for, fabricator, address):
    answer = client_for(fabricator).get(address)

    assert (answer.status_code, answer["Content-Type"]) == (404, PROBLEM)


def test_the_wrong_verb_is_refused(client_for, clinician):
    client = client_for(clinician)

    assert client.post("/api/phone").status_code == 405
    assert client.get("/api/visits").status_code == 405
    assert client.get(f"/api/entries/{uuid.uuid4()}/seals/{'0' * 64}").status_code == 405


def test_a_put_without_the_phones_token_is_refused_in_json(client_for, clinician, fabricator):
    client = client_for(clinician, enforce_csrf_checks=True)

    answer = put(client, factories.seal(fabricator.organisation))

    assert (answer.status_code, answer["Content-Type"]) == (403, PROBLEM)
    assert not Seal.objects.exists()


def test_the_phones_token_lets_a_put_through(client_for, clinician, fabricator):
    client = client_for(clinician, enforce_csrf_checks=True)
    token = client.get("/api/phone").json()["csrf"]
    raw = factories.seal(fabricator.organisation)

    answer = client.put(
        f"/api/entries/{json.loads(raw)['id']}/seals/{factories.hash_of(raw)}",
        data=raw,
        content_type="application/json",
        headers={"X-CSRFToken": token},
    )

    assert answer.status_code == 200


def test_a_phone_gets_what_it_needs_without_a_signal(client_for, clinician, other_clinician, fabricator):
    mine = factories.order(clinician, fabricator.organisation)
    factories.order(other_clinician, fabricator.organisation)

    kept = client_for(clinician).get("/api/phone").json()

    assert kept["member"]["initials"] == "T. M."
    assert [workshop["name"] for workshop in kept["workshops"]] == [fabricator.organisation.name]
    assert kept["workshops"][0]["catalogue_version"] == 1
    assert [order["id"] for order in kept["orders"]] == [str(mine.id)]
    assert kept["orders"][0]["seal_sha256"] == mine.current.seal.sha256


def test_a_visit_planned_twice_is_made_once(client_for, clinician):
    wanted = {
        "id": str(uuid.uuid4()),
        "reference": "T-7",
        "initials": "Q. R.",
        "planned_for": "2026-12-05T15:30:00Z",
    }
    client = client_for(clinician)

    answers = [client.post("/api/visits", wanted, content_type="application/json") for _time in range(2)]

    assert [answer.status_code for answer in answers] == [201, 200]
    assert answers[0].json() == answers[1].json()
    assert (Visit.objects.count(), Person.objects.count()) == (1, 1)


def test_another_clinics_visit_is_as_nothing(client_for, clinician, other_clinician):
    wanted = {"id": str(uuid.uuid4()), "reference": "T-7", "initials": ""}
    client_for(clinician).post("/api/visits", wanted, content_type="application/json")

    assert (
        client_for(other_clinician).post("/api/visits", wanted, content_type="application/json").status_code
        == 404
    )
    assert not Person.objects.filter(clinic=other_clinician.organisation).exists()


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"reference": ""}, "reference"),
        ({"reference": "x" * 41}, "reference"),
        ({"reference": None}, "reference"),
        ({"initials": "x" * 13}, "initials"),
        ({"id": "no"}, "id"),
        ({"planned_for": "soon"}, "planned_for"),
        ({"planned_for": "2026-12-05T15:30:00"}, "planned_for"),
        ({"planned_for": "2026-13-45T15:30:00Z"}, "planned_for"),
    ],
)
def test_a_wrong_visit_is_refused_at_its_field(client_for, clinician, changes, field):
    wanted = {"id": str(uuid.uuid4()), "reference": "T-7", "initials": "Q. R.", **changes}

    answer = client_for(clinician).post("/api/visits", wanted, content_type="application/json")

    assert (answer.status_code, answer["Content-Type"]) == (400, PROBLEM)
    assert answer.json()["errors"][0]["field"] == field
    assert not Visit.objects.exists()


def test_a_body_too_long_is_refused(client_for, clinician):
    answer = client_for(clinician).post("/api/visits", b"[" * 1_000_001, content_type="application/json")

    assert answer.status_code == 413
