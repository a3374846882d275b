"""One order as the clinic that sent it sees it; picking between two versions; cancelling."""

from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from orders import handout, moves, proposal
from orders.access import order_to_read
from orders.clinic_page import links_of, may_have_handout, open_link, versions
from orders.documents.offered import offered
from orders.intake import Kept, picked_revision
from orders.lookups import happened_to, revisions_of
from orders.models import Order, Revision, Shipment
from orders.models.event import note_look
from orders.order_page import changes_between, confirmation, history_lines, revision_before, shells_shown
from orders.photos import photos_of
from orders.problems import problems_of
from orders.promise import late_words
from orders.talk import talk, with_outcomes
from orders.when import due_words
from project.access import CLINIC, for_members
from project.models import Member


@require_safe
@for_members(*CLINIC)
def order(request: HttpRequest, order_id) -> HttpResponse:
    """The order with its current revision, or with the one that `?revision=` names."""
    found = order_to_read(request.member, order_id)
    context = order_context(
        found, request.member, request.GET.get("revision", ""), request.GET.get("before", "")
    )
    note_look(found, request.member)
    return render(request, "orders/clinic_order.html", context)


def order_context(found: Order, member: Member, asked: str = "", against: str = "") -> dict:
    """What the page is made from. Raises Http404 for a revision that there isn't."""
    revisions = revisions_of(found)
    number = asked or str(found.revision_number)
    read = next((revision for revision in revisions if str(revision.number) == number), None)
    if read is None:
        raise Http404
    current = next(revision for revision in revisions if revision.number == found.revision_number)
    before, happened, links = revision_before(revisions, read, against), happened_to(found), links_of(found)
    if against and before is None:
        raise Http404
    return {
        "order": found,
        "read": read,
        "current": current,
        "before": before,
        "revisions": revisions,
        "shells": shells_shown(read, before, photos_of(read, found.person.reference)),
        "photo_page": "orders:clinic-photo",
        "changes": changes_between(before, read),
        "talk": with_outcomes(talk(found, len(current.entries) > 1), current),
        "versions": versions(found, current),
        "history": history_lines(happened),
        "confirmed": confirmation(happened),
        "documents": offered(found, read, member),
        "may_pick": moves.may_move(found, "pick", member),
        "may_cancel": moves.may_move(found, "cancel", member),
        "shipment": Shipment.objects.filter(order=found).first(),
        "late": late_words(found.promised_for, found.need_by),
        "may_hand_out": may_have_handout(found),
        "handout_languages": handout.LANGUAGES,
        "problems": problems_of(found),
        "links": links,
        "link": open_link(links),
        "due": due_words(found.need_by, timezone.localdate()) if found.need_by else "",
    }


@require_POST
@for_members(*CLINIC)
def pick(request: HttpRequest, order_id) -> HttpResponse:
    """Picks the version that counts, named by its seal, against the one that was current on the page."""
    found = order_to_read(request.member, order_id)
    try:
        revision = revision_picked(found, request.POST.get("seal", ""), request.POST.get("current", ""))
        moves.pick(found, request.member, revision)
    except moves.Changed as changed:
        return changed_page(request, changed.order, _("Nothing was picked."))
    except Kept as kept:
        return changed_page(request, found, _("Nothing was picked."), kept.says)
    return redirect("orders:clinic-order", order_id=found.id)


def revision_picked(found: Order, seal_sha256: str, current_sha256: str) -> Revision | None:
    """The revision that the picked seal makes, or None for the one that is current. Raises moves.Changed, Kept."""
    now = found.current.seal.sha256
    if not found.contested or now != current_sha256:
        raise moves.Changed(found)
    if seal_sha256 == now:
        return None
    rival = found.rivals.filter(settled_at=None, seal__sha256=seal_sha256).select_related("seal").first()
    if rival is None:
        raise moves.Changed(found)
    return picked_revision(found, rival)


@require_http_methods(["GET", "HEAD", "POST"])
@for_members(*CLINIC)
def cancel(request: HttpRequest, order_id) -> HttpResponse:
    """Asks first; then cancels, when the order is still as it was when it was asked."""
    found = order_to_read(request.member, order_id)
    if not moves.may_move(found, "cancel", request.member):
        return changed_page(request, found, _("Nothing was cancelled."))
    if request.method != "POST":
        return render(request, "orders/clinic_cancel.html", {"order": found})
    try:
        take_back(found, request.member, request.POST.get("state", ""))
    except moves.Changed as changed:
        return changed_page(request, changed.order, _("Nothing was cancelled."))
    return redirect("orders:clinic-order", order_id=found.id)


@transaction.atomic
def take_back(found: Order, member: Member, state: str) -> None:
    """Cancels the order, and stops its links with it: there will be no such shell. Raises moves.Changed."""
    if found.state != state:
        raise moves.Changed(found)
    moves.cancel(found, member)
    handout.withdraw_all(found, member)


@require_POST
@for_members(*CLINIC)
def accept(request: HttpRequest, order_id, query_id) -> HttpResponse:
    """Takes what the workshop proposed: the current seal with that one value becomes the next revision."""
    found = order_to_read(request.member, order_id)
    query = found.queries.filter(id=query_id).first()
    if query is None or not query.proposed:
        raise Http404
    current = found.current
    if query.state == "replied":
        return redirect(f"{reverse('orders:clinic-order', args=[found.id])}#query-{query.id}")
    if query.state != "open" or current.seal.sha256 != request.POST.get("seal") or found.contested:
        return changed_page(request, found, _("Nothing was accepted."))
    receipt = proposal.accept(found, query, request.member, current, reasons_given(request.POST))
    if receipt["outcome"] != "ordered":
        return changed_page(request, found, _("Nothing was accepted."), receipt["says"] or "")
    return redirect(f"{reverse('orders:clinic-order', args=[found.id])}#query-{query.id}")


def reasons_given(said: QueryDict) -> dict[str, str]:
    """The reasons typed for what the proposal makes unusual, by flag."""
    return {name.removeprefix("reason:"): said[name][:500] for name in said if name.startswith("reason:")}


def changed_page(request: HttpRequest, now: Order, nothing: str, why: str = "") -> HttpResponse:
    """Why nothing happened, and what the order is now."""
    context = {"order": now, "nothing": nothing, "why": why}
    return render(request, "orders/clinic_changed.html", context, status=409)
