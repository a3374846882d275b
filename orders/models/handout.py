"""The patient's link to the page that says how to put the shell on."""

import uuid

from django.db import models
from django.utils import timezone

from orders.models.order import Order, Revision
from project.models import Member


class Handout(models.Model):
    """One link to one page. Only the token's hash is kept: the link itself is shown once, to who made it."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="handouts")
    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="+")
    language = models.CharField(
        max_length=5, default="en", help_text="the person's own; a key of orders/handout.py's LANGUAGES"
    )
    token_sha256 = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey(Member, on_delete=models.SET_NULL, null=True, related_name="+")
    made_at = models.DateTimeField(auto_now_add=True)
    expires_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return f"{self.order_id} {self.made_at}"

    @property
    def is_open(self) -> bool:
        """Whether the link still works."""
        return self.withdrawn_at is None and self.expires_at > timezone.now()
