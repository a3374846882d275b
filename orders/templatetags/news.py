"""The count beside a page's name."""

from django import template
from django.template import Context

from orders.news import news_of

register = template.Library()


@register.inclusion_tag("orders/_news.html", takes_context=True)
def news(context: Context) -> dict:
    """How many orders have news; a page that has looked already says so in `with_news`."""
    member, known = context.get("member"), context.get("with_news")
    if known is None:
        known = news_of(member) if member else {}
    return {"count": len(known)}
