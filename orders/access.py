"""May this member see or make this order? Somebody else's is the same as none: 404."""

from django.db.models import Q, QuerySet
from django.http import Http404

from orders.models import Order
from project.models import Member


def orders_of(member: Member) -> QuerySet[Order]:
    """The orders this member may read: those of the clinic that sent them, those that were sent to the workshop."""
    mine = (
        Q(workshop_id=member.organisation_id) if member.in_workshop else Q(clinic_id=member.organisation_id)
    )
    return Order.objects.filter(mine)


def order_to_read(member: Member, order_id) -> Order:
    """One order of this member's clinic or workshop, or Http404."""
    order = orders_of(member).select_related("clinic", "workshop", "person").filter(id=order_id).first()
    if order is None:
        raise Http404
    return order


def order_to_make(member: Member, order_id) -> Order:
    """One order sent to this member's workshop, or Http404."""
    if not member.in_workshop:
        raise Http404
    return order_to_read(member, order_id)
