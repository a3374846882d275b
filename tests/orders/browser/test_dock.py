"""The order's page on a small screen: what is done next is in reach all the way, and nothing lies under it for good."""

import re

import pytest
from django.urls import reverse

from orders import moves
from tests import factories
from tests.orders.test_handout_leaves import opened

pytestmark = pytest.mark.django_db
PLACES = """() => {
  const box = (one) => document.querySelector(one).getBoundingClientRect();
  const at = () => [box(".dock").top, box(".dock").bottom, box(".order .caution").bottom];
  scrollTo(0, 0);
  const first = at();
  scrollTo(0, document.documentElement.scrollHeight);
  return [first, at()];
}"""


@pytest.fixture
def order(clinician, fabricator):
    return factories.order(clinician, fabricator.organisation)


@pytest.fixture
def places(twins_page, client_for, fabricator, order):
    """Top and bottom of the dock and the end of the cautions, on a screen: at the page's start, and at its end."""

    def of(width, height):
        html = client_for(fabricator).get(reverse("orders:order", args=[order.id])).content.decode()
        html = re.sub(r"<script.*?</script>", "", html, flags=re.DOTALL)
        size = {"viewport": {"width": width, "height": height}}
        return twins_page(
            lambda page: opened(page.context.browser, html, "", lambda one: one.evaluate(PLACES), size)
        )

    return of


@pytest.mark.parametrize("confirmed", [False, True])
@pytest.mark.parametrize(("width", "height"), [(412, 915), (768, 1024)])
def test_what_is_next_is_in_reach_and_covers_no_caution(places, order, fabricator, confirmed, width, height):
    if confirmed:
        moves.confirm(order, order.current.seal.sha256, fabricator)

    (top, bottom, _caution), (end_top, end_bottom, end_caution) = places(width, height)

    assert 0 < top < bottom <= height
    assert end_caution <= end_top < end_bottom <= height


def test_on_a_low_screen_it_stands_at_the_end_alone(places):
    (top, *_first), (end_top, end_bottom, end_caution) = places(800, 400)

    assert top > 400
    assert end_caution <= end_top < end_bottom <= 400
