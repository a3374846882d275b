"""The workshop's bench."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from orders.bench import Place, bench_filter, orders_on_bench, read_wanted
from orders.bench_lines import bench_groups
from orders.lookups import bench_rows
from project.access import WORKSHOP, for_members


@require_safe
@for_members(*WORKSHOP)
def bench(request: HttpRequest) -> HttpResponse:
    """The queue, a page at a time."""
    wanted = read_wanted(request.GET)
    ids, follows = orders_on_bench(request.member, wanted, Place.read(request.GET.get("after", "")))
    rows = bench_rows(request.member, ids)
    page = {
        "groups": bench_groups(rows, timezone.localdate(), timezone.now()),
        "lines": bench_filter(request.member, wanted),
        "find": wanted.find,
        "follows": follows,
        "later": "after" in request.GET,
        "first_page": page_address(request),
        "next_page": page_address(request, follows),
    }
    return render(request, "orders/bench.html", page)


def page_address(request: HttpRequest, after: Place | None = None) -> str:
    """The address of what is shown now, from the start or from the row after a place."""
    asked = request.GET.copy()
    asked.pop("after", None)
    if after:
        asked["after"] = str(after)
    return f"{request.path}?{asked.urlencode()}" if asked else request.path
