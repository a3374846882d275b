import pytest

from orders import handout, moves
from orders.clinic_page import links_of, may_have_handout, open_link, versions
from orders.models import Order
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


def test_an_order_with_one_version_has_nothing_to_pick(order):
    assert versions(order, order.current) == []


def test_a_second_version_is_held_against_the_one_that_counts(clinician, order):
    first = order.current
    factories.correction(order, clinician, factories.entry(girth=["15", "15"]))
    factories.correction(
        order, clinician, factories.entry(girth=["16", "16"]), parent_sha256=first.seal.sha256
    )
    order.refresh_from_db()

    (other,) = versions(order, order.current)

    assert other.cannot == ""
    assert other.sent_by.startswith("T. M.")
    girth = next(change for change in other.changes if change.label.startswith("Girth"))
    assert ("15" in girth.was, "16" in girth.now) == (True, True)


@pytest.mark.parametrize("state", Order.State.values)
def test_a_link_is_made_for_what_is_confirmed_and_not_cancelled(order, state):
    order.state = state

    assert may_have_handout(order) is (state in {"confirmed", "in_making", "made", "shipped"})


def test_links_are_listed_newest_first_and_the_one_that_works_is_told(clinician, fabricator, order):
    moves.confirm(order, order.current.seal.sha256, fabricator)
    assert open_link(links_of(order)) is None

    first, _token = handout.make(order, clinician)
    handout.withdraw_all(order, clinician)
    second, _token = handout.make(order, clinician)

    assert links_of(order) == [second, first]
    assert open_link(links_of(order)) == second
    handout.withdraw_all(order, clinician)
    assert open_link(links_of(order)) is None
