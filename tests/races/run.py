"""Races, run as a program of its own on the database that the surroundings name. Prints what came of them as JSON.

Each race starts its threads at a barrier; each thread has a connection of its own.
"""

import json
import os
import sys
import threading
import uuid
from collections.abc import Callable

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "project.settings")

import django

django.setup()

from django.core.files.storage import default_storage
from django.core.management import call_command
from django.db import connection

from capture import sync
from orders import moves
from orders.documents import store
from orders.documents.kinds import NAMED
from orders.models import Document, Event, Mail, Order, Revision, Rival
from orders.models.event import chain_breaks
from project.models import Member
from tests import factories


def at_once(count: int, act: Callable[[int], object]) -> list[str]:
    """What `act` gave or raised in each of `count` threads that start together."""
    gate, answers = threading.Barrier(count), [""] * count

    def one(number: int) -> None:
        gate.wait()
        try:
            answers[number] = str(act(number))
        except Exception as error:
            answers[number] = type(error).__name__
        finally:
            connection.close()

    threads = [threading.Thread(target=one, args=(number,)) for number in range(count)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return answers


def people() -> tuple[Member, Member]:
    return factories.member("clinician", factories.clinic()), factories.member(
        "fabricator", factories.workshop()
    )


def confirm_twenty_times() -> dict:
    clinician, fabricator = people()
    order = factories.order(clinician, fabricator.organisation)
    sha256 = order.current.seal.sha256

    def confirm(_number: int) -> str:
        moves.confirm(Order.objects.get(id=order.id), sha256, fabricator)
        return "confirmed"

    return {
        "answers": sorted(at_once(20, confirm)),
        "events": Event.objects.filter(order_id=order.id, what="confirm").count(),
        "mails": Mail.objects.filter(order=order, what="confirm").count(),
    }


def send_one_seal_eight_times() -> dict:
    clinician, fabricator = people()
    order_id = uuid.uuid4()
    raw = factories.seal(fabricator.organisation, order_id=order_id)

    def send(_number: int) -> str:
        return json.dumps(sync.take_seal(clinician, order_id, factories.hash_of(raw), raw)["order"])

    return {
        "answers": sorted(set(at_once(8, send))),
        "revisions": Revision.objects.filter(order_id=order_id).count(),
        "events": Event.objects.filter(order_id=order_id).count(),
    }


def send_two_seals_with_one_parent() -> dict:
    clinician, fabricator = people()
    order = factories.order(clinician, fabricator.organisation)
    parent = order.current.seal.sha256
    raws = [
        factories.seal(
            fabricator.organisation,
            factories.entry(length=[length], second_route=None),
            order_id=order.id,
            parent=parent,
            visit_id=order.visit_id,
        )
        for length in ("15 3/4", "15 7/8")
    ]

    def send(number: int) -> str:
        raw = raws[number]
        return sync.take_seal(clinician, order.id, factories.hash_of(raw), raw)["outcome"]

    answers = sorted(at_once(2, send))
    order.refresh_from_db()
    return {
        "answers": answers,
        "revisions": order.revisions.count(),
        "rivals": Rival.objects.filter(order=order).count(),
        "contested": order.contested,
    }


def correct_and_confirm_at_once() -> dict:
    """Whoever is first: the confirmed revision is the one that was named, never another."""
    wrong, outcomes = 0, set()
    for _round in range(10):
        clinician, fabricator = people()
        order = factories.order(clinician, fabricator.organisation)
        named = order.current.seal.sha256

        def both(number: int, order=order, named=named, clinician=clinician, fabricator=fabricator) -> str:
            if number:
                longer = factories.entry(length=["15 3/4"], second_route=None)
                return factories.correction(order, clinician, longer)["outcome"]
            moves.confirm(Order.objects.get(id=order.id), named, fabricator)
            return "confirmed"

        outcomes.add(tuple(at_once(2, both)))
        now = Order.objects.get(id=order.id)
        wrong += now.state == "confirmed" and now.current.seal.sha256 != named
    return {"wrong": wrong, "outcomes": sorted(outcomes)}


def send_a_seal_while_its_photos_come() -> dict:
    """Whichever comes last, the seal or one of its photos: one order comes into being, and at most one."""
    made, events, rivals = [], [], 0
    for _round in range(8):
        clinician, fabricator = people()
        order_id, hashes = uuid.uuid4(), ["1" * 64, "2" * 64]
        named = [factories.named_photo(sha256) for sha256 in hashes]
        raw = factories.seal(fabricator.organisation, order_id=order_id, photos=named)

        def both(number: int, order_id=order_id, raw=raw, hashes=hashes, clinician=clinician) -> str:
            if number:
                return factories.photo(clinician, hashes[number - 1]).state
            return sync.take_seal(clinician, order_id, factories.hash_of(raw), raw)["outcome"]

        at_once(3, both)
        made.append(Revision.objects.filter(order_id=order_id).count())
        events.append(Event.objects.filter(order_id=order_id).count())
        rivals += Rival.objects.filter(order_id=order_id).count()
    return {"revisions": sorted(set(made)), "events": sorted(set(events)), "rivals": rivals}


def make_documents_eight_times() -> dict:
    """A document asked for by eight at once: one is kept, everybody is given that one, no bytes are left over."""
    clinician, fabricator = people()
    order = factories.order(clinician, fabricator.organisation)
    moves.confirm(order, order.current.seal.sha256, fabricator)

    def ask(number: int) -> str:
        kind, side = NAMED["work-order-a4.pdf" if number % 2 else "left-outline.dxf"]
        found = Order.objects.get(id=order.id)
        return store.document_of(found, found.current, kind, side).sha256

    answers = at_once(8, ask)
    made = list(Document.objects.filter(revision__order=order))
    folders, _files = default_storage.listdir("documents")
    stored = {
        f"documents/{folder}/{name}"
        for folder in folders
        for name in default_storage.listdir(f"documents/{folder}")[1]
    }
    return {
        "made": len(made),
        "answered": sorted(set(answers)) == sorted(document.sha256 for document in made),
        "stored": stored == {document.stored for document in made},
    }


if __name__ == "__main__":
    call_command("migrate", verbosity=0)
    came = {
        race.__name__: race()
        for race in (
            confirm_twenty_times,
            send_one_seal_eight_times,
            send_two_seals_with_one_parent,
            correct_and_confirm_at_once,
            send_a_seal_while_its_photos_come,
            make_documents_eight_times,
        )
    }
    came["chain_breaks"] = chain_breaks()
    came["database"] = connection.vendor
    json.dump(came, sys.stdout)
