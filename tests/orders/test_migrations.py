from importlib import import_module

import pytest
from django.apps import apps

from orders.models import Order
from orders.models.event import note_look
from tests import factories

pytestmark = pytest.mark.django_db


def test_what_workshops_have_opened_is_written_on_the_orders_that_are_there(clinician, fabricator):
    opened, corrected, _sent, looked_at = (
        factories.order(clinician, fabricator.organisation) for _order in range(4)
    )
    note_look(opened, fabricator)
    note_look(corrected, fabricator)
    factories.correction(corrected, clinician, factories.entry(length=["16"], second_route=None))
    note_look(looked_at, clinician)
    Order.objects.update(opened=False)

    import_module("orders.migrations.0017_write_opened").write(apps, None)

    assert list(Order.objects.filter(opened=True)) == [opened]
