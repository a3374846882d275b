"""What an order can be found by."""

from django.db import models

from orders.models.order import Order
from project.models import Organisation


class ReferencePart(models.Model):
    """One spelling that an order is found by the beginning of, see orders/finding.py. Goes with its order."""

    order = models.ForeignKey(Order, on_delete=models.CASCADE, related_name="reference_parts")
    clinic = models.ForeignKey(Organisation, on_delete=models.PROTECT, related_name="+", db_index=False)
    workshop = models.ForeignKey(Organisation, on_delete=models.PROTECT, related_name="+", db_index=False)
    part = models.BinaryField(help_text="as UTF-8: bytes stand in the same order in every database")

    class Meta:
        indexes = [
            models.Index(fields=["workshop", "part"], name="part_of_workshops"),
            models.Index(fields=["clinic", "part"], name="part_of_clinics"),
        ]

    def __str__(self) -> str:
        return bytes(self.part).decode()
