"""What the workshop writes down while it makes: stages, what came out when it was measured, how it left."""

import uuid

from django.db import models
from django.utils.translation import gettext_lazy as _

from orders.models.order import Order
from project.models import Member


class StageDone(models.Model):
    """One stage of one shell, done. `attempt` counts the shells that were made for this side, from 1."""

    class Stage(models.TextChoices):
        FORMED = "formed", _("formed")
        TRIMMED = "trimmed", _("trimmed")
        STRAPS_SET = "straps_set", _("straps set")
        CHECKED = "checked", _("checked")

    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="stages")
    side = models.CharField(max_length=5)
    attempt = models.PositiveSmallIntegerField(default=1)
    stage = models.CharField(max_length=12, choices=Stage.choices)
    by = models.ForeignKey(Member, on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["order", "side", "attempt", "stage"], name="stage_done_once")
        ]

    def __str__(self) -> str:
        return f"{self.side} {self.stage}"


class Inspection(models.Model):
    """What was made of one shell, measured and held against the order. Readings stay as they were typed."""

    class Outcome(models.TextChoices):
        PASSED = "passed", _("as ordered")
        ACCEPTED = "accepted", _("accepted with a reason")
        REMADE = "remade", _("to be made again")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="inspections")
    side = models.CharField(max_length=5)
    attempt = models.PositiveSmallIntegerField()
    typed = models.JSONField(help_text="unit, and each figure's readings as typed")
    lines = models.JSONField(help_text="each figure: ordered, limits, measured, uncertainty, whether within")
    outcome = models.CharField(max_length=8, choices=Outcome.choices)
    reason = models.CharField(_("reason"), max_length=300, blank=True)
    by = models.ForeignKey(Member, on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["at"]
        constraints = [models.UniqueConstraint(fields=["order", "side", "attempt"], name="inspected_once")]

    def __str__(self) -> str:
        return f"{self.side}, {self.outcome}"


class Shipment(models.Model):
    """How an order left the workshop."""

    order = models.OneToOneField(Order, on_delete=models.CASCADE, related_name="shipment", primary_key=True)
    carrier = models.CharField(_("carrier"), max_length=60)
    number = models.CharField(_("number"), max_length=60, blank=True)
    by = models.ForeignKey(Member, on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"{self.carrier} {self.number}"
