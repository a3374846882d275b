"""Reading: what a phone keeps for when there is no signal."""

from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext as _

from capture import access, cards
from capture.models import ComponentCard, Visit
from project.models import Member

PLANNED_SHOWN_DAYS = 2  # a visit stays on the list until the day after tomorrow has come, in case it slipped


def planned_visits(member: Member) -> QuerySet[Visit]:
    """The clinic's visits still to come, soonest first, those without a time last."""
    since = timezone.now() - timezone.timedelta(days=PLANNED_SHOWN_DAYS)
    visits = access.visits_of(member).filter(orders__isnull=True)
    return visits.exclude(planned_for__lt=since).order_by("planned_for", "created_at")


def cards_in_use(member: Member) -> QuerySet[ComponentCard]:
    """The clinic's component cards by kind and name, retired ones left out."""
    return access.cards_of(member).filter(retired_at=None).order_by("-kind", "label")


def cards_for_phone(member: Member) -> list[dict]:
    """The cards as a phone keeps them."""
    return [
        {
            "id": str(card.id),
            "kind": card.kind,
            "label": card.label,
            "allows_shell": card.allows_shell,
            **cards.for_sheet(card.kind, _("From our card: %(label)s") % {"label": card.label}, card.holds),
        }
        for card in cards_in_use(member)
    ]
