"""28: many visits on a link where anything goes wrong at random. Each entry and each photo arrives once."""

import random

import pytest

from tests.faults.sending.conftest import Phone, Sealed, Server
from tests.faults.sending.proxy import (
    Act,
    answer_cut,
    answer_lost,
    answered,
    any_of,
    cut_at,
    done_but_answered,
    dropped,
    repeated,
    shortened,
    stalled,
)

SEED = 20261126
PHOTOS = 3
FAULTY = 0.25  # share of all calls that meet a fault
BROKEN = b'{"type": "about:blank", "status": 500, "title": "Broken"}'
PORTAL = b"<!doctype html><title>Guest network</title>"


def faults(chance: random.Random) -> Act:
    """All that a link or a server does wrong; what takes long is rare."""
    often: list[Act] = [
        dropped,
        answer_lost,
        cut_at(0),
        cut_at(1),
        cut_at(0.5),
        cut_at(-1),
        shortened(0.5),
        answer_cut(0.5),
        repeated(2),
        done_but_answered("500 Broken", BROKEN, Content_Type="application/problem+json"),
        answered("503 Busy", BROKEN, Content_Type="application/problem+json"),
        answered("200 OK", PORTAL, Content_Type="text/html"),
        answered("200 OK"),
        answered("302 Found", Location="/accounts/login/"),
    ]
    return any_of(chance, *often * 3, stalled)


def corrected(one: Phone, first: Sealed) -> Sealed:
    """The same order with another length, whatever became of the first one so far."""
    again = {"reference": first.reference, "order": first.order, "visit": first.visit, "parent": first.sha256}
    return one.seal(same_photos_as=first.photos, length="15 3/4", **again)


def disturb(one: Phone, chance: random.Random) -> None:
    """What a person or the phone's system may do at any time."""
    what = chance.random()
    if what < 0.25:
        one.page.reload()
        one.page.wait_for_selector("main[data-view]")
    elif what < 0.5:
        one.page.context.set_offline(True)
        one.wake()
        one.page.context.set_offline(False)
    one.wake()


def is_true_so_far(one: Phone, server: Server) -> None:
    """What the phone calls received, the server has, with each photo that it names."""
    for seal in one.records("seal/"):
        if seal["state"] == "received":
            assert server.ask("select 1 from capture_seal where sha256 = ?", seal["sha256"]) == [(1,)]
            for photo in seal["photos"]:
                assert server.ask("select state from capture_photo where sha256 = ?", photo["sha256"]) == [
                    ("kept",)
                ]


def received_on(one: Phone) -> int:
    return sum(seal["state"] == "received" for seal in one.records("seal/"))


def gets_on(one: Phone, upto: int) -> None:
    """Waits until so many are received, for as long as it gets on."""
    while (here := received_on(one)) < upto:
        one.sees(lambda here=here: received_on(one) > here, f"no more than {here} of {upto} get through")


@pytest.mark.parametrize(
    "entries",
    [3, pytest.param(100, marks=[pytest.mark.long, pytest.mark.timeout(3600)])],
)
def test_each_entry_and_each_photo_arrives_once_whatever_happens(phone, proxy, server, all_there, entries):
    print(f"seed {SEED}, {entries} entries with {PHOTOS} photos each")  # shown when it fails
    chance = random.Random(SEED)
    one = phone()
    proxy.when("*", "/api/", faults(chance), chance=FAULTY)
    photos_before = server.ask("select count(*) from capture_photo")[0][0]
    sealed: list[Sealed] = []
    for number in range(entries):
        sealed.append(one.seal(photos=PHOTOS))
        if number % 10 == 1:
            sealed.append(corrected(one, sealed[-1]))
        disturb(one, chance)
        if number % 10 == 0:
            is_true_so_far(one, server)
    gets_on(one, len(sealed) // 2)
    is_true_so_far(one, server)

    proxy.mend()
    one.wake()
    gets_on(one, len(sealed))

    one.visits()
    last = {each.order: each for each in sealed}
    for each in last.values():
        one.shows(each, "received")
    assert {seal["sha256"] for seal in one.records("seal/")} == {each.sha256 for each in sealed}
    is_true_so_far(one, server)
    all_there(*sealed)
    orders = {order.replace("-", "") for order in last}
    made = [order for (order,) in server.ask("select id from orders_order") if order in orders]
    assert len(made) == entries
    assert server.ask("select count(*) from capture_photo")[0][0] - photos_before == entries * PHOTOS
