"""The handout's link, for the clinic: made, shown once, replaced, withdrawn."""

from django.conf import settings
from django.contrib import messages
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from orders import handout, moves
from orders.access import order_to_read
from orders.clinic_page import links_of, may_have_handout, open_link
from orders.models import Handout, Order
from orders.square_code import square_code
from orders.views.clinic import changed_page
from project.access import CLINIC, for_members
from project.models import Member


@require_POST
@for_members(*CLINIC)
def make(request: HttpRequest, order_id) -> HttpResponse:
    """Makes a link and shows it, this once: the token is in no address, no log and no table."""
    found = order_to_read(request.member, order_id)
    try:
        asked = request.POST.get("replaces", ""), request.POST.get("language", "en")
        made, token = link_made(found, request.member, *asked)
    except moves.Changed as changed:
        return changed_page(request, changed.order, _("No link was made."), why_not(changed.order))
    link = settings.SITE_ADDRESS.rstrip("/") + reverse("orders:handout", args=[token])
    language = handout.LANGUAGES[made.language]
    context = {"order": found, "made": made, "language": language, "link": link, "square": square_code(link)}
    response = render(request, "orders/clinic_handout.html", context)
    response["Cache-Control"] = "no-store, private"
    response["Referrer-Policy"] = "no-referrer"
    return response


@transaction.atomic
def link_made(found: Order, member: Member, replaces: str, language: str) -> tuple[Handout, str]:
    """A new link in place of the one the page showed ("" for none). Raises moves.Changed.

    A form that is sent twice, or a page that is loaded again, must not stop the link that was just handed over.
    """
    now = Order.objects.select_for_update(of=("self",)).get(id=found.id)
    working = open_link(links_of(now))
    if language not in handout.LANGUAGES:
        raise Http404
    if not may_have_handout(now) or replaces != (str(working.id) if working else ""):
        raise moves.Changed(now)
    return handout.make(found, member, language)


def why_not(now: Order) -> str:
    """What the clinic should know when no link was made."""
    if not may_have_handout(now):
        return _("A link can be made once the workshop has confirmed the order.")
    return _(
        "A link was made or withdrawn since you opened the page. A link that was made just now still works: "
        "it was shown once, to who made it. Lost it? Make another from the order's page."
    )


@require_POST
@for_members(*CLINIC)
def withdraw(request: HttpRequest, order_id) -> HttpResponse:
    """The link stops working; a second time there is nothing to stop, and that is said."""
    found = order_to_read(request.member, order_id)
    if handout.withdraw_all(found, request.member):
        messages.success(request, _("The handout's link is withdrawn. It does not open any more."))
    else:
        messages.info(request, _("There was no open link to withdraw."))
    return redirect(f"{reverse('orders:clinic-order', args=[found.id])}#handout")
