"""Loads the demo's own world through the same doors that people use. Loading it twice changes nothing."""

import json
import uuid
from datetime import datetime, time, timedelta
from pathlib import Path

from django.utils import timezone

from capture import services, sync
from capture.models import ComponentCard
from capture.photos.uploads import keep_whole
from capture.seal import sha256_of
from fixtures_demo import world
from fixtures_demo.pictures import measured_by_paper, photo
from orders import handout, moves
from orders.changes import Shell, shells_of
from orders.inspection import limits_of
from orders.making_forms import InspectionForm
from orders.models import Catalogue, Inspection, Order, StageDone
from orders.models.event import note_look
from orders.rulebook.book import load_book
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
    for clinic, reference, initials, days, hour in world.PLANNED:
        when = timezone.make_aware(datetime.combine(timezone.localdate() + timedelta(days=days), time(hour)))
        services.plan_visit(sender_of(clinic), known(f"visit {reference}"), reference, initials, when)
    for clinic, kind, label, allows_shell, holds in world.CARDS:
        load_card(sender_of(clinic), kind, label, allows_shell, holds)
    for order in world.ORDERS:
        load_order(order)


def known(name: str) -> uuid.UUID:
    """The same id for the same thing at every loading."""
    return uuid.uuid5(NAMESPACE, name)


def sender_of(clinic: str) -> Member:
    """The clinic's clinician."""
    return Member.objects.select_related("organisation").get(user__email=world.SENDER[clinic])


def load_workshop(name: str, file: str) -> None:
    """A workshop with its catalogue; one that has changed since the last loading becomes the next version."""
    workshop, _made = Organisation.objects.get_or_create(
        name=name, defaults={"id": known(name), "kind": "workshop"}
    )
    content = json.loads((HERE / "catalogues" / f"{file}.json").read_text())
    newest = workshop.catalogues.order_by("-version").first()
    if newest is None or newest.content != content:
        version = newest.version + 1 if newest else 1
        Catalogue.objects.create(workshop=workshop, version=version, content=content)


def load_member(mail: str, name: str, initials: str, role: str, organisation: str) -> None:
    """A user with the demo's password, as member of one organisation."""
    if User.objects.filter(email=mail).exists():
        return
    user = User.objects.create_user(mail, world.PASSWORD, first_name=name)
    place = Organisation.objects.get(name=organisation)
    Member.objects.create(id=known(mail), user=user, organisation=place, role=role, initials=initials)


def load_card(member: Member, kind: str, label: str, allows_shell: str, holds: dict) -> None:
    """A component card; one that was changed or retired since stays as it is."""
    if not ComponentCard.objects.filter(clinic_id=member.organisation_id, kind=kind, label=label).exists():
        services.keep_card(member, None, kind, label, allows_shell, holds)


def load_order(wanted: world.DemoOrder) -> None:
    """An order, sealed as a phone would seal it and taken in as from a phone, with everything that came of it."""
    order_id = known(f"order {wanted.reference}")
    if Order.objects.filter(id=order_id).exists():
        return
    member = sender_of(wanted.clinic)
    entries = [entry_of(file) for file in wanted.entries]
    photos = [sent_photo(member, wanted, entries[0], view) for view in wanted.photos]
    send(member, wanted, entries, photos, parent=None)
    if wanted.seen or wanted.queries or wanted.confirmed:
        note_look(Order.objects.get(id=order_id), maker_of(wanted))
    for query in wanted.queries:
        ask_and_reply(member, wanted, query, photos)
    if wanted.rival:
        send_two_versions(member, wanted, entries, photos)
    settle(member, wanted, Order.objects.get(id=order_id))


def entry_of(file: str) -> dict:
    """An entry from entries/."""
    return json.loads((HERE / "entries" / f"{file}.json").read_text())


def sent_photo(member: Member, wanted: world.DemoOrder, entry: dict, view: str) -> dict:
    """A drawn photo, taken in as from a phone; how the seal names it."""
    by_paper_mm = wanted.by_paper_mm if view == "side" else 0
    raw = photo(
        wanted.reference,
        view,
        side=entry["side"],
        length_mm=by_paper_mm or 420,
        paper=bool(by_paper_mm),
        several_pins=entry["knee"]["pivots_seen"] == "several",
        high_foot=entry["foot"]["profile"] == "high",
    )
    keep_whole(member, raw)
    named = {"sha256": sha256_of(raw), "bytes": len(raw), "view": view, "entry": 0}
    if by_paper_mm:
        named["measured"] = measured_by_paper(entry["side"], by_paper_mm)
    return named


def send(
    member: Member, wanted: world.DemoOrder, entries: list, photos: list, parent: str | None, **more
) -> dict:
    """The receipt for a seal of this order."""
    order_id = known(f"order {wanted.reference}")
    content = {
        "schema": "shankline-seal-1",
        "id": str(order_id),
        "parent_sha256": parent,
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
        "entries": [{**entry, "reference": wanted.reference} for entry in entries],
        "photos": photos,
        **more,
    }
    raw = json.dumps(content, ensure_ascii=False).encode()
    receipt = sync.take_seal(member, order_id, sha256_of(raw), raw)
    if receipt["outcome"] != "ordered" and not wanted.rival:
        raise ValueError(f"the demo's order {wanted.reference} was not taken: {receipt['says']}")
    return receipt


def ask_and_reply(member: Member, wanted: world.DemoOrder, query: world.Query, photos: list) -> None:
    """The workshop's question and, where there is one, the reply with its new revision. Each has looked before."""
    order = Order.objects.get(id=known(f"order {wanted.reference}"))
    current = order.current
    side = current.entries[0]["side"]
    asked = moves.query(order, maker_of(wanted), current, side, query.field, query.text)
    if query.reply:
        note_look(order, member)
        replies = [{"query": str(asked.id), "says": query.reply}]
        send(member, wanted, [entry_of(query.entry)], photos, current.seal.sha256, replies=replies)


def send_two_versions(member: Member, wanted: world.DemoOrder, entries: list, photos: list) -> None:
    """Two corrections made from one revision, as from two phones: the clinic must pick."""
    parent = Order.objects.get(id=known(f"order {wanted.reference}")).current.seal.sha256
    changed = [{**entries[0], "girth": ["381", "380"]}]
    send(member, wanted, changed, photos, parent)
    send(member, wanted, [entry_of(wanted.rival)], photos, parent)


def settle(member: Member, wanted: world.DemoOrder, order: Order) -> None:
    """Confirmed, handed out or cancelled, as the demo has it."""
    if wanted.confirmed:
        moves.confirm(order, order.current.seal.sha256, maker_of(wanted))
    if wanted.handout:
        note_look(order, member)
        handout.make(order, member)
    if wanted.stages:
        make(wanted, order)
    if wanted.cancelled:
        moves.cancel(order, member)


def make(wanted: world.DemoOrder, order: Order) -> None:
    """In making, measured and shipped, as far as the demo has it."""
    maker = maker_of(wanted)
    moves.start(order, maker)
    for shell in shells_of(order.current):
        for stage in StageDone.Stage.values[: wanted.stages]:
            moves.mark_stage(order, maker, shell.side, stage, done=True)
        if wanted.off_mm:
            moves.inspect(order, maker, measured(wanted, shell))
    if wanted.shipped:
        moves.ship(order, maker, *wanted.shipped)


def measured(wanted: world.DemoOrder, shell: Shell) -> Inspection:
    """A shell measured as the workshop would, so far off what was ordered."""
    limits = limits_of(shell)
    typed: dict = {"side": shell.side, f"{shell.side}-unit": "mm"}
    for key, off in zip(limits, wanted.off_mm, strict=True):
        made = round((limits[key].ordered_mm + off) * 2) / 2
        typed |= {f"{shell.side}-{key}_{number}": f"{made:g}" for number in (0, 1)}
    typed[f"{shell.side}-mass"] = f"{shell.result['mass_g'] * 1.04:.0f}"
    typed[f"{shell.side}-decision"] = "accepted" if wanted.accepted else ""
    typed[f"{shell.side}-reason"] = wanted.accepted
    form = InspectionForm(typed, shell=shell)
    if not form.is_valid():
        raise ValueError(f"the demo's shell {wanted.reference} was not taken: {form.errors}")
    return form.inspection(1)


def maker_of(wanted: world.DemoOrder) -> Member:
    """The workshop's fabricator."""
    return Member.objects.select_related("organisation").get(user__email=world.MAKER[wanted.workshop])


def newest_version(workshop_id: uuid.UUID) -> int:
    """The version of the workshop's catalogue that a phone would have now."""
    return Catalogue.objects.filter(workshop_id=workshop_id).latest("version").version
