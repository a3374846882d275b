"""Reading: what a phone keeps for when there is no signal."""

from django.db.models import QuerySet
from django.utils import timezone

from capture import access
from capture.models import Visit
from project.models import Member

PLANNED_SHOWN_DAYS = 2  # a visit stays on the list until the day after tomorrow has come, in case it slipped


def planned_visits(member: Member) -> QuerySet[Visit]:
    """The clinic's visits still to come, soonest first, those without a time last."""
    since = timezone.now() - timezone.timedelta(days=PLANNED_SHOWN_DAYS)
    visits = access.visits_of(member).filter(orders__isnull=True)
    return visits.exclude(planned_for__lt=since).order_by("planned_for", "created_at")
