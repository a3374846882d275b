"""A member's own settings: the language and the units that they read and measure in."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from project.access import for_members
from project.forms import SettingsForm
from project.members import speak_to


@require_http_methods(["GET", "HEAD", "POST"])
@for_members()
def own_settings(request: HttpRequest) -> HttpResponse:
    """Kept with the member, so that every phone and desk of theirs has them."""
    form = SettingsForm(request.POST or None, instance=request.member)
    if request.method == "POST" and form.is_valid():
        form.save()
        speak_to(request.member)
        messages.success(request, _("Kept. A phone takes the language at its next signal."))
        return redirect("settings")
    return render(request, "project/settings.html", {"form": form}, status=422 if form.errors else 200)
