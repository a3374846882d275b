"""The clinic's component cards: its own notes on the knees and feet it fits often."""

import uuid

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from capture import lookups, services
from capture.access import card_to_edit
from capture.card_form import CardForm
from capture.cards import KINDS
from capture.models import ComponentCard
from project.access import CLINIC, for_members


@require_safe
@for_members(*CLINIC)
def cards(request: HttpRequest) -> HttpResponse:
    """Every card in use, knees first."""
    in_use = list(lookups.cards_in_use(request.member))
    groups = [(kind, label, [card for card in in_use if card.kind == kind]) for kind, label in named_kinds()]
    return render(request, "capture/cards.html", {"groups": groups})


def named_kinds() -> list[tuple[str, str]]:
    """Each kind with what a heading calls it."""
    return list(zip(KINDS, (_("Knees"), _("Feet")), strict=True))


@require_http_methods(["GET", "HEAD", "POST"])
@for_members(*CLINIC)
def card_new(request: HttpRequest, kind: str) -> HttpResponse:
    """A new card of one kind."""
    if kind not in KINDS:
        raise Http404
    return card_page(request, kind, None)


@require_http_methods(["GET", "HEAD", "POST"])
@for_members(*CLINIC)
def card_edit(request: HttpRequest, card_id: uuid.UUID) -> HttpResponse:
    """A card that is there, to be changed."""
    card = card_to_edit(request.member, card_id)
    return card_page(request, card.kind, card)


def card_page(request: HttpRequest, kind: str, card: ComponentCard | None) -> HttpResponse:
    """The form; what is wrong stands at its field, and nothing typed is lost."""
    clinic_id = request.member.organisation_id
    form = CardForm(kind, clinic_id, card, request.POST if request.method == "POST" else None)
    if form.is_valid():
        given = form.cleaned_data
        if services.keep_card(request.member, card, kind, given["label"], given["allows_shell"], form.holds):
            messages.success(request, _("Kept: %(label)s. Phones get it at their next signal.") % given)
            return redirect("capture:cards")
        form.add_error("label", _("Another card is called so. Give this one a name of its own."))
    context = {"form": form, "kind": kind, "card": card}
    return render(request, "capture/card.html", context, status=422 if form.errors else 200)


@require_POST
@for_members(*CLINIC)
def card_retire(request: HttpRequest, card_id: uuid.UUID) -> HttpResponse:
    """The card is offered to no phone any more."""
    card = card_to_edit(request.member, card_id)
    services.retire_card(request.member, card)
    messages.success(request, _("Retired: %(label)s.") % {"label": card.label})
    return redirect("capture:cards")
