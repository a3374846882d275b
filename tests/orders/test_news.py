import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders import moves
from orders.models.event import note_look
from orders.news import news_count
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def test_a_new_order_is_news_until_somebody_there_has_looked(order, clinician, fabricator, other_fabricator):
    colleague = factories.member("fabricator", fabricator.organisation)
    assert [news_count(member) for member in (fabricator, clinician, other_fabricator)] == [1, 0, 0]

    note_look(order.id, colleague)

    assert news_count(fabricator) == 0


def test_a_look_of_the_other_sides_is_no_look(order, clinician, fabricator):
    note_look(order.id, clinician)

    assert news_count(fabricator) == 1


def test_an_order_is_counted_once_however_often_it_moved(order, clinician, fabricator):
    moves.query(order, fabricator, order.current, "left", "length", "To the rim?")
    moves.query(order, fabricator, order.current, "left", "girth", "On the skin?")

    assert news_count(clinician) == 1


def test_what_happens_after_a_look_is_news_again(order, clinician, fabricator):
    note_look(order.id, fabricator)
    factories.correction(order, clinician, factories.entry(length=["15 3/4"], second_route=None))

    assert news_count(fabricator) == 1


def test_counting_takes_two_queries_however_much_there_is(clinician, fabricator):
    for _number in range(3):
        factories.order(clinician, fabricator.organisation)

    with CaptureQueriesContext(connection) as queries:
        assert news_count(fabricator) == 3

    assert len(queries) == 2


def test_the_count_stands_beside_the_pages_name(client_for, order, clinician, fabricator):
    bench = client_for(fabricator).get("/bench/").content.decode()
    moves.confirm(order, order.current.seal.sha256, fabricator)
    orders = client_for(clinician).get("/orders/").content.decode()

    for page in (bench, orders):
        assert '1<span class="unseen"> orders with news' in page
