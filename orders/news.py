"""How many orders the other side has moved since anybody here looked: what the mail tells, as a count in the app."""

from datetime import timedelta

from django.db.models import Exists, OuterRef
from django.utils import timezone

from orders.models import Look, Mail
from project.models import Member

DAYS, MOST = (
    30,
    200,
)  # what was told longer ago, or before so many others, is no news: the count must stay cheap


def news_count(member: Member) -> int:
    """The orders of which this member was told and that nobody of the organisation has opened since."""
    told = Mail.objects.filter(to=member, created_at__gte=timezone.now() - timedelta(days=DAYS))
    newest = told.order_by("-created_at").values("id")[:MOST]
    seen = Look.objects.filter(
        order_id=OuterRef("order_id"),
        organisation_id=member.organisation_id,
        at__gte=OuterRef("created_at"),
    )
    return (
        Mail.objects.filter(id__in=list(newest.values_list("id", flat=True)))
        .filter(~Exists(seen))
        .values("order_id")
        .distinct()
        .count()
    )
