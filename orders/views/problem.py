"""A problem reported from the person's page, behind its link: no sign-in."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.csrf import csrf_exempt
from django.views.decorators.http import require_POST, require_safe

from orders.handout_page import calls
from orders.models import Handout
from orders.problem_form import ProblemForm
from orders.problems import TooMany
from orders.problems import report as keep
from orders.views.handout import by_link, kept_private, page, told_as


# Nothing of the browser's own gives a right here, the link alone does, and only its holder knows it. Django's own
# check wants to be told where the form came from, which a page that tells nobody its address doesn't tell.
@csrf_exempt
@kept_private
@require_POST
@by_link
def report(request: HttpRequest, found: Handout, token: str) -> HttpResponse:
    """Keeps what the person says and tells the clinic; what can't be kept comes back as it was typed, with why."""
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
@by_link
def told(request: HttpRequest, found: Handout, token: str) -> HttpResponse:
    """That the clinic has been told, and what to do until it calls."""
    clinic = found.order.clinic
    context = {"clinic": clinic, **calls(clinic)}
    return told_as(found.language, render(request, "orders/handout_told.html", context))
