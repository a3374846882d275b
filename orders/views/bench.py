"""The workshop's bench."""

from django.http import HttpRequest, HttpResponse, HttpResponseNotModified
from django.shortcuts import render
from django.utils import timezone
from django.utils.cache import patch_vary_headers
from django.utils.http import urlencode
from django.views.decorators.http import require_safe

from orders.bench import bench_filter, bench_sortings, fingerprint, orders_on_bench, read_wanted
from orders.bench_lines import bench_groups
from orders.bench_sorting import Place
from orders.lookups import bench_rows
from orders.news import news_of
from project.access import WORKSHOP, for_members

# A page that stands open asks again by itself for so long: each asking keeps the session alive, and a bench that
# nobody looks at must be signed out in the end.
LIVE_SECONDS = 30 * 60


@require_safe
@for_members(*WORKSHOP)
def bench(request: HttpRequest) -> HttpResponse:
    """The queue, a page at a time. An open page asks again: 304 while nothing has moved, else the queue alone."""
    now = timezone.now()
    print_now = fingerprint(request.member, request.GET.urlencode(), now)
    if request.htmx and request.headers.get("If-None-Match") == f'"{print_now}"':
        return told(HttpResponseNotModified(), print_now)
    template = "orders/_bench_live.html" if request.htmx else "orders/bench.html"
    page = {**queue(request), "fingerprint": print_now, "live_until": live_until(request, now.timestamp())}
    return told(render(request, template, page), print_now)


def queue(request: HttpRequest) -> dict:
    """What the page shows of the queue."""
    member, wanted = request.member, read_wanted(request.GET)
    after, news = Place.read(request.GET.get("after", ""), wanted.by), news_of(member)
    ids, follows = orders_on_bench(member, wanted, after)
    return {
        "groups": bench_groups(bench_rows(member, ids), news, timezone.localdate(), timezone.now()),
        "lines": bench_filter(member, wanted, len(news)),
        "sortings": bench_sortings(wanted),
        "with_news": news,
        "by": wanted.by,
        "find": wanted.find,
        "follows": follows,
        "later": after is not None,
        "here": request.get_full_path(),
        "first_page": page_address(request, wanted.asked),
        "next_page": page_address(request, wanted.asked, after=follows.told(wanted.by)) if follows else "",
    }


def told(response: HttpResponse, print_now: str) -> HttpResponse:
    """With the tag to ask with; kept by nobody, since references stand in it."""
    response["ETag"] = f'"{print_now}"'
    response["Cache-Control"] = "no-store, private"
    patch_vary_headers(response, ["HX-Request"])
    return response


def live_until(request: HttpRequest, now: float) -> int:
    """Until when this page asks by itself, in seconds since 1970; 0 when that is over."""
    said = request.headers.get("X-Live-Until", "") if request.htmx else ""
    until = int(said) if said.isascii() and said.isdigit() and len(said) < 12 else int(now) + LIVE_SECONDS
    return until if now < until <= now + LIVE_SECONDS else 0


def page_address(request: HttpRequest, asked: dict[str, str], **more: str) -> str:
    """The address of what is shown now, from the start or from the row after a place."""
    said = urlencode({**asked, **more})
    return f"{request.path}?{said}" if said else request.path
