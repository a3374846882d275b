"""Writing: visits and the people they are for."""

import uuid
from datetime import datetime

from django.db import IntegrityError, transaction
from django.http import Http404

from capture.models import Person, Visit
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
