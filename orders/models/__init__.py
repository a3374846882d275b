"""The orders app's tables, one module per subject."""

from orders.models.catalogue import Catalogue
from orders.models.document import Document
from orders.models.event import Event, EventHead, Look
from orders.models.handout import Handout
from orders.models.mail import Mail
from orders.models.making import Inspection, Shipment, StageDone
from orders.models.order import Order, Revision
from orders.models.photo_use import PhotoUse
from orders.models.problem import Problem
from orders.models.query import Query, Reply, Rival
from orders.models.reference_part import ReferencePart

__all__ = [
    "Catalogue",
    "Document",
    "Event",
    "EventHead",
    "Handout",
    "Inspection",
    "Look",
    "Mail",
    "Order",
    "PhotoUse",
    "Problem",
    "Query",
    "ReferencePart",
    "Reply",
    "Revision",
    "Rival",
    "Shipment",
    "StageDone",
]
