"""In a row of the order's page: the queries about it, and the way to ask one."""

from django import template
from django.template import Context
from django.urls import reverse
from django.utils.http import urlencode

from orders.asking import RESTS_ON
from orders.talk import Asked

register = template.Library()


@register.inclusion_tag("orders/_ask.html", takes_context=True)
def ask(context: Context, about: str, label: str) -> dict:
    """The row of `shell` that is about an entry's field, a figure or a photo. Nothing on a page that has no talk."""
    side = context["shell"].entry_side
    offered = context.get("may_ask", False)
    named = {"revision": context["read"].number, "side": side, "field": about}
    address = reverse("orders:query-ask", args=[context["order"].id]) if offered else ""
    return {
        "queries": queries_about(context.get("talk", ()), side, about) if "may_ask" in context else [],
        "address": f"{address}?{urlencode(named)}" if offered else "",
        "label": label,
        "of_photo": about.startswith("photo:"),
    }


def queries_about(talk: list[Asked], side: str, about: str) -> list[Asked]:
    """The queries that stand, pinned to the row: those on its field, or on what a figure rests on first."""
    field = RESTS_ON.get(about, (about,))[0]
    here = [asked for asked in talk if (asked.query.side, asked.query.field) == (side, field)]
    return [asked for asked in here if asked.query.state != "withdrawn"]
