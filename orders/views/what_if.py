"""What if: a workshop tries another gap, strap place, girth or wall on an order, and nothing is stored."""

from dataclasses import dataclass

from django.forms import BoundField
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from orders.access import order_to_make
from orders.changes import Shell, shells_of
from orders.drawings import drawing_to_scale
from orders.figure_rows import digits, figure_rows
from orders.forms import WhatIfForm
from orders.lookups import revisions_of
from orders.models import Order, Revision
from orders.models.event import note_look
from orders.order_page import revision_before
from orders.reckon import CatalogueError
from orders.rulebook.book import load_book
from orders.views.order import order_context, revision_asked
from orders.what_if import (
    STRAPS,
    beside_of,
    flags_tried,
    kept_by_mechanism,
    shell_tried,
    started,
)
from project.access import WORKSHOP, for_members


@require_safe
@for_members(*WORKSHOP)
def what_if(request: HttpRequest, order_id) -> HttpResponse:
    """The figures, flags and drawing of the shell that `?revision=&side=` names, with what else the address says.

    For htmx the figures' part of the page, or, from the form itself, only what follows from it.
    """
    found = order_to_make(request.member, order_id)
    revisions = revisions_of(found)
    read = revision_asked(revisions, request.GET.get("revision", ""), found)
    tried = tried_context(request, found, read)
    if request.htmx:
        again = request.htmx.target == f"follows-{tried['side']}"
        template = "orders/_what_if_again.html" if again else "orders/_what_if.html"
        return render(request, template, {"order": found, "read": read, "tried": tried})
    note_look(found, request.member)
    context = order_context(request.member, found, revisions, read, revision_before(revisions, read))
    return render(request, "orders/order.html", {**context, "tried": tried, "may_ask": False})


def shell_asked(read: Revision, side: str) -> tuple[int, Shell]:
    """The revision's shell on that side and its place among them, or Http404."""
    for place, shell in enumerate(shells_of(read)):
        if shell.side == side:
            return place, shell
    raise Http404


def tried_context(request: HttpRequest, found: Order, read: Revision) -> dict:
    """What follows from what was typed; what can't be read stays as it was sent, and is said at its field."""
    place, sent = shell_asked(read, request.GET.get("side", ""))
    begun = started(sent)
    form = WhatIfForm(
        begun | request.GET.dict(),
        started=begun,
        walls=sent.catalogue["walls"],
        auto_id=f"what-if-{sent.side}-%s",
    )
    form.is_valid()
    beside = beside_of(found, read, place)
    before = shell_tried(sent, {}, beside)
    tried, wished = tried_or_before(form, before, beside)
    rows = figure_rows(tried.entry, tried.result, (before.entry, before.result))
    flags, gone = flags_tried(before, tried)
    return {
        "side": sent.side,
        "fields": fields_tried(form, kept_by_mechanism(tried, wished)),
        "changed": [row for row in rows if row.was],
        "same": [row for row in rows if not row.was],
        "flags": flags,
        "gone": gone,
        "drawing": drawing_to_scale(tried.entry, tried.result, tried.catalogue),
        "other_book": read.book_sha256 != load_book().sha256,
    }


@dataclass(frozen=True)
class FieldTried:
    """A field of the form with what is said at it: what is wrong, or where the mechanism keeps a strap."""

    field: BoundField
    error: str
    note: str


def fields_tried(form: WhatIfForm, kept: dict[str, float]) -> list[FieldTried]:
    """The form's fields, each with what is said at it. `kept` as `kept_by_mechanism` gives it."""
    note = _("The mechanism keeps it at {place} mm.")
    return [
        FieldTried(
            field=field,
            error=" ".join(field.errors),
            note=note.format(place=digits(kept[field.name], 1)) if field.name in kept else "",
        )
        for field in form
    ]


def tried_or_before(form: WhatIfForm, before: Shell, beside: dict) -> tuple[Shell, dict]:
    """The shell as wished, with the wishes; a strap place that can't be is said at its field and not tried."""
    wished = form.wished
    try:
        return shell_tried(before, wished, beside), wished
    except CatalogueError as error:
        moved = [field for field in STRAPS if field in wished]
        wrong = [field for field in moved if error.field.endswith(STRAPS[field])] or moved
        for field in wrong:
            form.add_error(field, capfirst(_("this place {says}").format(says=error.says)))
        wished = {field: value for field, value in wished.items() if field not in moved}
        return shell_tried(before, wished, beside), wished
