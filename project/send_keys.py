"""The key that lets one phone send after its session has ended, and nothing else.

Signing in gives it to the phone. It reads nothing: capture/views takes it for a seal and for a photo's parts only.
Gone after 30 days, on signing out, with a new password, on leaving, and whenever its member or the lead ends it.
"""

import hashlib
import secrets
from datetime import timedelta

from django.db.models import QuerySet
from django.http import HttpRequest
from django.utils import timezone

from project.models import Member, SendKey

LASTS = timedelta(days=30)
RENEWED = timedelta(days=15)  # with less than this left, the next signing in gives a new one
IN_SESSION = "send_key"


def given(request: HttpRequest, held: str) -> tuple[SendKey, str | None]:
    """The signed-in member's key for this phone, and its text when it is a new one.

    `held` is the text of the key that the phone holds already, "" for none. Another member's, or one with little time
    left, is ended here: a phone sends for one person.
    """
    key = SendKey.objects.filter(sha256=digest(held)).first() if held else None
    token = None
    if key is None or key.member_id != request.member.id or key.expires_at < timezone.now() + RENEWED:
        if key:
            key.delete()
        token = secrets.token_urlsafe(32)
        key = SendKey.objects.create(
            member=request.member, sha256=digest(token), expires_at=timezone.now() + LASTS
        )
    request.session[IN_SESSION] = str(key.id)
    return key, token


def holder_of(token: str) -> Member | None:
    """The member whose key this is, while it holds and the member may sign in."""
    key = (
        SendKey.objects.select_related("member__organisation", "member__user")
        .filter(sha256=digest(token), expires_at__gt=timezone.now(), member__user__is_active=True)
        .first()
    )
    return key.member if key else None


def end(token: str) -> None:
    """Ends this key, if there is one."""
    SendKey.objects.filter(sha256=digest(token)).delete()


def end_with_session(sender, request: HttpRequest, user, **kwargs) -> None:
    """Signing out, on whichever page, ends the key of the same phone."""
    session = getattr(request, "session", None)
    if session and session.get(IN_SESSION):
        SendKey.objects.filter(id=session[IN_SESSION]).delete()


def end_all_of(member: Member) -> None:
    """No phone of this member sends any more without signing in."""
    SendKey.objects.filter(member=member).delete()


def end_with_password(sender, request: HttpRequest, user, **kwargs) -> None:
    """A new password ends what the old one gave."""
    SendKey.objects.filter(member__user=user).delete()


def keys_to_end(member: Member) -> QuerySet[SendKey]:
    """The keys that hold and that this member may end: their own; for a lead, the whole clinic's."""
    keys = SendKey.objects.filter(expires_at__gt=timezone.now()).select_related("member")
    if member.is_lead:
        return keys.filter(member__organisation_id=member.organisation_id).order_by(
            "member__initials", "made_at"
        )
    return keys.filter(member=member).order_by("made_at")


def digest(token: str) -> str:
    """What is kept of a key. Its text is 256 random bits, so a plain hash can't be guessed back."""
    return hashlib.sha256(token.encode()).hexdigest()
