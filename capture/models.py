"""What is captured: the person, the visit, the seal that a phone sends, and its photos."""

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


class ComponentCard(models.Model):
    """A clinic's own notes on a knee or foot that it fits often. A retired one is kept, and offered to no phone."""

    class Kind(models.TextChoices):
        KNEE = "knee", _("knee")
        FOOT = "foot", _("foot")

    class Allows(models.TextChoices):
        """Whether the component's maker allows a shell over it."""

        UNKNOWN = "unknown", _("not looked up")
        YES = "yes", _("yes")
        NO = "no", _("no")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    clinic = models.ForeignKey(Organisation, on_delete=models.PROTECT, related_name="cards")
    kind = models.CharField(max_length=4, choices=Kind.choices)
    label = models.CharField(max_length=80, help_text="in the clinic's own words")
    allows_shell = models.CharField(max_length=7, choices=Allows.choices, default=Allows.UNKNOWN)
    holds = models.JSONField(default=dict, help_text="answers by the sheet's keys, see capture/cards.py")
    changed_by = models.ForeignKey(Member, on_delete=models.SET_NULL, null=True, related_name="+")
    changed_at = models.DateTimeField(auto_now=True)
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["clinic", "kind", "label"],
                condition=models.Q(retired_at=None),
                name="card_called_so_once",
            )
        ]

    def __str__(self) -> str:
        return self.label


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


class Photo(models.Model):
    """A photo of one clinic, by the SHA-256 of the bytes that its phone sent, which are not kept.

    Kept are two pictures made from them (photo_store). What it shows stands in the seals that name it.
    """

    class State(models.TextChoices):
        KEPT = "kept", _("kept")
        SET_ASIDE = "set_aside", _("set aside")

    class Reason(models.TextChoices):
        """Why a photo was set aside, as both sides read it."""

        EMPTY = "empty", _("This photo can't be shown: its file arrived with nothing in it.")
        NO_PICTURE = (
            "no_picture",
            _("This photo can't be shown: its file is not a JPEG, PNG, WebP or HEIC picture."),
        )
        DAMAGED = (
            "damaged",
            _("This photo can't be shown: its file was damaged or cut off before it was sent."),
        )
        TOO_MANY_PIXELS = "too_many_pixels", _("This photo can't be shown: it has 64 million pixels or more.")
        TOO_MANY_SCANS = (
            "too_many_scans",
            _("This photo can't be shown: its file is built in too many layers."),
        )
        TOO_MUCH = (
            "too_much",
            _("This photo can't be shown: reading its file takes more memory or time than allowed."),
        )

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    clinic = models.ForeignKey(Organisation, on_delete=models.PROTECT, related_name="+")
    sha256 = models.CharField(max_length=64)
    bytes = models.PositiveIntegerField(help_text="of the file as it was sent")
    state = models.CharField(max_length=9, choices=State.choices)
    reason = models.CharField(max_length=16, choices=Reason.choices, blank=True)
    width = models.PositiveIntegerField(null=True, help_text="of the larger kept picture, upright [px]")
    height = models.PositiveIntegerField(null=True, help_text="of the larger kept picture, upright [px]")
    uploaded_by = models.ForeignKey(Member, on_delete=models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["clinic", "sha256"], name="photo_once"),
            # a size that is null is neither above nought nor not above it, which would let it through
            models.CheckConstraint(
                condition=models.Q(
                    state="kept",
                    reason="",
                    width__isnull=False,
                    width__gt=0,
                    height__isnull=False,
                    height__gt=0,
                )
                | (models.Q(state="set_aside", width=None, height=None) & ~models.Q(reason="")),
                name="photo_kept_or_set_aside",
            ),
        ]
        indexes = [models.Index(fields=["sha256"], name="photo_by_hash")]

    def __str__(self) -> str:
        return f"{self.sha256[:8]} {self.state}"

    @property
    def says(self) -> str:
        """Why it was set aside, in a sentence for both sides; empty for one that is kept."""
        return str(self.get_reason_display()) if self.reason else ""


class Upload(models.Model):
    """A photo on its way: a part has come, the whole has not. Gone once it has."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    clinic = models.ForeignKey(Organisation, on_delete=models.CASCADE, related_name="+")
    sha256 = models.CharField(max_length=64)
    bytes = models.PositiveIntegerField(help_text="of the whole file")
    tries = models.PositiveSmallIntegerField(
        default=0, help_text="how often the machine was too busy to develop it"
    )
    touched_at = models.DateTimeField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["clinic", "sha256"], name="upload_once")]
        indexes = [models.Index(fields=["clinic", "touched_at"], name="upload_longest_untouched")]

    def __str__(self) -> str:
        return f"{self.sha256[:8]} of {self.bytes} bytes"


class UploadPart(models.Model):
    """One part of an upload: from which byte, how many, and under which name its bytes are stored.

    A part begins where the ones before it end, so that together they are always the first bytes of the file.
    """

    upload = models.ForeignKey(Upload, on_delete=models.CASCADE, related_name="parts")
    offset = models.PositiveIntegerField()
    bytes = models.PositiveIntegerField()
    name = models.CharField(max_length=100)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["upload", "offset"], name="upload_part_once")]

    def __str__(self) -> str:
        return f"{self.bytes} bytes from {self.offset}"
