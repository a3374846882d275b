"""What a person reports of a shell, by their link."""

import uuid

from django.db import models

from orders.models.handout import Handout
from orders.models.order import Order

LONGEST = 500


class Problem(models.Model):
    """One report. It may say something of the person's health: the clinic alone reads it."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="problems")
    handout = models.ForeignKey(Handout, on_delete=models.CASCADE, related_name="+")
    sent_as = models.UUIDField(help_text="the form's own: the same form sent twice is one report")
    signs = models.JSONField(help_text="keys of orders/problems.py's SIGNS, in their order")
    text = models.CharField(max_length=LONGEST, blank=True, help_text="in the person's own words")
    reported_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-reported_at"]
        constraints = [models.UniqueConstraint(fields=["handout", "sent_as"], name="one_report_of_a_form")]

    def __str__(self) -> str:
        return f"{self.order_id} {self.reported_at}"
