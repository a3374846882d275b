"""The count beside a page's name."""

from django import template
from django.template import Context

from orders.news import news_of

register = template.Library()


@register.inclusion_tag("orders/_news.html", takes_context=True)
def news(context: Context, anew: bool = False) -> dict:
    """How many orders have news; a page that has looked already says so in `with_news`.

    `anew` is for an answer that brings part of a page: htmx puts the count in the place of the one that stands there.
    """
    member, known = context.get("member"), context.get("with_news")
    if known is None:
        known = news_of(member) if member else {}
    return {"count": len(known), "anew": anew}
