import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from orders import moves
from orders.models.event import note_look
from orders.news import news_of
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def test_a_new_order_is_news_until_somebody_there_has_looked(order, clinician, fabricator, other_fabricator):
    colleague = factories.member("fabricator", fabricator.organisation)
    assert [news_of(member) for member in (fabricator, clinician, other_fabricator)] == [
        {order.id: "send"},
        {},
        {},
    ]

    note_look(order, colleague)

    assert news_of(fabricator) == {}


def test_a_look_of_the_other_sides_is_no_look(order, clinician, fabricator):
    note_look(order, clinician)

    assert news_of(fabricator) == {order.id: "send"}


def test_an_order_stands_there_once_with_its_last_move(order, clinician, fabricator):
    moves.query(order, fabricator, order.current, "left", "length", "To the rim?")
    asked = moves.query(order, fabricator, order.current, "left", "girth", "On the skin?")
    moves.withdraw(order, asked, fabricator)

    assert news_of(clinician) == {order.id: "withdraw"}


def test_what_happens_after_a_look_is_news_again(order, clinician, fabricator):
    note_look(order, fabricator)
    factories.correction(order, clinician, factories.entry(length=["15 3/4"], second_route=None))

    assert news_of(fabricator) == {order.id: "correct"}


def test_counting_takes_two_queries_however_much_there_is(clinician, fabricator):
    for _number in range(3):
        factories.order(clinician, fabricator.organisation)

    with CaptureQueriesContext(connection) as queries:
        assert len(news_of(fabricator)) == 3

    assert len(queries) == 2


def test_the_count_stands_beside_the_pages_name(client_for, order, clinician, fabricator):
    bench = client_for(fabricator).get("/bench/").content.decode()
    moves.confirm(order, order.current.seal.sha256, fabricator)
    orders = client_for(clinician).get("/orders/").content.decode()

    for page in (bench, orders):
        assert '1<span class="unseen"> orders with news' in page
