"""May this member see or make this order? Somebody else's is the same as none: 404."""

import uuid
from collections.abc import Collection

from django.db.models import Q, QuerySet
from django.http import Http404

from orders.models import Order, ReferencePart
from project.models import Member


def orders_of(member: Member) -> QuerySet[Order]:
    """The orders this member may read: those of the clinic that sent them, those that were sent to the workshop."""
    return Order.objects.filter(of_organisation(member))


def orders_named(member: Member, order_ids: Collection[uuid.UUID]) -> QuerySet[Order]:
    """Those of these orders that this member may read.

    Asked for by their ids alone, once it is known whose they are: asked for by both, SQLite reads every order of the
    organisation to find the few.
    """
    column = "workshop_id" if member.in_workshop else "clinic_id"
    whose = Order.objects.filter(id__in=order_ids).values_list("id", column)
    return Order.objects.filter(id__in=[order for order, of in whose if of == member.organisation_id])


def reference_parts_of(member: Member) -> QuerySet[ReferencePart]:
    """What the orders that this member may read can be found by."""
    return ReferencePart.objects.filter(of_organisation(member))


def of_organisation(member: Member) -> Q:
    """What tells this member's orders from others: the workshop's, or the clinic's."""
    if member.in_workshop:
        return Q(workshop_id=member.organisation_id)
    return Q(clinic_id=member.organisation_id)


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
