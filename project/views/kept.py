"""What was sent when the session had ended: sent now, or let go."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from project.access import for_members
from project.kept_forms import kept_for


@require_http_methods(["GET", "HEAD", "POST"])
@for_members()
def kept_form(request: HttpRequest) -> HttpResponse:
    """Offers what waits to be sent. Any form that is sent, this page's own too, lets go of it."""
    kept = kept_for(request)
    if request.method == "POST" or kept is None:
        return redirect("home")
    response = render(request, "project/kept_form.html", {"kept": kept})
    response["Cache-Control"] = "no-store, private"
    return response
