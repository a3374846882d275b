"""The workshop asks about one entry of an order, and takes a question back."""

import uuid
from collections.abc import Mapping, Sequence

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from orders import moves
from orders.access import order_to_make
from orders.asking import Subject, may_ask, rests_on, subjects
from orders.changes import shells_of
from orders.forms import QueryForm
from orders.lookups import happened_to, revisions_of
from orders.models import Order, Query, Revision
from orders.order_page import changes_between, confirmation, waits_because
from orders.photos import photos_of
from project.access import WORKSHOP, for_members
from project.models import Member

Known = Mapping[str, Sequence[Subject]]


@require_http_methods(["GET", "HEAD", "POST"])
@for_members(*WORKSHOP)
def query_ask(request: HttpRequest, order_id: uuid.UUID) -> HttpResponse:
    """The question about the row that `?revision=&side=&field=` names; asked when it is posted.

    For htmx the form alone, to stand in the row. What can't be asked keeps what was typed: 422 with what is wrong,
    409 with what has changed.
    """
    found = order_to_make(request.member, order_id)
    said = request.POST if request.method == "POST" else request.GET
    read = next((one for one in revisions_of(found) if str(one.number) == said.get("revision")), None)
    if read is None:
        raise Http404
    if not may_ask(found, read, request.member):
        return changed_page(request, found, read)
    known = subjects_of(found, read)
    return (asked if request.method == "POST" else offered)(request, found, read, known)


def subjects_of(found: Order, read: Revision) -> dict[str, list[Subject]]:
    """What can be asked about, by shell's side."""
    photos = photos_of(read, found.person.reference)
    return {
        shell.side: subjects(
            shell.entry, shell.catalogue, [photo for photo in photos if photo.entry == place]
        )
        for place, shell in enumerate(shells_of(read))
    }


def offered(request: HttpRequest, found: Order, read: Revision, known: Known) -> HttpResponse:
    """The form, opened from a row; Http404 for a row that isn't there."""
    side, about = request.GET.get("side", ""), request.GET.get("field", "")
    near = rests_on(about, known.get(side, ()))
    if not near:
        raise Http404
    started = {"revision": read.number, "side": side, "field": near[0].field}
    # More than one row may hold its form at once: each needs ids of its own.
    form = QueryForm(
        initial=started,
        known=known,
        shells=shells_of(read),
        side=side,
        about=about,
        auto_id=f"{side}-{about}-%s",
    )
    return form_page(request, found, read, form)


def asked(request: HttpRequest, found: Order, read: Revision, known: Known) -> HttpResponse:
    """Asks what was posted, or says what is wrong with it."""
    side, about = request.POST.get("side", ""), request.POST.get("field", "")
    form = QueryForm(request.POST, known=known, shells=shells_of(read), side=side, about=about)
    if not form.is_valid():
        return form_page(request, found, read, form, status=422)
    try:
        query = query_once(found, read, request.member, form.cleaned_data)
    except moves.Changed as changed:
        return changed_page(request, changed.order, read)
    except moves.NotYours:
        raise Http404 from None
    return redirect(thread_of(found, query))


def query_once(found: Order, read: Revision, member: Member, wanted: dict) -> Query:
    """The query: asked now, or just before by the same press of the button. Raises moves.Changed, moves.NotYours."""
    said = {name: wanted[name] for name in ("side", "field", "text", "proposed")}
    same = (query for query in moves.open_queries(found) if said.items() <= vars(query).items())
    return next(same, None) or moves.query(found, member, read, **said)


def form_page(
    request: HttpRequest, found: Order, read: Revision, form: QueryForm, status: int = 200, **more: object
) -> HttpResponse:
    """The form on a page of its own, or alone for the row that asked for it."""
    template = "orders/_ask_form.html" if request.htmx else "orders/query_ask.html"
    context = {"order": found, "read": read, "form": form, "may_ask": may_ask(found, read, request.member)}
    return render(request, template, {**context, **more}, status=status)


def changed_page(request: HttpRequest, now: Order, typed_on: Revision) -> HttpResponse:
    """Nothing was asked: what the order is now, and the question as it was typed, to be sent again or not."""
    read = next(revision for revision in revisions_of(now) if revision.number == now.revision_number)
    said = (request.POST if request.method == "POST" else request.GET).dict()
    known, side = subjects_of(now, read), said.get("side", "")
    form = QueryForm(
        initial={**said, "revision": read.number},
        known=known,
        shells=shells_of(read),
        side=side,
        about=said.get("field", ""),
    )
    older = typed_on if typed_on.number != read.number else None
    more = {
        "nothing": _("Your question was not sent"),
        "older": older,
        "changes": changes_between(older, read),
        "confirmed": confirmation(happened_to(now)),
        "waits": waits_because(now),
    }
    return form_page(request, now, read, form, status=409, **more)


@require_POST
@for_members(*WORKSHOP)
def query_withdraw(request: HttpRequest, order_id: uuid.UUID, query_id: uuid.UUID) -> HttpResponse:
    """Takes an open question back. One that is withdrawn already is; one that was answered stays, and it is said."""
    found = order_to_make(request.member, order_id)
    query = found.queries.filter(id=query_id).first()
    if query is None:
        raise Http404
    try:
        moves.withdraw(found, query, request.member)
    except moves.Changed as changed:
        query = Query.objects.get(id=query.id)
        if query.state != "withdrawn":
            context = {"order": changed.order, "query": query}
            return render(request, "orders/query_not_withdrawn.html", context, status=409)
    except moves.NotYours:
        raise Http404 from None
    return redirect(thread_of(found, query))


def thread_of(found: Order, query: Query) -> str:
    """Where the query stands on the order's page."""
    return f"{reverse('orders:order', args=[found.id])}#query-{query.id}"
