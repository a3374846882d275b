import pytest

from orders import moves
from orders.documents.offered import offered
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def sent(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


@pytest.fixture
def order(sent, fabricator):
    moves.confirm(sent, sent.current.seal.sha256, fabricator)
    return sent


def names(groups) -> list[str]:
    return [document.name for group in groups for document in group.documents]


def test_workshop_gets_every_document_of_a_confirmed_order(order, fabricator):
    groups = offered(order, order.current, fabricator)

    assert "left-shell.stl" in names(groups)
    assert "left-outline.dxf" in names(groups)
    assert [group.side for group in groups][-1] == "left"


def test_clinic_is_given_the_work_order_alone(order, clinician):
    assert names(offered(order, order.current, clinician)) == ["work-order-a4.pdf", "work-order-letter.pdf"]


def test_before_confirmation_there_is_a_preview_of_the_work_order_alone(sent, fabricator):
    (group,) = offered(sent, sent.current, fabricator)

    assert names([group]) == ["work-order-a4.pdf", "work-order-letter.pdf"]
    assert all(document.preview for document in group.documents)


def test_older_revision_has_none(order, fabricator):
    read = order.current
    read.number = 7

    assert offered(order, read, fabricator) == []


def test_cancelled_order_has_none(order, clinician, fabricator):
    moves.cancel(order, clinician)

    assert offered(order, order.current, fabricator) == []
