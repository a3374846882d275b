"""Mail waiting to go out. A row is written in the move's own transaction, so that no move goes untold."""

from django.db import models

from orders.models.order import Order
from project.models import Member


class Mail(models.Model):
    """One message to one member about one order. It holds nothing personal: the words are made when it is sent."""

    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="mails")
    to = models.ForeignKey(Member, on_delete=models.CASCADE, related_name="+")
    what = models.CharField(max_length=20, help_text="the move it tells of")
    created_at = models.DateTimeField(auto_now_add=True)
    not_before = models.DateTimeField(auto_now_add=True)
    tries = models.PositiveSmallIntegerField(default=0)
    sent_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        indexes = [
            models.Index(fields=["sent_at", "not_before"], name="mail_waiting"),
            models.Index(fields=["to", "-created_at"], name="mail_to_member"),
        ]

    def __str__(self) -> str:
        return f"{self.what} to {self.to_id}"
