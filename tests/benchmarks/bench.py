"""The workshop's bench with 100 orders and with 100,000, on SQLite and on PostgreSQL.

Each database is filled in a process of its own, which prints how long each page takes before and after. Half of the
few orders have been shipped, nineteen in twenty of the many, as on a bench that has run for years. Those that no page
shows hold their flags and nothing else of a result: rows and indexes are measured, not the disk.
"""

import json
import os
import subprocess
import sys
import tempfile
import uuid
from collections.abc import Iterator
from contextlib import nullcontext
from datetime import timedelta
from pathlib import Path

from tests.benchmarks.timing import Figure, typical_ms
from tests.races import postgres

ROOT = Path(__file__).resolve().parents[2]
FEW, MANY, BATCH = 100, 100_000, 5_000
MOST = (
    2.0  # times as long; a queue that is looked through from its start would take hundreds of times as long
)
PAGES = {
    "the bench": "/bench/",
    "what was shipped": "/bench/?show=shipped",
    "with a reason": "/bench/?show=reason",
    "asking whether anything moved": "/bench/",
}
SEARCH = {"one reference looked for": "/bench/?find=B-000050"}


def figures() -> Iterator[Figure]:
    """Each page with many orders against the same page with few."""
    for database in ("sqlite", "postgresql"):
        with postgres.cluster() if database == "postgresql" else nullcontext("") as address:
            few, many = filled_and_timed(address)
        for page in few:
            told = f"{page} on {database}, {many[page]:.0f} ms with {MANY} orders against {few[page]:.0f} ms with {FEW}"
            yield Figure(told, many[page] / few[page], "×", MOST if page not in SEARCH else None)


def filled_and_timed(address: str) -> tuple[dict[str, float], dict[str, float]]:
    """Milliseconds of each page with few and with many orders, on the database at an address ("" for SQLite)."""
    with tempfile.TemporaryDirectory() as var:
        surroundings = {
            **os.environ,
            "DJANGO_SETTINGS_MODULE": "project.settings",
            "SHANKLINE_DEMO": "1",
            "SHANKLINE_VAR": var,
            "SHANKLINE_DATABASE": address,
        }
        command = [sys.executable, "-m", "tests.benchmarks.bench"]
        done = subprocess.run(command, cwd=ROOT, env=surroundings, capture_output=True, text=True, check=True)
    few, many = json.loads(done.stdout)
    return few, many


def main() -> None:
    """Fills the database that the surroundings name, and prints what the pages take."""
    import django

    django.setup()
    from django.core.management import call_command

    from tests import factories

    call_command("migrate", verbosity=0)
    call_command("createcachetable", verbosity=0)
    sender = factories.member("clinician", factories.clinic())
    maker = factories.member("fabricator", factories.workshop())
    pattern = factories.order(sender, maker.organisation)
    fill(pattern, maker, range(1, FEW))
    few = timed(maker)
    for first in range(FEW, MANY, BATCH):
        fill(pattern, maker, range(first, min(first + BATCH, MANY)))
    settle()
    json.dump([few, timed(maker)], sys.stdout)


def settle() -> None:
    """Lets the database count what it holds now, as it does by itself in time."""
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")


def timed(maker) -> dict[str, float]:
    """Each page's time as a rule. [ms]"""
    from django.test import Client

    client = Client()
    client.force_login(maker.user)
    took = {}
    for page, address in {**PAGES, **SEARCH}.items():
        asked = {"HX-Request": "true"} if page.startswith("asking") else {}

        def ask(address=address, asked=asked) -> None:
            tag = (
                {"If-None-Match": client.get(address)["ETag"]}
                if asked and not asked.get("If-None-Match")
                else {}
            )
            asked.update(tag)
            answer = client.get(address, headers=asked)
            if answer.status_code != (304 if asked else 200):
                raise AssertionError(f"{address} answered {answer.status_code}")

        took[page] = typical_ms(ask, 9)
    return took


def fill(pattern, maker, numbers: range) -> None:
    """Orders like the pattern, each with a person, a visit, a seal, a revision, an event and a look."""
    from django.utils import timezone

    from capture.models import Person, Seal, Visit
    from orders.finding import parts_of
    from orders.models import Event, Look, Order, ReferencePart, Revision

    now, first = timezone.now(), pattern.current
    bare = [{"flags": result["flags"]} for result in first.results]
    people, visits, orders, seals, events, looks = [], [], [], [], [], []
    for number in numbers:
        shipped = number % (2 if number < FEW else 20)
        person = Person(clinic=pattern.clinic, reference=f"B-{number:06d}", initials="B. B.")
        visit, order_id = Visit(person=person), uuid.uuid4()
        states = ("sent", "queried", "confirmed", "in_making", "made")
        order = Order(
            id=order_id,
            clinic=pattern.clinic,
            workshop=pattern.workshop,
            person=person,
            visit=visit,
            state="shipped" if shipped else states[number % 5],
            revision_number=1,
            need_by=now.date() + timedelta(days=number % 40 - (400 if shipped else 0)),
            reasons=number < FEW or number % 7 == 0,
            moved_at=now - timedelta(minutes=number),
        )
        seals.append(Seal(order_id=order_id, sha256=uuid.uuid4().hex * 2, raw=b"{}", clinic=pattern.clinic))
        sha256 = uuid.uuid4().hex * 2
        events.append(Event(order_id=order_id, what="send", at=now, previous="0" * 64, sha256=sha256))
        looks.append(
            Look(order_id=order_id, member_id=maker.id, organisation_id=maker.organisation_id, at=now)
        )
        people.append(person), visits.append(visit), orders.append(order)
    for model, rows in ((Person, people), (Visit, visits), (Order, orders), (Seal, seals)):
        model.objects.bulk_create(rows, batch_size=500)
    recent = now.date() - timedelta(days=363)
    shown = {order for order in orders if numbers.start < FEW or order.need_by > recent}
    kept = {seal.order_id: seal for seal in seals}
    Revision.objects.bulk_create(
        (
            Revision(
                order=order,
                number=1,
                seal=kept[order.id],
                entries=first.entries,
                results=first.results if order.state != "shipped" or order in shown else bare,
                catalogue=first.catalogue,
                book_sha256=first.book_sha256,
                engine_version=first.engine_version,
            )
            for order in orders
        ),
        batch_size=200,
    )
    ReferencePart.objects.bulk_create(
        (
            ReferencePart(order=order, clinic=order.clinic, workshop=order.workshop, part=part.encode())
            for order in orders
            for part in parts_of(order.person.reference)
        ),
        batch_size=500,
    )
    Event.objects.bulk_create(events, batch_size=500)
    Look.objects.bulk_create(looks, batch_size=500)


if __name__ == "__main__":
    main()
