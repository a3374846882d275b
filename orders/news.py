"""What the other side has done since anybody here looked: what the mail tells, in the app."""

import uuid
from datetime import timedelta

from django.db.models import Exists, OuterRef
from django.utils import timezone

from orders.models import Look, Mail
from project.models import Member

DAYS, MOST = (
    30,
    200,
)  # what was told longer ago, or before so many others, is no news: the count must stay cheap


def news_of(member: Member) -> dict[uuid.UUID, str]:
    """The orders of which this member was told and that nobody of the organisation has opened since: the last move.

    In two queries, of a bounded length.
    """
    told = Mail.objects.filter(to=member, created_at__gte=timezone.now() - timedelta(days=DAYS))
    newest = told.order_by("-created_at").values_list("id", flat=True)[:MOST]
    seen = Look.objects.filter(
        order_id=OuterRef("order_id"),
        organisation_id=member.organisation_id,
        at__gte=OuterRef("created_at"),
    )
    unseen = Mail.objects.filter(id__in=list(newest)).filter(~Exists(seen)).order_by("created_at", "id")
    return dict(unseen.values_list("order_id", "what"))
