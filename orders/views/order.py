"""One order, and its confirmation."""

from datetime import date

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from orders import moves
from orders.access import order_to_make
from orders.asking import may_ask
from orders.clinic_page import versions
from orders.documents.offered import offered
from orders.documents.store import make_soon
from orders.lookups import happened_to, last_looks, revisions_of
from orders.making_forms import ConfirmForm
from orders.models import Order, Revision
from orders.models.event import note_look
from orders.order_page import (
    changes_between,
    confirmation,
    history_lines,
    may_be_confirmed,
    revision_before,
    shells_shown,
    waits_because,
)
from orders.photos import photos_of
from orders.promise import earliest_promise, late_words, lead_time_words
from orders.talk import talk
from orders.when import due_words
from project.access import WORKSHOP, for_members
from project.dates import date_format
from project.models import Member


@require_safe
@for_members(*WORKSHOP)
def order(request: HttpRequest, order_id) -> HttpResponse:
    """The order with its current revision, or with the one that `?revision=` names, held against `?before=`."""
    found = order_to_make(request.member, order_id)
    revisions = revisions_of(found)
    read = revision_asked(revisions, request.GET.get("revision", ""), found)
    before = held_against(request, found, revisions, read)
    note_look(found, request.member)
    context = order_context(request.member, found, revisions, read, before)
    return render(request, "orders/order.html", context)


def held_against(
    request: HttpRequest, found: Order, revisions: list[Revision], read: Revision
) -> Revision | None:
    """The older revision to show the changes from: asked for, else as it was last looked at. Http404 for no such one."""
    asked = request.GET.get("before", "")
    before = revision_before(revisions, read, asked, last_looks(request.member, [found.id]).get(found.id))
    if asked and before is None:
        raise Http404
    return before


def revision_asked(revisions: list[Revision], asked: str, found: Order) -> Revision:
    """The revision with this number, the current one where none is named, or Http404."""
    number = asked or str(found.revision_number)
    for revision in revisions:
        if str(revision.number) == number:
            return revision
    raise Http404


def order_context(
    member: Member, found: Order, revisions: list[Revision], read: Revision, before: Revision | None
) -> dict:
    """What the page is made from."""
    happened = happened_to(found)
    current = next(revision for revision in revisions if revision.number == found.revision_number)
    return {
        "order": found,
        "read": read,
        "current": current,
        "before": before,
        "revisions": revisions,
        "shells": shells_shown(read, before, photos_of(read, found.person.reference)),
        "photo_page": "orders:photo",
        "changes": changes_between(before, read),
        "history": history_lines(happened),
        "confirmed": confirmation(happened),
        "talk": talk(found, len(read.entries) > 1),
        "may_ask": may_ask(found, read, member),
        "versions": versions(found, current),
        "documents": offered(found, read, member),
        "may_confirm": may_be_confirmed(found, read, member),
        "waits": waits_because(found),
        "confirm_form": confirm_form(read),
        "lead_time": lead_time_words(read.catalogue.content),
        "late": late_words(found.promised_for, found.need_by),
        "due": due_words(found.need_by, timezone.localdate()) if found.need_by else "",
    }


def confirm_form(read: Revision, data: QueryDict | None = None) -> ConfirmForm:
    """The promised day, at first the earliest there can be."""
    return ConfirmForm(data, earliest=earliest_promise(read.catalogue.content, timezone.localdate()))


@require_POST
@for_members(*WORKSHOP)
def confirm(request: HttpRequest, order_id) -> HttpResponse:
    """Confirms the very revision that was read, named by its seal; otherwise nothing happens, and it is said why."""
    found = order_to_make(request.member, order_id)
    seal_sha256 = request.POST.get("seal", "")
    revisions = revisions_of(found)
    read = next((revision for revision in revisions if revision.seal.sha256 == seal_sha256), None)
    if read is None or not may_be_confirmed(found, read, request.member):
        return render(request, "orders/changed.html", changed_context(found, seal_sha256), status=409)
    form = confirm_form(read, request.POST)
    try:
        if form.is_valid():
            moves.confirm(found, seal_sha256, request.member, form.cleaned_data["promised_for"])
            make_soon(found)
            return redirect("orders:order", order_id=found.id)
    except moves.Changed as changed:
        return render(request, "orders/changed.html", changed_context(changed.order, seal_sha256), status=409)
    except moves.TooEarly as early:
        form.add_error("promised_for", too_early_words(read.catalogue.content, early.earliest))
    context = order_context(request.member, found, revisions, read, revision_before(revisions, read))
    return render(request, "orders/order.html", {**context, "confirm_form": form}, status=422)


def too_early_words(catalogue: dict, earliest: date) -> str:
    """Why a day can't be promised."""
    return _("Your catalogue's lead time is {days}: the first day that can be promised is {day}.").format(
        days=lead_time_words(catalogue), day=date_format(earliest, "D j M")
    )


def changed_context(now: Order, seal_sha256: str) -> dict:
    """Why nothing was confirmed: what the order is now, and what differs from the revision that was read."""
    revisions = revisions_of(now)
    current = next(revision for revision in revisions if revision.number == now.revision_number)
    read = next((revision for revision in revisions if revision.seal.sha256 == seal_sha256), None)
    older = read if read and read.number != current.number else None
    return {
        "order": now,
        "read": read,
        "current": current,
        "changes": changes_between(older, current),
        "confirmed": confirmation(happened_to(now)),
        "waits": waits_because(now),
    }
