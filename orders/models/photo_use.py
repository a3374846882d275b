"""Which photos a seal names, and where: kept beside its bytes so that a hash can be looked up."""

from django.db import models

from capture.models import Seal


class PhotoUse(models.Model):
    """One line of a seal's photo list. The photo itself, by clinic and hash, may come before the seal or after it."""

    id = models.BigAutoField(primary_key=True)
    seal = models.ForeignKey(Seal, on_delete=models.CASCADE, related_name="photo_uses")
    place = models.PositiveSmallIntegerField(help_text="where it stands in the seal's list, from 0")
    sha256 = models.CharField(max_length=64)
    view = models.CharField(max_length=10)
    entry = models.PositiveSmallIntegerField(help_text="which of the seal's shells it shows, from 0")
    measured = models.JSONField(
        null=True, help_text="where a sheet and a measure were put in it, if they were"
    )

    class Meta:
        constraints = [models.UniqueConstraint(fields=["seal", "place"], name="photo_use_once")]
        indexes = [models.Index(fields=["sha256"], name="photo_use_by_hash")]
        ordering = ["seal_id", "place"]

    def __str__(self) -> str:
        return f"{self.sha256[:8]} {self.view}"
