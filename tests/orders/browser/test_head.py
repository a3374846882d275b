"""The desk's head from the smallest phone to a desk: nothing in it broken or cut, and little of a phone taken."""

import re

import pytest

from tests import factories
from tests.orders.test_handout_leaves import opened

pytestmark = pytest.mark.django_db
HEAD = """() => {
  const box = (one) => document.querySelector(one).getBoundingClientRect();
  const line = (one) => [...document.querySelector(one).getClientRects()].length;
  return {
    head: box(".desk-head").height, find: box(".find").width, count: line(".news"), name: box(".desk-name").width,
    beyond: document.documentElement.scrollWidth - innerWidth,
    besides: box(".desk-who").top < box(".desk-name").bottom,
  };
}"""


@pytest.fixture
def head(twins_page, client_for, clinician, lead, fabricator):
    """What the head of a page is like, for the workshop or the clinic's lead, each with news."""
    order = factories.order(clinician, fabricator.organisation)
    order.mails.create(to=lead, what="confirm")

    def at(member, width, language="en"):
        member.language = language
        member.save()
        address = "/bench/" if member.in_workshop else "/orders/"
        html = client_for(member).get(address).content.decode()
        html = re.sub(r"<script.*?</script>", "", html, flags=re.DOTALL)
        size = {"viewport": {"width": width, "height": 900}}
        return twins_page(
            lambda page: opened(page.context.browser, html, "", lambda one: one.evaluate(HEAD), size)
        )

    return at


@pytest.mark.parametrize("width", [320, 412, 768, 1024, 1280])
def test_the_head_is_whole_on_every_screen(head, fabricator, lead, width):
    for member, language in ((fabricator, "en"), (lead, "en"), (lead, "de")):
        seen = head(member, width, language)

        assert (seen["beyond"], seen["count"]) == (0, 1)
        assert seen["find"] >= 180


def test_on_a_phone_whose_desk_it_is_stands_beside_who_has_signed_in(head, fabricator):
    seen = head(fabricator, 412)

    assert seen["besides"]
    assert seen["name"] >= 128
    assert seen["head"] <= 150
