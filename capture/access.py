"""May this member see this visit, this card, this photo? Somebody else's is the same as none: 404."""

from django.db.models import QuerySet
from django.http import Http404

from capture import photo_access
from capture.models import ComponentCard, Person, Photo, Visit
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


def cards_of(member: Member) -> QuerySet[ComponentCard]:
    """The component cards of this member's clinic; none for a workshop."""
    own = ComponentCard.objects.filter(clinic_id=member.organisation_id)
    return own if member.in_clinic else own.none()


def card_to_edit(member: Member, card_id) -> ComponentCard:
    """One card of this member's clinic that isn't retired, or Http404."""
    card = cards_of(member).filter(id=card_id, retired_at=None).first()
    if card is None:
        raise Http404
    return card


def photo_to_read(member: Member, sha256: str) -> Photo:
    """A photo of this member's clinic, or one that an order sent to this member's workshop shows; or Http404."""
    own = {member.organisation_id}
    clinics = own if member.in_clinic else photo_access.clinics_that_sent(member, sha256)
    # Two clinics may have sent a workshop the same bytes: whichever row it is, the picture is the same.
    photo = Photo.objects.filter(sha256=sha256, clinic_id__in=clinics).order_by("at").first()
    if photo is None:
        raise Http404
    return photo
