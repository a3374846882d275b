"""The orders app's tables, one module per subject."""

from orders.models.catalogue import Catalogue
from orders.models.event import Event, EventHead, Look
from orders.models.order import Order, Revision

__all__ = ["Catalogue", "Event", "EventHead", "Look", "Order", "Revision"]
