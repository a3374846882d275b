import pytest

from capture.models import Seal
from orders import intake
from orders.models import Rival
from tests import factories

pytestmark = pytest.mark.django_db


def test_version_for_another_workshop_can_not_be_picked(clinician, fabricator, other_fabricator):
    order = factories.order(clinician, fabricator.organisation)
    raw = factories.seal(other_fabricator.organisation, order_id=order.id)
    seal = Seal.objects.create(
        order_id=order.id, sha256=factories.hash_of(raw), raw=raw, clinic_id=clinician.organisation_id
    )
    rival = Rival.objects.create(order=order, seal=seal)

    with pytest.raises(intake.Kept, match="another workshop"):
        intake.picked_revision(order, rival)
