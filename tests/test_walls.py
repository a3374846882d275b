"""Every address, asked by everybody it does not belong to: somebody else's is the same as nothing."""

import uuid

import pytest
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from tests import factories

JSON = "application/problem+json"

# Addresses of the libraries, with checks of their own, and those that are the same for everybody.
NOT_OURS = ("accounts/",)
# address name: who may come in (by fixture), verb. A new address must be put here, or the test fails.
CLINIC = {
    "clinician",
    "lead",
    "other_clinician",
}  # any clinic's member: the page or the list is everybody's own
WORKSHOP = {"fabricator", "other_fabricator"}
EVERYBODY = CLINIC | WORKSHOP
ADDRESSES = {
    "home": ("get", EVERYBODY),
    "members": ("get", {"lead"}),
    "member-invite": ("post", {"lead"}),
    "member-role": ("post", {"lead"}),
    "member-leave": ("post", {"lead"}),
    "invitation-withdraw": ("post", {"lead"}),
    "capture:visits": ("get", CLINIC),
    "capture:phone": ("get", CLINIC),
    "capture:phone-key": ("post", CLINIC),
    "capture:phone-have": ("post", CLINIC),
    "capture:phone-sign-out": ("post", CLINIC),
    "capture:phones": ("get", CLINIC),
    "capture:design": ("get", EVERYBODY),
    "capture:take-in": ("get", CLINIC),
    "capture:phone-end": ("post", set()),  # nobody has this one; whose one may end has tests of its own
    "capture:cards": ("get", CLINIC),
    "capture:card-new": ("get", CLINIC),
    "capture:card-edit": ("get", {"clinician", "lead"}),
    "capture:card-retire": ("post", {"clinician", "lead"}),
    "capture:plan-visit": ("post", CLINIC),
    "capture:seal": ("put", CLINIC),
    "capture:photo-standing": ("get", CLINIC),
    "capture:photo-part": ("put", CLINIC),
    "capture:picture": (
        "get",
        set(),
    ),  # nobody has sent this one; whose photos one may see has tests of its own
    "orders:clinic-orders": ("get", CLINIC),
    "orders:clinic-order": ("get", {"clinician", "lead"}),
    "orders:clinic-pick": ("post", {"clinician", "lead"}),
    "orders:clinic-cancel": ("post", {"clinician", "lead"}),
    "orders:handout-make": ("post", {"clinician", "lead"}),
    "orders:handout-withdraw": ("post", {"clinician", "lead"}),
    "orders:bench": ("get", WORKSHOP),
    "orders:order": ("get", {"fabricator"}),
    "orders:confirm": ("post", {"fabricator"}),
    "orders:what-if": ("get", {"fabricator"}),
    "orders:query-ask": ("post", {"fabricator"}),
    "orders:clinic-photo": ("get", set()),  # as for the workshop's
    "orders:photo": ("get", set()),  # the order has none; whose photos one may see has tests of its own
    "orders:query-withdraw": ("post", {"fabricator"}),
    "orders:catalogue": ("get", WORKSHOP),
    "orders:catalogue-file": ("get", WORKSHOP),
    "orders:catalogue-read-in": ("post", WORKSHOP),
    "orders:proposal-accept": ("post", set()),  # the order has none; accepting has tests of its own
    "orders:start": ("post", {"fabricator"}),
    # an order that nobody has confirmed isn't made: these are nothing yet; with one that is they have tests of their own
    "orders:making": ("get", set()),
    "orders:stage": ("post", set()),
    "orders:inspect": ("post", set()),
    "orders:ship": ("post", set()),
    "orders:traveller": ("get", set()),
    "orders:packing-slip": ("get", set()),
    "orders:document": (
        "get",
        {"fabricator"},
    ),  # one of the workshop's own; the clinic's have tests of their own
}
OPEN = {
    "join",
    "orders:handout",
    "orders:problem-report",
    "orders:problem-told",
}  # behind a token, with tests of its own
OWN = {"settings", "kept-form"}  # each member's own, whoever they are
SAME_FOR_ALL = {"worker", "handout-worker", "manifest", "offline"}  # they hold nobody's data


def addresses(resolver: URLResolver | None = None, space: str = "", before: str = "") -> dict[str, list[str]]:
    """The arguments of every named address below the root, by its name."""
    found: dict[str, list[str]] = {}
    for pattern in (resolver or get_resolver()).url_patterns:
        route = before + str(pattern.pattern)
        if route.startswith(NOT_OURS):
            continue
        if isinstance(pattern, URLResolver):
            inner = f"{pattern.namespace}:" if pattern.namespace else space
            found |= addresses(pattern, inner, route)
        elif isinstance(pattern, URLPattern) and pattern.name:
            found[space + pattern.name] = list(pattern.pattern.converters or pattern.pattern.regex.groupindex)
    return found


def test_every_address_is_walked():
    assert set(addresses()) - OPEN - OWN - SAME_FOR_ALL == set(ADDRESSES)


@pytest.fixture
def people(clinician, lead, other_clinician, fabricator, other_fabricator):
    return {
        "clinician": clinician,
        "lead": lead,
        "other_clinician": other_clinician,
        "fabricator": fabricator,
        "other_fabricator": other_fabricator,
        "stranger": None,
    }


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def arguments_for(names, order, clinician) -> dict:
    """An address's arguments, naming what really exists at the first clinic."""
    there = {
        "order_id": str(order.id),
        "member_id": clinician.id,
        "invitation_id": uuid.uuid4(),
        "key_id": uuid.uuid4(),
        "card_id": factories.card(clinician).id,
        "kind": "knee",
        "query_id": uuid.uuid4(),
        "sha256": order.current.seal.sha256,
        "offset": "0",
        "size": "320",
        "version": 1,
        "name": "left-shell.stl",
    }
    return {name: there[name] for name in names}


@pytest.mark.parametrize("name", sorted(SAME_FOR_ALL))
def test_what_makes_the_page_an_app_is_the_same_for_everybody(name, people, client_for):
    answers = [client_for(member).get(reverse(name)) for member in people.values()]

    assert {answer.status_code for answer in answers} == {200}
    assert len({answer.content for answer in answers}) == 1


@pytest.mark.parametrize("name", sorted(ADDRESSES))
def test_an_address_is_nothing_to_whom_it_does_not_belong(name, people, order, client_for, built_pages):
    address = reverse(name, kwargs=arguments_for(addresses()[name], order, people["clinician"]))
    verb, let_in = ADDRESSES[name]

    for who, member in people.items():
        answer = getattr(client_for(member), verb)(address, data={} if verb != "put" else b"{}")
        if who in let_in:
            assert answer.status_code != 401, (name, who)
            assert not answer.headers.get("Location", "").startswith("/accounts/"), (name, who)
            continue
        assert_nothing(answer, who, address)
        assert order.person.initials not in answer.content.decode(), (name, who)


# What a phone's send key opens: it sends, asks how far its photo is, and ends itself. Nothing else.
BY_KEY = {"capture:seal", "capture:photo-standing", "capture:photo-part", "capture:phone-sign-out"}


@pytest.mark.parametrize("name", sorted(set(ADDRESSES) - BY_KEY))
def test_a_send_key_opens_nothing_else(name, people, order, client_for, built_pages):
    clinician = people["clinician"]
    token = client_for(clinician).post(reverse("capture:phone-key")).json()["key"]
    address = reverse(name, kwargs=arguments_for(addresses()[name], order, clinician))
    phone = client_for(None, headers={"Authorization": f"Bearer {token}"})

    for verb in ("get", "post", "put", "delete"):
        answer = getattr(phone, verb)(address)
        assert answer.status_code in {302, 401, 405}, (name, verb)
        assert order.person.initials not in answer.content.decode(), (name, verb)
        assert str(order.id) not in answer.content.decode(), (name, verb)


def assert_nothing(answer, who: str, address: str) -> None:
    """404 to a member; to a stranger the way to sign in, which is a page's redirect or the API's 401."""
    if who == "stranger" and not address.startswith("/api/"):
        assert answer.status_code == 302, (who, address, answer.status_code)
        assert answer.headers["Location"].startswith("/accounts/login/"), (who, address)
        return
    assert answer.status_code == (401 if who == "stranger" else 404), (who, address, answer.status_code)
    if address.startswith("/api/"):
        assert answer.headers["Content-Type"] == JSON, (who, address)
