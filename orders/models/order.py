"""The order and its revisions."""

from django.db import models
from django.utils.translation import gettext_lazy as _

from capture.models import Person, Seal, Visit
from orders.models.catalogue import Catalogue
from project.models import Organisation

# Said in the very words of the indexes that hold these alone: in others SQLite doesn't see that they serve.
WITH_REASON = ~models.Q(reasons=0)
CONTESTED = models.Q(contested=True)
NOT_OPENED = models.Q(contested=False, opened=False)
OPENED = models.Q(contested=False, opened=True)


class Order(models.Model):
    """One or two shank shells for one person, on their way from a clinic to a workshop. Only orders/moves.py moves it."""

    class State(models.TextChoices):
        SENT = "sent", _("sent")
        QUERIED = "queried", _("queried")
        CONFIRMED = "confirmed", _("confirmed")
        IN_MAKING = "in_making", _("in making")
        MADE = "made", _("made")
        SHIPPED = "shipped", _("shipped")
        CANCELLED = "cancelled", _("cancelled")

    id = models.UUIDField(primary_key=True, help_text="made by the phone")
    clinic = models.ForeignKey(Organisation, on_delete=models.PROTECT, related_name="orders_sent")
    workshop = models.ForeignKey(Organisation, on_delete=models.PROTECT, related_name="orders_received")
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="orders")
    visit = models.ForeignKey(Visit, on_delete=models.PROTECT, related_name="orders")
    state = models.CharField(max_length=12, choices=State.choices, default=State.SENT)
    revision_number = models.PositiveIntegerField(help_text="the revision that counts now")
    contested = models.BooleanField(
        default=False, help_text="two seals with one parent: the clinic must pick"
    )
    need_by = models.DateField(null=True, blank=True)
    deliver_to = models.CharField(max_length=200, blank=True)
    promised_for = models.DateField(
        null=True, blank=True, help_text="the day it leaves the workshop, given when it was confirmed"
    )
    reasons = models.PositiveSmallIntegerField(
        default=0, help_text="explain flags of the current revision, kept here so that the bench can filter"
    )
    opened = models.BooleanField(
        default=False,
        help_text="whether the workshop has looked at the current revision, kept here so that the clinic can filter",
    )
    created_at = models.DateTimeField(auto_now_add=True)
    moved_at = models.DateTimeField(help_text="when the last move was")

    class Meta:
        # Those that the bench reads along begin with the state: none of them then offers itself where all of a
        # workshop's orders are asked about, and a database that has counted nothing would take it.
        indexes = [
            models.Index(fields=["state", "workshop", "need_by", "created_at", "id"], name="order_by_day"),
            models.Index(fields=["state", "workshop", "created_at", "id"], name="order_by_age"),
            models.Index(fields=["state", "workshop", "-reasons", "created_at", "id"], name="order_by_flags"),
            models.Index(fields=["state", "workshop", "-moved_at", "-id"], name="order_left"),
            models.Index(fields=["state", "clinic", "moved_at", "id"], name="order_of_clinic_by_state"),
            models.Index(fields=["clinic", "-moved_at", "-id"], name="order_of_clinic_last_moved"),
            models.Index(fields=["clinic", "moved_at", "id"], condition=CONTESTED, name="order_contested"),
            models.Index(
                fields=["state", "clinic", "moved_at", "id"],
                condition=NOT_OPENED,
                name="order_of_clinic_not_opened",
            ),
            models.Index(
                fields=["state", "clinic", "moved_at", "id"], condition=OPENED, name="order_of_clinic_opened"
            ),
            models.Index(fields=["workshop", "-moved_at", "-id"], name="order_last_moved"),
            models.Index(
                fields=["state", "workshop", "need_by", "created_at", "id"],
                condition=WITH_REASON,
                name="order_with_reason_by_day",
            ),
            models.Index(
                fields=["state", "workshop", "created_at", "id"],
                condition=WITH_REASON,
                name="order_with_reason_by_age",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person.reference} {self.state}"

    @property
    def current(self) -> "Revision":
        """The revision that counts now."""
        return self.revisions.select_related("seal", "catalogue").get(number=self.revision_number)


class Revision(models.Model):
    """What was sent, once: a seal with what was reckoned from it. The database refuses to change it."""

    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField()
    seal = models.OneToOneField(Seal, on_delete=models.PROTECT, related_name="revision")
    entries = models.JSONField(help_text="the seal's entries, one a shell")
    results = models.JSONField(help_text="the server's own reckoning of each entry")
    catalogue = models.ForeignKey(Catalogue, on_delete=models.PROTECT, related_name="+")
    book_sha256 = models.CharField(max_length=64)
    engine_version = models.CharField(max_length=20)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["order", "number"], name="revision_number_once")]

    def __str__(self) -> str:
        return f"{self.order_id} revision {self.number}"

    @property
    def shells(self) -> list[tuple[dict, dict]]:
        """Each shell's entry with its result."""
        return list(zip(self.entries, self.results, strict=True))
