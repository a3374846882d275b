"""May this person come in at all? What they may see of one object is asked in capture/access.py and orders/access.py."""

from collections.abc import Callable
from functools import wraps
from urllib.parse import urlencode

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from project import kept_forms, send_keys
from project.models import Member


def for_members(*roles: str) -> Callable:
    """Lets in signed-in members with one of `roles` (any role when none is named).

    A stranger is sent to sign in, and what they sent is kept; a member with another role gets the same 404 as for
    nothing.
    """

    def wrap(view: Callable) -> Callable:
        @wraps(view)
        def guarded(request: HttpRequest, *args, **kwargs) -> HttpResponse:
            if not request.user.is_authenticated:
                return to_sign_in(request)
            if not may_enter(request.member, roles):
                raise Http404
            if request.method == "POST":
                kept_forms.let_go(request)
            return view(request, *args, **kwargs)

        return guarded

    return wrap


def to_sign_in(request: HttpRequest) -> HttpResponse:
    """Signing in, and from there back, or to what was sent."""
    back = reverse("kept-form") if kept_forms.keep(request) else request.get_full_path()
    return redirect(f"{reverse(settings.LOGIN_URL)}?{urlencode({'next': back})}")


def sender_of(request: HttpRequest) -> Member | None:
    """The member whose send key this request bears, or None for a key that is unknown, ended or too old.

    Only views that take what a phone sends ask this; nothing is read for a key.
    """
    return send_keys.holder_of(bearer(request) or "")


def bearer(request: HttpRequest) -> str | None:
    """The key in the request's header (RFC 6750, 2.1); None where it bears none."""
    scheme, _space, token = request.headers.get("Authorization", "").partition(" ")
    return token.strip() if scheme.lower() == "bearer" else None


def may_enter(member: Member | None, roles: tuple[str, ...]) -> bool:
    """Whether `member` exists and has one of `roles`; with none named, any."""
    return bool(member) and (not roles or member.role in roles)


CLINIC = (Member.Role.CLINICIAN, Member.Role.LEAD)
WORKSHOP = (Member.Role.FABRICATOR,)
