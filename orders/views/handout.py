"""The patient's page, behind its link: no sign-in, and nothing that a visit uses up."""

from collections.abc import Callable
from functools import wraps

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import translation
from django.views.decorators.http import require_safe

from orders import handout as links
from orders.handout_page import calls, handout_page
from orders.models import Handout
from orders.problem_form import ProblemForm

GONE = {"wrong": 404, "expired": 410, "withdrawn": 410}


def kept_private(view: Callable) -> Callable:
    """The link is told to nobody, found by no search, and the page kept nowhere."""

    @wraps(view)
    def private(request: HttpRequest, *args, **kwargs) -> HttpResponse:
        response = view(request, *args, **kwargs)
        response["Referrer-Policy"] = "no-referrer"
        response["X-Robots-Tag"] = "noindex, nofollow, noarchive"
        response["Cache-Control"] = "no-store, private"
        return response

    return private


def by_link(view: Callable) -> Callable:
    """The view is given the handout that its link opens, and speaks the person's language; a dead link says why."""

    @wraps(view)
    def opened(request: HttpRequest, token: str) -> HttpResponse:
        try:
            found = links.opened(token)
        except links.LinkDead as dead:
            return gone(request, dead)
        with translation.override(found.language):
            return view(request, found, token)

    return opened


@kept_private
@require_safe
@by_link
def handout(request: HttpRequest, found: Handout, token: str) -> HttpResponse:
    """How to put this shell on, take it off and look after it; or, kindly, why there is nothing here."""
    return page(request, found, ProblemForm())


def page(request: HttpRequest, found: Handout, problem: ProblemForm, status: int = 200) -> HttpResponse:
    """The whole page with its form for a problem. It holds its own link nowhere: addresses in it count from it."""
    context = {**handout_page(found), "problem": problem}
    return told_as(found.language, render(request, "orders/handout.html", context, status=status))


def told_as(language: str, response: HttpResponse) -> HttpResponse:
    """A page that is in this language, whatever the browser's is; its header would tell the browser's."""
    response["Content-Language"] = language
    return response


def gone(request: HttpRequest, dead: links.LinkDead) -> HttpResponse:
    """What to do about a link that doesn't open, with the clinic's number where the link was once right.

    In the page's own language where it was; a link that is wrong tells none.
    """
    clinic = dead.handout.order.clinic if dead.handout else None
    context = {"why": dead.why, "clinic": clinic, **calls(clinic)}
    language = dead.handout.language if dead.handout else translation.get_language()
    with translation.override(language):
        return told_as(language, render(request, "orders/handout_gone.html", context, status=GONE[dead.why]))
