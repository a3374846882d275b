"""The member behind a request: found once, on every page the same way."""

from allauth.account.adapter import DefaultAccountAdapter
from allauth.mfa.utils import is_mfa_enabled
from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import translation
from django.utils.functional import SimpleLazyObject
from django.utils.translation import gettext as _

from project.models import Member


class Adapter(DefaultAccountAdapter):
    """Nobody signs up by themselves: a clinic lead or the site's keeper makes members."""

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False


class MemberMiddleware:
    """Sets `request.member` (None for a stranger) and their language; sends who lacks a second factor to set one up."""

    # Where a member without a second factor may still go: setting it up, out, and where anybody may.
    OPEN = ("/accounts/", "/static/", "/h/")

    def __init__(self, get_response) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        request.member = SimpleLazyObject(lambda: member_of(request))
        if request.user.is_authenticated:
            speak_to(request.member)
        if self.lacks_second_factor(request):
            return second_factor_first(request)
        response = self.get_response(request)
        say_who(request, response)
        return response

    def lacks_second_factor(self, request: HttpRequest) -> bool:
        """Whether this member must first set up a second factor."""
        if not settings.SECOND_FACTOR or request.path.startswith(self.OPEN):
            return False
        return request.user.is_authenticated and not is_mfa_enabled(request.user)


def say_who(request: HttpRequest, response: HttpResponse) -> None:
    """Leaves the member's id where the phone's page reads it at once: what the phone knows of somebody who was signed in
    before is then not shown, nor sent for them, while the server's answer is on its way."""
    member = request.user.is_authenticated and (request.member or member_of(request))
    if member and request.COOKIES.get(settings.MEMBER_COOKIE_NAME) != str(member.id):
        response.set_cookie(
            settings.MEMBER_COOKIE_NAME,
            str(member.id),
            max_age=settings.MEMBER_COOKIE_AGE,
            secure=settings.SESSION_COOKIE_SECURE,
            samesite="Lax",
        )


def second_factor_first(request: HttpRequest) -> HttpResponse:
    """The way to set one up; for a phone, which follows no redirect, that it is not signed in yet."""
    if not request.path.startswith("/api/"):
        return redirect("mfa_index")
    from capture.views.api import problem  # capture knows project, so not at the top

    return problem(401, _("Set up the second factor of your sign-in first; everything on this phone stays."))


def member_of(request: HttpRequest) -> Member | None:
    """The signed-in user's member row with its organisation, or None."""
    if not request.user.is_authenticated:
        return None
    return Member.objects.select_related("organisation", "user").filter(user=request.user).first()


def speak_to(member: Member | None) -> None:
    """From here on this thread says everything in the member's own language, where they have chosen one."""
    if member and member.language:
        translation.activate(member.language)


def member_in_templates(request: HttpRequest) -> dict:
    """`member` for every template."""
    return {"member": getattr(request, "member", None)}
