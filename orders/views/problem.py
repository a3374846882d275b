"""A problem reported from the person's page, behind its link: no sign-in."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import translation
from django.utils.translation import gettext as _
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_POST, require_safe

from orders import handout as links
from orders.handout_page import calls
from orders.problem_form import ProblemForm
from orders.problems import TooMany
from orders.problems import report as keep
from orders.views.handout import gone, kept_private, page, told_as


# Nothing of the browser's own gives a right here, the link alone does, and only its holder knows it. Django's own
# check wants to be told where the form came from, which a page that tells nobody its address doesn't tell.
@csrf_exempt
@kept_private
@require_POST
def report(request: HttpRequest, token: str) -> HttpResponse:
    """Keeps what the person says and tells the clinic; what can't be kept comes back as it was typed, with why."""
    try:
        found = links.opened(token)
    except links.LinkDead as dead:
        return gone(request, dead)
    with translation.override(found.language):
        form = ProblemForm(request.POST)
        if not form.is_valid():
            return page(request, found, form, status=400)
        try:
            keep(found, **form.cleaned_data)
        except TooMany:
            form.add_error(None, _("You have told the clinic many times today. Call them."))
            return page(request, found, form, status=429)
    return redirect("orders:problem-told", token=token)


@kept_private
@require_safe
def told(request: HttpRequest, token: str) -> HttpResponse:
    """That the clinic has been told, and what to do until it calls."""
    try:
        found = links.opened(token)
    except links.LinkDead as dead:
        return gone(request, dead)
    clinic = found.order.clinic
    with translation.override(found.language):
        context = {"clinic": clinic, **calls(clinic)}
        return told_as(found.language, render(request, "orders/handout_told.html", context))
