"""May this person come in at all? What they may see of one object is asked in capture/access.py and orders/access.py."""

from collections.abc import Callable
from functools import wraps
from urllib.parse import urlencode

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from project.models import Member


def for_members(*roles: str) -> Callable:
    """Lets in signed-in members with one of `roles` (any role when none is named).

    A stranger is sent to sign in; a member with another role gets the same 404 as for nothing.
    """

    def wrap(view: Callable) -> Callable:
        @wraps(view)
        def guarded(request: HttpRequest, *args, **kwargs) -> HttpResponse:
            if not request.user.is_authenticated:
                back = urlencode({"next": request.get_full_path()})
                return redirect(f"{reverse(settings.LOGIN_URL)}?{back}")
            if not may_enter(request.member, roles):
                raise Http404
            return view(request, *args, **kwargs)

        return guarded

    return wrap


def may_enter(member: Member | None, roles: tuple[str, ...]) -> bool:
    """Whether `member` exists and has one of `roles`; with none named, any."""
    return bool(member) and (not roles or member.role in roles)


CLINIC = (Member.Role.CLINICIAN, Member.Role.LEAD)
WORKSHOP = (Member.Role.FABRICATOR,)
