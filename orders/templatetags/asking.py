"""In a row of the order's page: the queries about it, and the way to ask one.

A row is of the page's `shell`, and about a field of its entry, a figure, or a photo. On a page that offers no talk in
its rows the tags show nothing.
"""

from django import template
from django.template import Context
from django.urls import reverse
from django.utils.http import urlencode

from orders.asking import RESTS_ON
from orders.talk import Asked

register = template.Library()


@register.inclusion_tag("orders/_ask.html", takes_context=True)
def ask(context: Context, about: str, label: str) -> dict:
    """The way to ask about the row."""
    return {"address": ask_address(context, about), "label": label}


@register.simple_tag(takes_context=True)
def ask_address(context: Context, about: str) -> str:
    """Where the question is asked, or "" while none may be."""
    if not context.get("may_ask"):
        return ""
    named = {"revision": context["read"].number, "side": context["shell"].entry_side, "field": about}
    return f"{reverse('orders:query-ask', args=[context['order'].id])}?{urlencode(named)}"


@register.inclusion_tag("orders/_pins.html", takes_context=True)
def pins(context: Context, about: str, label: str) -> dict:
    """The queries that are pinned to the row."""
    here = queries_about(context["talk"], context["shell"].entry_side, about) if "may_ask" in context else []
    return {"queries": here, "label": label}


def queries_about(talk: list[Asked], side: str, about: str) -> list[Asked]:
    """The queries that stand: those on the row's own field, or on what a figure rests on first."""
    field = RESTS_ON.get(about, (about,))[0]
    here = [asked for asked in talk if (asked.query.side, asked.query.field) == (side, field)]
    return [asked for asked in here if asked.query.state != "withdrawn"]
