"""Things for tests, made the way the site makes them, with no surprises."""

import hashlib
import itertools
import json
import uuid
from datetime import timedelta
from pathlib import Path

from django.utils import timezone

from capture import photo_access, sync
from capture.models import ComponentCard, Photo
from orders.models import Catalogue, Order
from orders.rulebook.book import load_book
from project.models import Member, Organisation, User

CATALOGUES = Path(__file__).resolve().parent.parent / "fixtures_demo" / "catalogues"
_count = itertools.count(1)


def clinic(name: str = "") -> Organisation:
    """A clinic."""
    return Organisation.objects.create(kind="clinic", name=name or f"Clinic {next(_count)}")


def workshop(name: str = "", catalogue: str = "tarn-street-moulding-room") -> Organisation:
    """A workshop with one of the demo's catalogues, as version 1."""
    made = Organisation.objects.create(kind="workshop", name=name or f"Workshop {next(_count)}")
    content = json.loads((CATALOGUES / f"{catalogue}.json").read_text())
    Catalogue.objects.create(workshop=made, version=1, content=content)
    return made


def member(role: str, organisation: Organisation) -> Member:
    """A member who signs in with a mail address of their own."""
    user = User.objects.create_user(f"member{next(_count)}@example.org")
    return Member.objects.create(user=user, organisation=organisation, role=role, initials="T. M.")


def entry(**changes) -> dict:
    """The plain case of the worked ones (15 1/2 in, solid ankle, low foot, one pin) with some keys changed.

    `knee`, `foot`, `shell` and `answers` are merged, the rest is replaced.
    """
    plain = {
        "schema": "shankline-entry-1",
        "reference": "T-0001",
        "side": "left",
        "units": "in",
        "level": "transfemoral",
        "other_leg": "sound",
        "construction": "bare",
        "taken": "standing",
        "footwear": "low",
        "length": ["15 1/2"],
        "second_route": {"apex_to_floor": "19 1/4", "rim_to_floor": "3 3/4"},
        "girth": ["14 3/4", "14 3/4"],
        "girth_from": "sound_limb",
        "knee": {"named": "single_axis", "pivots_seen": "one", "control": "mechanical"},
        "foot": {"profile": "low", "ankle": "solid"},
        "shell": {"wall": "thin", "rear": "short", "top": "plain", "colour": "slate", "finish": "matt"},
    }
    for key, value in changes.items():
        plain[key] = {**plain.get(key, {}), **value} if key in {"knee", "foot", "shell", "answers"} else value
    return plain


def seal(
    to: Organisation, *entries: dict, order_id=None, parent: str | None = None, visit_id=None, **changes
) -> bytes:
    """A seal's bytes, as a phone would freeze them."""
    entries = entries or (entry(),)
    content = {
        "schema": "shankline-seal-1",
        "id": str(order_id or uuid.uuid4()),
        "parent_sha256": parent,
        "visit": {
            "id": str(visit_id or uuid.uuid4()),
            "reference": entries[0]["reference"],
            "initials": "A. B.",
        },
        "workshop": str(to.id),
        "catalogue_version": 1,
        "book_sha256": load_book().sha256,
        "sheet_build": "test",
        "need_by": None,
        "deliver_to": None,
        "entries": list(entries),
        "photos": [],
    }
    return json.dumps({**content, **changes}).encode()


def hash_of(raw: bytes) -> str:
    """The name that a seal is sent under."""
    return hashlib.sha256(raw).hexdigest()


def order(by: Member, to: Organisation, *entries: dict, **changes) -> Order:
    """An order that came in through the front door."""
    raw = seal(to, *entries, **changes)
    order_id = uuid.UUID(json.loads(raw)["id"])
    receipt = sync.take_seal(by, order_id, hash_of(raw), raw)
    assert receipt["outcome"] == "ordered", receipt["says"]
    return Order.objects.get(id=order_id)


def correction(to_order: Order, by: Member, *entries: dict, **changes) -> dict:
    """The receipt for a new revision of an order, made from its current one."""
    now = to_order.current
    raw = seal(
        to_order.workshop,
        *(entries or tuple(now.entries)),
        order_id=to_order.id,
        parent=now.seal.sha256,
        visit_id=to_order.visit_id,
        **changes,
    )
    return sync.take_seal(by, to_order.id, hash_of(raw), raw)


def confirmation(of_order: Order, days: int = 30) -> dict:
    """What the order's page posts to confirm its current revision: the seal, and a promise as many days off."""
    promised_for = timezone.localdate() + timedelta(days=days)
    return {"seal": of_order.current.seal.sha256, "promised_for": promised_for.isoformat()}


def card(by: Member, label: str = "", kind: str = "knee", **changes) -> ComponentCard:
    """A component card of the member's clinic: several pins, charged, 108 mm of hardware."""
    holds = {"knee.named": "polycentric", "knee.control": "microprocessor", "knee.hardware_length": "108 mm"}
    return ComponentCard.objects.create(
        **{
            "clinic": by.organisation,
            "kind": kind,
            "label": label or f"Card {next(_count)}",
            "holds": holds if kind == "knee" else {"foot.profile": "high", "foot.ankle": "jointed"},
            **changes,
        }
    )


def named_photo(sha256: str, view: str = "side", entry: int = 0, measured: dict | None = None) -> dict:
    """One line of a seal's photo list, without `measured` where nothing was."""
    named = {"sha256": sha256, "bytes": 1000, "view": view, "entry": entry}
    return {**named, "measured": measured} if measured else named


def measured(mm: float, what: str = "length", **changes) -> dict:
    """Places in a photo taken square to a sheet of A4, 2 px to the mm, that are so far apart."""
    corners = [[400, 600], [820, 600], [820, 1194], [400, 1194]]
    ends = [[300, 300], [300, 300 + 2 * mm]]
    return {"what": what, "sheet": "a4", "size": [1500, 2000], "corners": corners, "ends": ends, **changes}


def photo(by: Member, sha256: str, reason: str = "") -> Photo:
    """A photo that has come, without its pictures: kept, or set aside for a reason. Tells whoever waits for it."""
    kept = (
        {"state": "set_aside", "reason": reason}
        if reason
        else {"state": "kept", "width": 1600, "height": 1200}
    )
    made = Photo.objects.create(
        clinic_id=by.organisation_id, sha256=sha256, bytes=1000, uploaded_by=by, **kept
    )
    photo_access.arrived(made)
    return made
