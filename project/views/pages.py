"""The first page, and the pages for when something is not there or goes wrong."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from project.access import for_members


@for_members()
def home(request: HttpRequest) -> HttpResponse:
    """Each to their own first page: a lead sees what is waiting, a clinician the visits, a fabricator the bench."""
    if request.member.in_workshop:
        return redirect("orders:bench")
    return redirect("orders:clinic-orders" if request.member.is_lead else "capture:visits")


def nothing_here(request: HttpRequest) -> HttpResponse:
    raise Http404


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    return render(request, "404.html", status=404)


def failed(request: HttpRequest) -> HttpResponse:
    """Something went wrong here. A phone gets it as JSON, keeps what it has and tries again."""
    if request.path.startswith("/api/"):
        from capture.views.api import problem  # capture knows project, so not at the top

        return problem(500, _("The site failed at this. Everything on this phone stays, and is sent again."))
    return render(request, "500.html", {"member": None}, status=500)


def csrf_failed(request: HttpRequest, reason: str = "") -> HttpResponse:
    """The form is too old, or comes from elsewhere. A phone gets it as JSON."""
    if request.path.startswith("/api/"):
        from capture.views.api import problem  # capture knows project, so not at the top

        return problem(403, _("The phone and the site have lost each other. It will be tried again."))
    return render(request, "403_csrf.html", status=403)
