"""What a workshop can make, version by version."""

from django.db import models

from project.models import Member, Organisation


class Catalogue(models.Model):
    """One version of one workshop's catalogue. A version never changes; orders keep the one they were reckoned with."""

    workshop = models.ForeignKey(Organisation, on_delete=models.PROTECT, related_name="catalogues")
    version = models.PositiveIntegerField()
    content = models.JSONField(help_text="as orders/reckoning/catalogue.py reads it")
    saved_by = models.ForeignKey(
        Member,
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="+",
        help_text="empty where loaded",
    )
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["workshop", "version"], name="catalogue_version_once")]

    def __str__(self) -> str:
        return f"{self.workshop}, version {self.version}"
