"""The clinic's orders, whoever of it sent them: what waits, for whom and how long."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from orders.clinic_list import GROUPS, groups_of, row_mark, waits_since
from orders.when import ago_words
from project.access import CLINIC, for_members


@require_safe
@for_members(*CLINIC)
def orders(request: HttpRequest) -> HttpResponse:
    """The list in groups; `?find=` looks in the references, `?show=` shows one group."""
    find = request.GET.get("find", "").strip()[:40]
    only = request.GET.get("show", "")
    only = only if only in GROUPS else ""
    groups, now = groups_of(request.member, find, only), timezone.now()
    for group in groups:
        for row in group.orders:
            row.since = ago_words(waits_since(row), now)
            row.sides = [side for side in (row.first_side, row.second_side) if side]
            row.marks = [row_mark(side) for side in row.sides]
    context = {"groups": groups, "find": find, "only": only}
    return render(request, "orders/clinic_orders.html", context)
