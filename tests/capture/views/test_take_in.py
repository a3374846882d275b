import io
import json

import pytest
from django.urls import reverse

from orders.models import Order
from tests import factories
from tests.capture.test_parcels import parcel


def test_a_file_is_taken_in_and_its_order_linked(client_for, clinician, fabricator):
    raw = factories.seal(fabricator.organisation)
    order_id = json.loads(raw)["id"]
    client = client_for(clinician)
    asks = client.get(reverse("capture:take-in")).content.decode()

    file = parcel(clinician.organisation, ("seal", raw, order_id))
    file.name = "unsent-T-0001.shankline"
    page = client.post(reverse("capture:take-in"), {"file": file}).content.decode()

    assert 'type="file"' in asks
    assert "T-0001" in page
    assert reverse("orders:clinic-order", args=[order_id]) in page
    assert Order.objects.filter(id=order_id).exists()


@pytest.mark.parametrize("sent", [{}, {"file": io.BytesIO(b"holiday.jpg")}])
def test_what_is_no_file_of_a_phone_is_said_at_the_field(client_for, clinician, sent):
    answer = client_for(clinician).post(reverse("capture:take-in"), sent)

    assert answer.status_code == 422
    assert 'aria-invalid="true"' in answer.content.decode()
