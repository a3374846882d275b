"""The clinic's orders, whoever of it sent them: what waits, for whom and how long."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from orders.bench_lines import EVENT_WORDS
from orders.clinic_list import GROUPS, NEWS, Place, groups_of, row_mark, waits_since
from orders.news import news_of
from orders.when import ago_words
from project.access import CLINIC, for_members


@require_safe
@for_members(*CLINIC)
def orders(request: HttpRequest) -> HttpResponse:
    """The list in groups; `?find=` looks for a reference, `?show=` shows one group by pages, or what has news."""
    find = request.GET.get("find", "").strip()[:40]
    only = request.GET.get("show", "")
    only = only if only in GROUPS or only == NEWS else ""
    news, now = news_of(request.member), timezone.now()
    after = Place.read(request.GET.get("after", "")) if only in GROUPS and not find else None
    groups = groups_of(request.member, news, find, only, after)
    for group in groups:
        for row in group.orders:
            row.news = _(EVENT_WORDS[news[row.id]]) if row.id in news else ""
            row.since = ago_words(waits_since(row), now)
            row.sides = [side for side in (row.first_side, row.second_side) if side]
            row.marks = [row_mark(side) for side in row.sides]
    context = {"groups": groups, "find": find, "only": only, "with_news": news, "later": after is not None}
    return render(request, "orders/clinic_orders.html", context)
