"""The workshop makes an order: stages, what came out, packing and shipping; and the papers that go along."""

import uuid

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from orders import moves
from orders.access import order_to_make
from orders.figure_rows import digits
from orders.making_forms import InspectionForm, ShipForm, lead_to_error
from orders.making_page import MAKING, shell_of_side, shells_made
from orders.models import Order, Shipment, StageDone
from orders.models.event import note_look
from orders.order_page import shells_shown
from orders.promise import late_words
from orders.square_code import square_code
from orders.when import due_words
from project.access import WORKSHOP, for_members
from project.models import Member


def order_being_made(member: Member, order_id: uuid.UUID) -> Order:
    """A confirmed order of this member's workshop, or Http404."""
    found = order_to_make(member, order_id)
    if found.state not in MAKING:
        raise Http404
    return found


@require_safe
@for_members(*WORKSHOP)
def making(request: HttpRequest, order_id: uuid.UUID) -> HttpResponse:
    """Where the making stands, and the next thing to write down."""
    found = order_being_made(request.member, order_id)
    note_look(found, request.member)
    return making_page(request, found)


def making_page(
    request: HttpRequest,
    found: Order,
    inspection: InspectionForm | None = None,
    shipping: ShipForm | None = None,
    status: int = 200,
) -> HttpResponse:
    """The page, with the form that was just refused where there is one."""
    current = found.current
    context = {
        "order": found,
        "current": current,
        "shells": shells_made(found, current, inspection),
        "shipment": Shipment.objects.select_related("by").filter(order=found).first(),
        "ship_form": shipping or ShipForm(),
        "may_start": moves.may_move(found, "start", request.member),
        "may_ship": moves.may_move(found, "ship", request.member),
        "late": late_words(found.promised_for, found.need_by),
        "due": due_words(found.promised_for, timezone.localdate()) if found.promised_for else "",
    }
    return render(request, "orders/making.html", context, status=status)


@require_POST
@for_members(*WORKSHOP)
def start(request: HttpRequest, order_id: uuid.UUID) -> HttpResponse:
    """Begins to make; pressed twice it has begun already."""
    found = order_to_make(request.member, order_id)
    try:
        moves.start(found, request.member)
    except moves.Changed as changed:
        if changed.order.state not in MAKING:
            return changed_page(request, changed.order)
    return redirect("orders:making", order_id=found.id)


@require_POST
@for_members(*WORKSHOP)
def stage(request: HttpRequest, order_id: uuid.UUID) -> HttpResponse:
    """Marks a stage of one shell as done, or takes the mark back."""
    found = order_being_made(request.member, order_id)
    side, key = request.POST.get("side", ""), request.POST.get("stage", "")
    if shell_of_side(found.current, side) is None or key not in StageDone.Stage.values:
        raise Http404
    try:
        moves.mark_stage(found, request.member, side, key, done=request.POST.get("done") == "1")
    except moves.Changed as changed:
        return changed_page(request, changed.order)
    return redirect(f"{reverse('orders:making', args=[found.id])}#stages-{side}")


@require_POST
@for_members(*WORKSHOP)
def inspect(request: HttpRequest, order_id: uuid.UUID) -> HttpResponse:
    """Writes down what came out; what is wrong stands at its field, and all that was typed stays."""
    found = order_being_made(request.member, order_id)
    shell = shell_of_side(found.current, request.POST.get("side", ""))
    if shell is None:
        raise Http404
    form = InspectionForm(request.POST, shell=shell)
    if not form.is_valid():
        lead_to_error(form)
        return making_page(request, found, inspection=form, status=422)
    try:
        moves.inspect(found, request.member, form.inspection(moves.attempt_of(found, shell.side)))
    except moves.Changed as changed:
        return changed_page(request, changed.order)
    return redirect(f"{reverse('orders:making', args=[found.id])}#made-{shell.side}")


@require_POST
@for_members(*WORKSHOP)
def ship(request: HttpRequest, order_id: uuid.UUID) -> HttpResponse:
    """The order leaves, with whom and under which number."""
    found = order_being_made(request.member, order_id)
    form = ShipForm(request.POST)
    if not form.is_valid():
        lead_to_error(form)
        return making_page(request, found, shipping=form, status=422)
    try:
        moves.ship(found, request.member, form.cleaned_data["carrier"], form.cleaned_data["number"])
    except moves.Changed as changed:
        return changed_page(request, changed.order)
    return redirect(f"{reverse('orders:making', args=[found.id])}#shipping")


def changed_page(request: HttpRequest, now: Order) -> HttpResponse:
    """Nothing was written down: what the order is now."""
    return render(request, "orders/making_changed.html", {"order": now}, status=409)


@require_safe
@for_members(*WORKSHOP)
def traveller(request: HttpRequest, order_id: uuid.UUID) -> HttpResponse:
    """The sheet that goes along with the shell through the room, to be printed."""
    found = order_being_made(request.member, order_id)
    current = found.current
    address = settings.SITE_ADDRESS.rstrip("/") + reverse("orders:making", args=[found.id])
    context = {
        "order": found,
        "current": current,
        "pairs": list(zip(shells_shown(current, None), shells_made(found, current), strict=True)),
        "square": square_code(address),
        "address": address,
    }
    return render(request, "orders/traveller.html", context)


def trim_words(catalogue: dict) -> str:
    """What is left to trim at the fitting; "" for nothing."""
    if not catalogue["trim_mm"]:
        return ""
    left = digits(catalogue["trim_mm"], 1)
    if catalogue["trim_line_marked"]:
        return _("{mm} mm are left to trim below the marked line.").format(mm=left)
    return _("{mm} mm are left to trim at the bottom edge.").format(mm=left)


@require_safe
@for_members(*WORKSHOP)
def packing_slip(request: HttpRequest, order_id: uuid.UUID) -> HttpResponse:
    """What lies in the parcel: the reference and the shells, nothing else of the person; to be printed."""
    found = order_being_made(request.member, order_id)
    current = found.current
    context = {
        "order": found,
        "current": current,
        "shells": shells_made(found, current),
        "shipment": Shipment.objects.filter(order=found).first(),
        "today": timezone.localdate(),
        "trim": trim_words(current.catalogue.content),
    }
    return render(request, "orders/packing_slip.html", context)
