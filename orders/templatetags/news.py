"""The count beside a page's name."""

from django import template

from orders.news import news_count
from project.models import Member

register = template.Library()


@register.inclusion_tag("orders/_news.html")
def news(member: Member | None) -> dict:
    """How many orders have news."""
    return {"count": news_count(member) if member else 0}
