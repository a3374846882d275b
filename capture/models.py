"""What is captured: the person, the visit, and the seal that a phone sends."""

import uuid

from django.db import models
from django.utils.translation import gettext_lazy as _

from project.models import Member, Organisation


class Person(models.Model):
    """Somebody a clinic cares for, known by the clinic's own reference and initials."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    clinic = models.ForeignKey(Organisation, on_delete=models.PROTECT, related_name="people")
    reference = models.CharField(_("reference"), max_length=40)
    initials = models.CharField(_("initials"), max_length=12, blank=True)
    name = models.CharField(_("name"), max_length=120, blank=True)
    contact = models.CharField(_("contact"), max_length=200, blank=True)

    class Meta:
        verbose_name_plural = "people"
        constraints = [models.UniqueConstraint(fields=["clinic", "reference"], name="person_reference_once")]

    def __str__(self) -> str:
        return f"{self.reference} {self.initials}".strip()


class Visit(models.Model):
    """A visit to one person, planned at the desk or on the phone, which makes its id."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    person = models.ForeignKey(Person, on_delete=models.PROTECT, related_name="visits")
    planned_for = models.DateTimeField(_("time"), null=True, blank=True)
    planned_by = models.ForeignKey(Member, on_delete=models.SET_NULL, null=True, related_name="+")
    created_at = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return str(self.person)


class Seal(models.Model):
    """The exact bytes that a phone sent for one order, kept before anything is read into them."""

    id = models.BigAutoField(primary_key=True)
    order_id = models.UUIDField(help_text="the order's id, made by the phone")
    sha256 = models.CharField(max_length=64)
    raw = models.BinaryField()
    parent_sha256 = models.CharField(max_length=64, blank=True)
    clinic = models.ForeignKey(Organisation, on_delete=models.PROTECT, related_name="+")
    sent_by = models.ForeignKey(Member, on_delete=models.SET_NULL, null=True, related_name="+")
    received_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["order_id", "sha256"], name="seal_once")]

    def __str__(self) -> str:
        return f"{self.order_id} {self.sha256[:8]}"
