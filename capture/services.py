"""Writing: visits and the people they are for, component cards."""

import uuid
from datetime import datetime

from django.db import IntegrityError, transaction
from django.http import Http404
from django.utils import timezone

from capture.models import ComponentCard, Person, Visit
from project.models import Member


@transaction.atomic
def plan_visit(
    member: Member, visit_id: uuid.UUID, reference: str, initials: str, planned_for: datetime | None = None
) -> tuple[Visit, bool]:
    """The visit with this id, made now or made before (a phone may ask twice), and whether it was made now.

    Raises Http404 when the id is another clinic's.
    """
    person = person_with(member, reference, initials)
    try:
        with transaction.atomic():
            return Visit.objects.create(
                id=visit_id, person=person, planned_for=planned_for, planned_by=member
            ), True
    except IntegrityError:
        visit = Visit.objects.select_related("person").get(id=visit_id)
        if visit.person.clinic_id != member.organisation_id:
            raise Http404 from None
        return visit, False


def person_with(member: Member, reference: str, initials: str) -> Person:
    """The clinic's person with this reference, made when new. Initials given later fill empty ones in."""
    person, _made = Person.objects.get_or_create(
        clinic_id=member.organisation_id, reference=reference, defaults={"initials": initials}
    )
    if initials and not person.initials:
        person.initials = initials
        person.save(update_fields=["initials"])
    return person


def keep_card(
    member: Member, card: ComponentCard | None, kind: str, label: str, allows_shell: str, holds: dict
) -> ComponentCard | None:
    """The card, made or changed; None when another card of the clinic has come to be called so meanwhile."""
    card = card or ComponentCard(clinic_id=member.organisation_id, kind=kind)
    card.label, card.allows_shell, card.holds, card.changed_by = label, allows_shell, holds, member
    try:
        with transaction.atomic():
            card.save()
    except IntegrityError:
        return None
    return card


def retire_card(member: Member, card: ComponentCard) -> None:
    """Takes a card out of use. Drafts that were filled from it keep what it said."""
    card.retired_at, card.changed_by = timezone.now(), member
    card.save(update_fields=["retired_at", "changed_by", "changed_at"])
