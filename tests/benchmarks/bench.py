"""The workshop's bench and the clinic's list with 100 orders and with 100,000, on SQLite and on PostgreSQL.

Each of the four databases is filled and asked by a process of its own. The two of a kind then take turns, page by page,
so that whatever else the machine does slows both. Half of the few orders have been shipped, nineteen in twenty of the
many, as on a bench that has run for years; of what was sent the workshop has opened most. Those that no page shows
hold their flags and nothing else of a result: rows and indexes are measured, not the disk.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
import uuid
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, nullcontext
from datetime import timedelta
from pathlib import Path

from tests.benchmarks.timing import Figure, seconds
from tests.races import postgres

ROOT = Path(__file__).resolve().parents[2]
FEW, MANY, BATCH, ROUNDS = 100, 100_000, 5_000, 15
SHOWN = 2_000  # of what was shipped, the newest so many may be on a page
MOST = (
    1.5  # times as long; a queue that is looked through from its start would take hundreds of times as long
)
PAGES = {
    "the bench": "/bench/",
    "by age": "/bench/?by=age",
    "by flags": "/bench/?by=flags",
    "what was shipped": "/bench/?show=shipped",
    "with a reason": "/bench/?show=reason",
    "one reference looked for": "/bench/?find=B-000050",
    "asking whether anything moved": "/bench/",
    "the clinic's list": "/orders/",
    "what went to the clinic": "/orders/?show=shipped",
    "what the clinic sent and is opened": "/orders/?show=opened",
    "what the clinic sent and isn't opened": "/orders/?show=not-opened",
}
# Of the few orders these show half, a fifth and a tenth as many rows, and a row costs more than finding it.
FULLER = {
    "the clinic's list": 3,
    "what the clinic sent and is opened": 4,
    "what the clinic sent and isn't opened": 4,
}


def figures() -> Iterator[Figure]:
    """Each page with many orders against the same page with few."""
    for database in ("sqlite", "postgresql"):
        with postgres.cluster() if database == "postgresql" else nullcontext("") as address:
            yield from compared(database, address)


def compared(database: str, address: str) -> Iterator[Figure]:
    """The figures of one kind of database: the cluster's address, or "" for SQLite."""
    with ExitStack() as stack:
        few, many = (stack.enter_context(asked(count, address)) for count in (FEW, MANY))
        for page in PAGES:
            pairs = [(few(page), many(page)) for _round in range(ROUNDS + 1)][1:]  # the first warms up
            ms = [statistics.median(times) for times in zip(*pairs, strict=True)]
            told = (
                f"{page} on {database}, {ms[1]:.0f} ms with {MANY} orders against {ms[0]:.0f} ms with {FEW}"
            )
            ratio = statistics.median(many / few for few, many in pairs)
            yield Figure(told, ratio, "×", FULLER.get(page, MOST))


@contextmanager
def asked(count: int, cluster: str) -> Iterator[Callable[[str], float]]:
    """A database with so many orders; what asks for one of its pages, by name, and gives the milliseconds it took."""
    with tempfile.TemporaryDirectory() as var:
        surroundings = {
            **os.environ,
            "DJANGO_SETTINGS_MODULE": "project.settings",
            "SHANKLINE_DEMO": "1",
            "SHANKLINE_VAR": var,
            "SHANKLINE_DATABASE": database_of(cluster, f"with_{count}") if cluster else "",
        }
        command = [sys.executable, "-m", "tests.benchmarks.bench", str(count)]
        pipes = {"stdin": subprocess.PIPE, "stdout": subprocess.PIPE, "text": True}
        with subprocess.Popen(command, cwd=ROOT, env=surroundings, **pipes) as process:

            def ask(page: str) -> float:
                print(page, file=process.stdin, flush=True)
                return float(process.stdout.readline())

            yield ask
            process.stdin.close()


def database_of(cluster: str, name: str) -> str:
    """The address of a new database in the cluster."""
    import psycopg

    with psycopg.connect(cluster, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
    return f"{cluster.rpartition('/')[0]}/{name}"


def main(count: int) -> None:
    """Fills the database that the surroundings name, then times each page whose name is read."""
    import django

    django.setup()
    from django.core.management import call_command

    from tests import factories

    call_command("migrate", verbosity=0)
    call_command("createcachetable", verbosity=0)
    sender = factories.member("clinician", factories.clinic())
    maker = factories.member("fabricator", factories.workshop())
    pattern = factories.order(sender, maker.organisation)
    for first in range(1, count, BATCH):
        fill(pattern, maker, range(first, min(first + BATCH, count)), shipped_of=2 if count == FEW else 20)
    settle()
    pages = pages_of(maker, sender)
    for line in sys.stdin:
        print(seconds(pages[line.strip()]) * 1000, flush=True)


def settle() -> None:
    """Lets the database count what it holds now, as it does by itself in time."""
    from django.db import connection

    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")


def pages_of(maker, sender) -> dict[str, Callable[[], None]]:
    """What asks for each page, as a browser of whoever it is for does."""
    from django.test import Client

    bench, clinics = Client(), Client()
    bench.force_login(maker.user)
    clinics.force_login(sender.user)

    def asking(address: str, headers: Callable[[], dict], status: int) -> Callable[[], None]:
        client = clinics if address.startswith("/orders/") else bench

        def ask() -> None:
            answer = client.get(address, headers=headers())
            if answer.status_code != status:
                raise AssertionError(f"{address} answered {answer.status_code}")

        return ask

    tags = {}

    def with_tag() -> dict:
        """As an open page asks; the tag is another one every five minutes."""
        minute = int(time.time()) // 60
        if minute not in tags:
            tags[minute] = bench.get("/bench/")["ETag"]
        return {"HX-Request": "true", "If-None-Match": tags[minute]}

    pages = {page: asking(address, dict, 200) for page, address in PAGES.items()}
    return pages | {"asking whether anything moved": asking("/bench/", with_tag, 304)}


def fill(pattern, maker, numbers: range, shipped_of: int) -> None:
    """Orders like the pattern, each with a person, a visit, a seal, a revision, an event and a look."""
    from django.utils import timezone

    from capture.models import Person, Seal, Visit
    from orders.finding import parts_of
    from orders.models import Event, Look, Order, ReferencePart, Revision

    now, first = timezone.now(), pattern.current
    bare = [{"flags": result["flags"]} for result in first.results]
    people, visits, orders, seals, events, looks = [], [], [], [], [], []
    for number in numbers:
        shipped = number % shipped_of
        person = Person(clinic=pattern.clinic, reference=f"B-{number:06d}", initials="B. B.")
        visit, order_id = Visit(person=person), uuid.uuid4()
        is_opened = number // shipped_of % 10 != 0
        states = ("sent", "queried", "confirmed", "in_making", "made")
        order = Order(
            id=order_id,
            clinic=pattern.clinic,
            workshop=pattern.workshop,
            person=person,
            visit=visit,
            state="shipped" if shipped else states[number // shipped_of % 5],
            revision_number=1,
            need_by=now.date() + timedelta(days=number % 40 - (400 if shipped else 0)),
            reasons=number % 3,
            opened=is_opened,
            moved_at=now - timedelta(minutes=number),
        )
        seals.append(Seal(order_id=order_id, sha256=uuid.uuid4().hex * 2, raw=b"{}", clinic=pattern.clinic))
        sha256 = uuid.uuid4().hex * 2
        events.append(Event(order_id=order_id, what="send", at=now, previous="0" * 64, sha256=sha256))
        opened = now + timedelta(hours=1 if is_opened else -1)  # after it was sent, or before
        looks.append(
            Look(order_id=order_id, member_id=maker.id, organisation_id=maker.organisation_id, at=opened)
        )
        people.append(person), visits.append(visit), orders.append(order)
    for model, rows in ((Person, people), (Visit, visits), (Order, orders), (Seal, seals)):
        model.objects.bulk_create(rows, batch_size=500)
    shown = {order for order, number in zip(orders, numbers, strict=True) if number < SHOWN}
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
    main(int(sys.argv[1]))
