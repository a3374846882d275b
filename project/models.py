"""Who signs in, and for whom: users, organisations, members."""

import uuid

from django.contrib.auth.models import AbstractUser, BaseUserManager
from django.db import models
from django.utils.translation import gettext_lazy as _

from project.names import refuse_unseen


class UserManager(BaseUserManager):
    """Makes users by mail address."""

    def create_user(self, email: str, password: str | None = None, **fields) -> "User":
        """A user who signs in with `email`; without a password, only after resetting it."""
        user = self.model(email=self.normalize_email(email).lower(), **fields)
        user.set_password(password)
        user.save(using=self._db)
        return user


class User(AbstractUser):
    """A person who signs in, by mail address. What they may do hangs on their Member rows."""

    username = None
    email = models.EmailField(_("mail address"), unique=True)

    USERNAME_FIELD = "email"
    REQUIRED_FIELDS = []
    objects = UserManager()

    def __str__(self) -> str:
        return self.get_full_name() or self.email


class Organisation(models.Model):
    """A clinic or a workshop. Nobody sees another one's people."""

    class Kind(models.TextChoices):
        CLINIC = "clinic", _("clinic")
        WORKSHOP = "workshop", _("workshop")

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    kind = models.CharField(max_length=8, choices=Kind.choices)
    name = models.CharField(max_length=120, unique=True, validators=[refuse_unseen])
    telephone = models.CharField(max_length=40, blank=True)
    out_of_hours = models.CharField(max_length=200, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(kind__in=["clinic", "workshop"]), name="organisation_kind"
            )
        ]

    def __str__(self) -> str:
        return self.name


class Member(models.Model):
    """A user's place in one organisation, with the role that says what they may do there."""

    class Role(models.TextChoices):
        CLINICIAN = "clinician", _("clinician")
        LEAD = "lead", _("clinic lead")
        FABRICATOR = "fabricator", _("fabricator")

    class Units(models.TextChoices):
        MM = "mm", "mm"
        CM = "cm", "cm"
        IN = "in", "in"

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    user = models.OneToOneField(User, on_delete=models.CASCADE, related_name="member")
    organisation = models.ForeignKey(Organisation, on_delete=models.CASCADE, related_name="members")
    role = models.CharField(max_length=10, choices=Role.choices)
    initials = models.CharField(max_length=12)
    language = models.CharField(
        max_length=5, blank=True, help_text="of the interface and of mails; empty for the browser's"
    )
    units = models.CharField(
        max_length=2,
        choices=Units.choices,
        blank=True,
        help_text="of a bare number in a new visit; empty for those used last",
    )

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(role__in=["clinician", "lead", "fabricator"]), name="member_role"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.initials}, {self.organisation}"

    @property
    def is_lead(self) -> bool:
        """Whether this member manages the others."""
        return self.role == Member.Role.LEAD

    @property
    def in_clinic(self) -> bool:
        """Whether this member works for a clinic."""
        return self.organisation.kind == Organisation.Kind.CLINIC

    @property
    def in_workshop(self) -> bool:
        """Whether this member works for a workshop."""
        return self.organisation.kind == Organisation.Kind.WORKSHOP


class Invitation(models.Model):
    """A clinic lead's invitation by mail. Only the hash of its link is kept."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    organisation = models.ForeignKey(Organisation, on_delete=models.CASCADE, related_name="invitations")
    email = models.EmailField(_("mail address"))
    role = models.CharField(max_length=10, choices=Member.Role.choices)
    initials = models.CharField(_("initials"), max_length=12, validators=[refuse_unseen])
    token_sha256 = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(auto_now_add=True)
    expires_at = models.DateTimeField()
    accepted_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return f"{self.email}, {self.organisation}"


class SendKey(models.Model):
    """Lets one phone send for its member after the session has ended; reads nothing. Only its hash is kept."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    member = models.ForeignKey(Member, on_delete=models.CASCADE, related_name="send_keys")
    sha256 = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(auto_now_add=True)
    expires_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.member}, until {self.expires_at}"
