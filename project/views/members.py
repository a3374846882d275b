"""The clinic lead's page: who is a member, with which role; inviting and removing. And the invited person's page."""

import uuid

from django.contrib import messages
from django.contrib.auth import login
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from project import membership
from project.access import for_members
from project.forms import InvitationForm, PasswordForm, RoleForm
from project.models import Member

LEAD = (Member.Role.LEAD,)


@require_safe
@for_members(*LEAD)
def members(request: HttpRequest) -> HttpResponse:
    """Everybody in the lead's clinic, and whoever is invited."""
    return members_page(request, InvitationForm())


def members_page(request: HttpRequest, form: InvitationForm, status: int = 200) -> HttpResponse:
    """The page with the invitation's form as it stands."""
    clinic = request.member.organisation
    context = {
        "members": clinic.members.select_related("user").filter(user__is_active=True).order_by("initials"),
        "invitations": clinic.invitations.filter(accepted_at=None),
        "form": form,
        "roles": RoleForm().fields["role"].choices,
    }
    return render(request, "project/members.html", context, status=status)


@require_POST
@for_members(*LEAD)
def invite(request: HttpRequest) -> HttpResponse:
    """Sends an invitation; what is wrong stands at its field."""
    form = InvitationForm(request.POST)
    if not form.is_valid():
        return members_page(request, form, status=422)
    wanted = form.cleaned_data
    try:
        membership.invite(request.member, wanted["email"], wanted["role"], wanted["initials"])
    except membership.Refused as refused:
        form.add_error("email", str(refused))
        return members_page(request, form, status=422)
    except OSError:
        form.add_error("email", _("The mail could not be sent. Nothing was stored; try again."))
        return members_page(request, form, status=503)
    messages.success(request, _("Invitation sent to %(email)s.") % {"email": wanted["email"]})
    return redirect("members")


@require_POST
@for_members(*LEAD)
def change_role(request: HttpRequest, member_id: uuid.UUID) -> HttpResponse:
    """Another role for a member of the lead's clinic."""
    member, form = colleague(request, member_id), RoleForm(request.POST)
    if form.is_valid():
        told(request, membership.change_role, member, form.cleaned_data["role"])
    return redirect("members")


@require_POST
@for_members(*LEAD)
def leave(request: HttpRequest, member_id: uuid.UUID) -> HttpResponse:
    """A member of the lead's clinic can't sign in any more."""
    told(request, membership.leave, colleague(request, member_id))
    return redirect("members")


@require_POST
@for_members(*LEAD)
def withdraw(request: HttpRequest, invitation_id: uuid.UUID) -> HttpResponse:
    """The invitation's link stops working."""
    open_ones = request.member.organisation.invitations.filter(id=invitation_id, accepted_at=None)
    if not open_ones.delete()[0]:
        raise Http404
    return redirect("members")


def colleague(request: HttpRequest, member_id: uuid.UUID) -> Member:
    """A member of the lead's own clinic, or Http404."""
    member = request.member.organisation.members.filter(id=member_id, user__is_active=True).first()
    if member is None:
        raise Http404
    return member


def told(request: HttpRequest, change, *what: object) -> None:
    """Makes the change, or tells why not."""
    try:
        change(request.member, *what)
    except membership.Refused as refused:
        messages.error(request, str(refused))


@require_http_methods(["GET", "HEAD", "POST"])
def join(request: HttpRequest, token: str) -> HttpResponse:
    """The invited person chooses a password and is in."""
    invitation = membership.open_invitation(token)
    if invitation is None:
        return render(request, "project/join_gone.html", status=404)
    form = PasswordForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            user = membership.join(invitation, form.cleaned_data["password"])
        except membership.Refused:
            return render(request, "project/join_gone.html", status=404)
        login(request, user, backend="allauth.account.auth_backends.AuthenticationBackend")
        return redirect("home")
    context = {"invitation": invitation, "form": form}
    return render(request, "project/join.html", context, status=422 if form.errors else 200)
