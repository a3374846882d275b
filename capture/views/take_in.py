"""The office's page for a file that a phone saved because it could not send."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from capture import parcels
from project.access import CLINIC, for_members


@require_http_methods(["GET", "HEAD", "POST"])
@for_members(*CLINIC)
def take_in(request: HttpRequest) -> HttpResponse:
    """Asks for the file; with one, says what became of each entry in it."""
    if request.method != "POST":
        return render(request, "capture/take_in.html")
    file = request.FILES.get("file")
    if file is None:
        return render(request, "capture/take_in.html", {"says": _("Choose the file first.")}, status=422)
    try:
        taken = parcels.take_in(request.member, file)
    except parcels.NoParcel as refusal:
        return render(request, "capture/take_in.html", {"says": str(refusal)}, status=422)
    return render(request, "capture/take_in.html", {"taken": taken})
