"""The phone's one page. It holds nobody's data: what it shows comes from the phone's own store."""

from django.http import HttpRequest, HttpResponse
from django.utils.translation import get_language
from django.views.decorators.gzip import gzip_page
from django.views.decorators.http import condition, require_safe

from project import build
from project.access import CLINIC, for_members


def which_page(request: HttpRequest, *args, **kwargs) -> str:
    """Build and language: a phone that has this page already need not load it again to keep it."""
    return f'"{build.build_id()}-{get_language() or "en"}"'


@gzip_page  # it holds no secret that its compressed length could tell
@require_safe
@for_members(*CLINIC)
@condition(etag_func=which_page)
def visits(request: HttpRequest) -> HttpResponse:
    """Visits, the measuring sheet, check and send: one page, made when the site was built."""
    page = HttpResponse(build.sheet_page(get_language() or "en"))
    page["Cache-Control"] = "no-cache"
    return page
