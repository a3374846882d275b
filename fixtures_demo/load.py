"""Loads the demo's own world through the same doors that people use. Loading it twice changes nothing."""

import json
import uuid
from datetime import datetime, time, timedelta
from pathlib import Path

from django.utils import timezone
from orders.rulebook.book import load_book

from capture import services, sync
from capture.seal import sha256_of
from fixtures_demo import world
from orders import moves
from orders.models import Catalogue, Order
from project.models import Member, Organisation, User

HERE = Path(__file__).resolve().parent
NAMESPACE = uuid.uuid5(uuid.NAMESPACE_DNS, "demo.shankline.example")


def load() -> None:
    """Organisations, catalogues, members, planned visits, orders."""
    for name, details in world.CLINICS.items():
        Organisation.objects.get_or_create(
            name=name, defaults={"id": known(name), "kind": "clinic", **details}
        )
    for name, file in world.WORKSHOPS.items():
        load_workshop(name, file)
    for mail, name, initials, role, organisation in world.MEMBERS:
        load_member(mail, name, initials, role, organisation)
    for mail, reference, initials, days, hour in world.PLANNED:
        when = timezone.make_aware(datetime.combine(timezone.localdate() + timedelta(days=days), time(hour)))
        member = Member.objects.get(user__email=mail)
        services.plan_visit(member, known(f"visit {reference}"), reference, initials, when)
    for order in world.ORDERS:
        load_order(order)


def known(name: str) -> uuid.UUID:
    """The same id for the same thing at every loading."""
    return uuid.uuid5(NAMESPACE, name)


def load_workshop(name: str, file: str) -> None:
    """A workshop with its catalogue; one that has changed since the last loading becomes the next version."""
    workshop, _made = Organisation.objects.get_or_create(
        name=name, defaults={"id": known(name), "kind": "workshop"}
    )
    content = json.loads((HERE / "catalogues" / f"{file}.json").read_text())
    newest = workshop.catalogues.order_by("-version").first()
    if newest is None or newest.content != content:
        Catalogue.objects.create(
            workshop=workshop, version=newest.version + 1 if newest else 1, content=content
        )


def load_member(mail: str, name: str, initials: str, role: str, organisation: str) -> None:
    """A user with the demo's password, as member of one organisation."""
    if User.objects.filter(email=mail).exists():
        return
    user = User.objects.create_user(mail, world.PASSWORD, first_name=name)
    place = Organisation.objects.get(name=organisation)
    Member.objects.create(id=known(mail), user=user, organisation=place, role=role, initials=initials)


def load_order(wanted: world.DemoOrder) -> None:
    """An order, sealed as a phone would seal it and taken in as from a phone."""
    order_id = known(f"order {wanted.reference}")
    if Order.objects.filter(id=order_id).exists():
        return
    member = Member.objects.get(user__email=wanted.by)
    entry = json.loads((HERE / "entries" / f"{wanted.entry}.json").read_text())
    raw = json.dumps(seal_content(order_id, wanted, entry), ensure_ascii=False).encode()
    receipt = sync.take_seal(member, order_id, sha256_of(raw), raw)
    if receipt["outcome"] != "ordered":
        raise ValueError(f"the demo's order {wanted.reference} was not taken: {receipt['says']}")
    if wanted.confirmed_by:
        fabricator = Member.objects.get(user__email=wanted.confirmed_by)
        moves.confirm(Order.objects.get(id=order_id), receipt["sha256"], fabricator)


def seal_content(order_id: uuid.UUID, wanted: world.DemoOrder, entry: dict) -> dict:
    """The seal of a demo order."""
    return {
        "schema": "shankline-seal-1",
        "id": str(order_id),
        "parent_sha256": None,
        "visit": {
            "id": str(known(f"visit {wanted.reference}")),
            "reference": wanted.reference,
            "initials": wanted.initials,
        },
        "workshop": str(known(wanted.workshop)),
        "catalogue_version": newest_version(known(wanted.workshop)),
        "book_sha256": load_book().sha256,
        "sheet_build": "demo",
        "need_by": (timezone.localdate() + timedelta(days=wanted.days_left)).isoformat(),
        "deliver_to": None,
        "entries": [{**entry, "reference": wanted.reference}],
        "photos": [],
    }


def newest_version(workshop_id: uuid.UUID) -> int:
    """The version of the workshop's catalogue that a phone would have now."""
    return Catalogue.objects.filter(workshop_id=workshop_id).latest("version").version
