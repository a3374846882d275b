"""What happened, written once: events chained by hash, and looks at a person's data."""

import hashlib
import json

from django.db import models, transaction
from django.db.transaction import TransactionManagementError
from django.utils import timezone

from orders.models.order import Order
from project.models import Member


class EventHead(models.Model):
    """The one row that holds the last event's hash. It is locked last, so that the chain never forks."""

    id = models.PositiveSmallIntegerField(primary_key=True, default=1)
    sha256 = models.CharField(max_length=64, default="0" * 64)

    def __str__(self) -> str:
        return self.sha256


class Event(models.Model):
    """A move of an order: who, when, what. Ids and hashes only, so that erasing a person need not touch it."""

    id = models.BigAutoField(primary_key=True)
    order_id = models.UUIDField(db_index=True)
    what = models.CharField(max_length=40)
    member_id = models.UUIDField(null=True)
    at = models.DateTimeField()
    detail = models.JSONField(default=dict)
    previous = models.CharField(max_length=64)
    sha256 = models.CharField(max_length=64, unique=True)

    def __str__(self) -> str:
        return f"{self.what} {self.order_id}"

    def digest(self) -> str:
        """SHA-256 of what the event says and of the event before it, as hex."""
        said = [
            self.previous,
            str(self.order_id),
            self.what,
            str(self.member_id or ""),
            self.at.isoformat(),
            self.detail,
        ]
        return hashlib.sha256(json.dumps(said, sort_keys=True, ensure_ascii=False).encode()).hexdigest()


class Look(models.Model):
    """A member opened an order. Append-only, not chained: reading must stay cheap."""

    id = models.BigAutoField(primary_key=True)
    order_id = models.UUIDField()
    member_id = models.UUIDField()
    organisation_id = models.UUIDField()
    at = models.DateTimeField()

    class Meta:
        indexes = [models.Index(fields=["order_id", "organisation_id"], name="look_of_order")]

    def __str__(self) -> str:
        return f"{self.order_id} {self.at}"


def record(order_id, what: str, member: Member | None, **detail: object) -> Event:
    """Appends an event to the chain. Call it last in the move's transaction: it holds the head row until the end.

    Raises TransactionManagementError outside a transaction.
    """
    if not transaction.get_connection().in_atomic_block:
        raise TransactionManagementError("an event is recorded in its move's transaction")
    head, _made = EventHead.objects.select_for_update().get_or_create(id=1)
    event = Event(
        order_id=order_id,
        what=what,
        member_id=member.id if member else None,
        at=timezone.now(),
        detail=detail,
        previous=head.sha256,
    )
    event.sha256 = event.digest()
    event.save(force_insert=True)
    head.sha256 = event.sha256
    head.save(update_fields=["sha256"])
    return event


def chain_breaks() -> list[int]:
    """Ids of the events whose hash or whose link to the one before does not hold; empty for a whole chain."""
    previous, broken = "0" * 64, []
    with transaction.atomic():
        for event in Event.objects.order_by("id").iterator():
            if event.previous != previous or event.digest() != event.sha256:
                broken.append(event.id)
            previous = event.sha256
    return broken


def note_look(order: Order, member: Member) -> None:
    """Writes down that `member` opened the order as it was read; from its workshop's first look on it is opened."""
    Look.objects.create(
        order_id=order.id, member_id=member.id, organisation_id=member.organisation_id, at=timezone.now()
    )
    if member.organisation_id == order.workshop_id and not order.opened:
        # A revision that came in meanwhile was not on the page: it stays unopened.
        as_read = Order.objects.filter(id=order.id, revision_number=order.revision_number)
        order.opened = bool(as_read.update(opened=True))
