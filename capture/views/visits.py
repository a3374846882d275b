"""The phone's one page. It holds nobody's data: what it shows comes from the phone's own store."""

import re

from django.http import HttpRequest, HttpResponse
from django.utils.cache import patch_vary_headers
from django.utils.translation import get_language
from django.views.decorators.gzip import gzip_page
from django.views.decorators.http import condition, require_safe

from project import build
from project.access import CLINIC, for_members

BROTLI = re.compile(r"\bbr\b(?!\s*;\s*q=0(\.0*)?\s*(,|$))")


def which_page(request: HttpRequest, *args, **kwargs) -> str:
    """Build and language: a phone that has this page already need not load it again to keep it. Weak, since the same
    page goes out compressed in several ways (RFC 9110, 8.8.1)."""
    return f'W/"{build.build_id()}-{get_language() or "en"}"'


@gzip_page  # it holds no secret that its compressed length could tell
@require_safe
@for_members(*CLINIC)
@condition(etag_func=which_page)
def visits(request: HttpRequest) -> HttpResponse:
    """Visits, the measuring sheet, check and send: one page, made when the site was built."""
    takes_brotli = bool(BROTLI.search(request.headers.get("Accept-Encoding", "")))
    page = HttpResponse(build.sheet_page(get_language() or "en", compressed=takes_brotli))
    page["Cache-Control"] = "no-cache"
    patch_vary_headers(page, ["Accept-Encoding"])
    if takes_brotli:
        page["Content-Encoding"] = "br"
    return page
