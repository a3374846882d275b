"""Writing: who joins an organisation, with which role, and who leaves it."""

import hashlib
import secrets
from datetime import timedelta

from django.conf import settings
from django.core.mail import EmailMessage
from django.db import transaction
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from project import send_keys
from project.models import Invitation, Member, User

LASTS = timedelta(days=7)


class Refused(ValueError):
    """A change that must not be made; its text says why, for the person who asked."""


def invite(by: Member, email: str, role: str, initials: str) -> Invitation:
    """Invites somebody by mail to the lead's organisation. Raises Refused, or OSError when the mail can't be sent."""
    email = email.lower()
    if User.objects.filter(email=email).exists():
        raise Refused(_("Somebody with this mail address signs in here already."))
    token = secrets.token_urlsafe(16)
    with transaction.atomic():
        Invitation.objects.filter(organisation=by.organisation, email=email, accepted_at=None).delete()
        invitation = Invitation.objects.create(
            organisation=by.organisation,
            email=email,
            role=role,
            initials=initials,
            token_sha256=digest(token),
            expires_at=timezone.now() + LASTS,
        )
        invitation_mail(invitation, token).send()
    return invitation


def invitation_mail(invitation: Invitation, token: str) -> EmailMessage:
    """The one place that holds the link: the mail itself."""
    link = settings.SITE_ADDRESS.rstrip("/") + reverse("join", args=[token])
    text = _("%(organisation)s invites you. Open this link within seven days to choose a password:")
    return EmailMessage(
        subject=_("Invitation to Shankline"),
        body=text % {"organisation": invitation.organisation.name} + f"\n\n{link}\n",
        to=[invitation.email],
    )


def open_invitation(token: str) -> Invitation | None:
    """The invitation behind a link, or None when the link is wrong, used or too old."""
    return (
        Invitation.objects.select_related("organisation")
        .filter(token_sha256=digest(token), accepted_at=None, expires_at__gt=timezone.now())
        .first()
    )


@transaction.atomic
def join(invitation: Invitation, password: str) -> User:
    """The invited person becomes a member, once. Raises Refused for a second time."""
    taken = Invitation.objects.filter(id=invitation.id, accepted_at=None).update(accepted_at=timezone.now())
    if not taken:
        raise Refused(_("This invitation has been used."))
    user = User.objects.create_user(invitation.email, password)
    Member.objects.create(
        user=user, organisation=invitation.organisation, role=invitation.role, initials=invitation.initials
    )
    return user


def change_role(by: Member, member: Member, role: str) -> None:
    """Gives a member of the lead's clinic another role. Raises Refused for the last lead."""
    if role != Member.Role.LEAD:
        keep_a_lead(member)
    member.role = role
    member.save(update_fields=["role"])


def leave(by: Member, member: Member) -> None:
    """The member can't sign in any more; what they did stays theirs. Raises Refused for oneself and the last lead."""
    if by == member:
        raise Refused(_("You can't remove yourself. Ask another lead."))
    keep_a_lead(member)
    with transaction.atomic():
        User.objects.filter(id=member.user_id).update(is_active=False)
        send_keys.end_all_of(member)


def keep_a_lead(member: Member) -> None:
    """Raises Refused when the organisation would be left without a lead."""
    others = Member.objects.filter(
        organisation=member.organisation, role=Member.Role.LEAD, user__is_active=True
    )
    if member.is_lead and not others.exclude(id=member.id).exists():
        raise Refused(_("This is the last lead. Make somebody else a lead first."))


def digest(token: str) -> str:
    """What is kept of a link's token."""
    return hashlib.sha256(token.encode()).hexdigest()
