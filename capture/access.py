"""May this member see this visit? Somebody else's is the same as none: 404."""

from django.db.models import QuerySet
from django.http import Http404

from capture.models import Person, Visit
from project.models import Member


def people_of(member: Member) -> QuerySet[Person]:
    """The people this member's clinic cares for; nobody for a workshop."""
    return (
        Person.objects.filter(clinic_id=member.organisation_id) if member.in_clinic else Person.objects.none()
    )


def visits_of(member: Member) -> QuerySet[Visit]:
    """The visits of this member's clinic; none for a workshop."""
    return Visit.objects.select_related("person").filter(person__in=people_of(member))


def visit_to_edit(member: Member, visit_id) -> Visit:
    """One visit of this member's clinic, or Http404."""
    visit = visits_of(member).filter(id=visit_id).first()
    if visit is None:
        raise Http404
    return visit
