"""A file that a workshop makes from: made once, when its revision is confirmed, and kept."""

import uuid

from django.db import models

from orders.models.order import Revision


class Document(models.Model):
    """One file of one revision. Its bytes lie where photos lie; the database refuses to change what is written here."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    revision = models.ForeignKey(Revision, on_delete=models.CASCADE, related_name="documents")
    kind = models.CharField(max_length=30, help_text="as orders/documents/kinds.py names it")
    side = models.CharField(
        max_length=5, blank=True, help_text="left or right; empty for one of the whole order"
    )
    sha256 = models.CharField(max_length=64)
    bytes = models.PositiveIntegerField()
    stored = models.CharField(max_length=100, help_text="where its bytes lie")
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["revision", "kind", "side"], name="document_once")]

    def __str__(self) -> str:
        return f"{self.kind} {self.side}".strip()
