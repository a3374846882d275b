"""What the workshop asks about an order, and what the clinic answers."""

import uuid

from django.db import models
from django.utils.translation import gettext_lazy as _

from orders.models.order import Order, Revision
from project.models import Member


class Query(models.Model):
    """The workshop's question about one entry of one shell, or about a photo."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="queries")
    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="queries")
    side = models.CharField(max_length=5, help_text="left or right: which shell it is about")
    field = models.CharField(max_length=60, help_text="the entry's key, or photo:<sha256>")
    text = models.CharField(_("question"), max_length=500)
    proposed = models.CharField(
        max_length=64,
        blank=True,
        help_text="the value that the workshop proposes for the field; empty for none",
    )
    asked_by = models.ForeignKey(Member, on_delete=models.SET_NULL, null=True, related_name="+")
    asked_at = models.DateTimeField(auto_now_add=True)
    withdrawn_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["asked_at"]
        verbose_name_plural = "queries"

    def __str__(self) -> str:
        return f"{self.field}: {self.text}"

    @property
    def state(self) -> str:
        """open, replied or withdrawn."""
        if self.withdrawn_at:
            return "withdrawn"
        return "replied" if hasattr(self, "reply") else "open"


class Reply(models.Model):
    """The clinic's answer to a query, with the revision it came with."""

    query = models.OneToOneField(Query, on_delete=models.CASCADE, related_name="reply", primary_key=True)
    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="replies")
    text = models.CharField(_("answer"), max_length=500, blank=True)
    by = models.ForeignKey(Member, on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        verbose_name_plural = "replies"

    def __str__(self) -> str:
        return self.text


class Rival(models.Model):
    """A seal made from a revision that was no longer the current one: kept beside it until the clinic picks."""

    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="rivals")
    seal = models.OneToOneField("capture.Seal", on_delete=models.PROTECT, related_name="rival")
    at = models.DateTimeField(auto_now_add=True)
    settled_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"{self.order_id} {self.seal_id}"
