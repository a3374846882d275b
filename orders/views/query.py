"""The workshop asks about one entry, and takes a question back."""

import uuid

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from orders import moves
from orders.access import order_to_make
from orders.forms import QueryForm
from orders.lookups import revisions_of
from orders.models import Order, Revision
from orders.order_page import changes_between
from orders.talk import about_words
from project.access import WORKSHOP, for_members


@require_http_methods(["GET", "HEAD", "POST"])
@for_members(*WORKSHOP)
def query_ask(request: HttpRequest, order_id: uuid.UUID) -> HttpResponse:
    """The form with the entry it is about; asking sends the order back to the clinic."""
    order = order_to_make(request.member, order_id)
    asked = request.POST if request.method == "POST" else request.GET
    revision = next((one for one in revisions_of(order) if str(one.number) == asked.get("revision")), None)
    if revision is None:
        raise Http404
    form = QueryForm(revision, request.POST or None, initial=request.GET.dict())
    if not form.is_valid():
        return query_page(request, order, form, status=422 if request.method == "POST" else 200)
    question = form.cleaned_data
    try:
        moves.query(order, request.member, revision, question["side"], question["field"], question["text"])
    except moves.Changed as changed:
        return changed_page(request, changed.order, revision, question)
    return redirect(order_page(order))


def query_page(request: HttpRequest, order: Order, form: QueryForm, status: int, **more: object) -> HttpResponse:
    """The form, saying what it asks about and keeping what was typed."""
    side, field = form["side"].value() or "", form["field"].value() or ""
    context = {"order": order, "form": form, "about": about_words(field), "side": side, "field": field, **more}
    return render(request, "orders/query_ask.html", context, status=status)


def changed_page(request: HttpRequest, order: Order, read: Revision, question: dict) -> HttpResponse:
    """Nothing was asked: what differs now, with the question kept, ready to be asked of the newer revision."""
    current = order.current
    form = QueryForm(current, question)
    more = {
        "read": read,
        "current": current,
        "changes": changes_between(read if read.number != current.number else None, current),
        "may_ask": moves.may_move(order, "query", request.member),
        "changed": True,
    }
    return query_page(request, order, form, 409, **more)


@require_POST
@for_members(*WORKSHOP)
def query_withdraw(request: HttpRequest, order_id: uuid.UUID, query_id: uuid.UUID) -> HttpResponse:
    """Takes an open question back; one that was answered meanwhile stays, and the page shows the answer."""
    order = order_to_make(request.member, order_id)
    asked = order.queries.filter(id=query_id).first()
    if asked is None:
        raise Http404
    try:
        moves.withdraw(order, asked, request.member)
    except moves.Changed:
        return redirect(f"{order_page(order)}#query-{asked.id}")
    return redirect(order_page(order))


def order_page(order: Order) -> str:
    """The order's address."""
    return reverse("orders:order", args=[order.id])
