"""The page of the design's parts."""

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from capture.design import render_design
from project import build
from project.access import for_members


@require_safe
@for_members()
def design(request: HttpRequest) -> HttpResponse:
    """Every component in every state, for who works on the site."""
    return HttpResponse(render_design(build.static_prefix()))
