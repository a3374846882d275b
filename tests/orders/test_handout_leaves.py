"""The handout in a browser: its leaves turn, and without scripts, on paper and on a small phone nothing is missing."""

import re

import pytest

from orders import handout
from tests import factories
from tests.twins import POLICY, STATIC

pytestmark = pytest.mark.django_db
LEAVES = 16  # the first, seven steps, taking off, and seven of words


@pytest.fixture
def html(client, clinician, fabricator):
    clinician.organisation.telephone = "01632 960 147"
    clinician.organisation.save()
    order = factories.order(clinician, fabricator.organisation)
    _made, token = handout.make(order, clinician)
    return client.get(f"/h/{token}/").content.decode()


@pytest.fixture
def on_handout(twins_page, html):
    """Runs a function of a page that shows the handout, under the site's own policy."""

    def run(act, anchor="", **options):
        return twins_page(lambda page: opened(page.context.browser, html, anchor, act, options))

    return run


def opened(browser, html, anchor, act, options):
    context = browser.new_context(**{"viewport": {"width": 412, "height": 915}, **options})
    page, said = context.new_page(), []
    page.on("console", lambda message: said.append(message.text))
    page.route("**/*", lambda route: serve(route, html))
    page.goto(f"http://handout.invalid/{anchor}")
    try:
        answer = act(page)
        assert said == []  # nothing broke the policy, nothing was missing
        return answer
    finally:
        context.close()


def serve(route, html):
    found = re.search(r"/static/(?:[0-9a-f]{16}/)?(\S+)$", route.request.url)
    if not found:
        route.fulfill(body=html, content_type="text/html", headers={"Content-Security-Policy": POLICY})
        return
    file = STATIC / found[1]
    kind = {".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml"}[file.suffix]
    route.fulfill(body=file.read_bytes(), content_type=kind)


SEEN = "[...document.querySelectorAll('.leaf')].filter((leaf) => leaf.offsetParent !== null).map((leaf) => leaf.id)"
FOCUSED = "document.activeElement.id"


def test_one_leaf_shows_at_a_time_and_next_turns_to_the_one_it_names(on_handout):
    def act(page):
        seen = [page.evaluate(SEEN)]
        page.click("#left-3 .next")
        page.wait_for_selector("#left-4", state="visible")
        seen += [page.evaluate(SEEN), page.evaluate(FOCUSED), page.text_content("#left-4 h2")]
        page.go_back()
        page.wait_for_selector("#left-3", state="visible")
        return [*seen, page.evaluate(SEEN)]

    assert on_handout(act, "#left-3") == [
        ["left-3"],
        ["left-4"],
        "left-4-head",
        "Lower strap first",
        ["left-3"],
    ]


def test_link_to_no_leaf_opens_the_first(on_handout):
    assert on_handout(lambda page: page.evaluate(SEEN), "#nowhere") == ["start"]


def test_all_can_be_shown_on_one_page_and_turned_again(on_handout):
    def act(page):
        page.click("#all-leaves")
        page.wait_for_selector("#one-leaf", state="visible")
        whole = len(page.evaluate(SEEN))
        page.click("#one-leaf")
        page.wait_for_selector("#all-leaves", state="visible")
        return whole, page.evaluate(SEEN)

    assert on_handout(act, "#left-2") == (LEAVES, ["start"])


def test_without_scripts_everything_is_one_page(on_handout):
    def act(page):
        return page.locator(".leaf:visible").count(), page.locator("#all-leaves").is_visible()

    assert on_handout(act, java_script_enabled=False) == (LEAVES, False)


def test_paper_holds_every_leaf_and_no_button(on_handout):
    def act(page):
        page.emulate_media(media="print")
        return len(page.evaluate(SEEN)), page.locator(".handout-go:visible").count()

    assert on_handout(act, "#left-3") == (LEAVES - 1, 0)  # nobody tells the clinic by paper


def test_caution_stays_in_sight_at_the_end_of_a_long_page(on_handout):
    def act(page):
        page.evaluate("scrollTo(0, document.body.scrollHeight)")
        return page.evaluate("document.querySelector('.handout-caution').getBoundingClientRect().top")

    assert 0 <= on_handout(act, "#everything") <= 16


@pytest.mark.parametrize("width", [320, 412])
def test_nothing_overflows_and_targets_are_64_px(on_handout, width):
    def act(page):
        small = """[...document.querySelectorAll('main a')].filter((a) => a.offsetParent !== null)
            .filter((a) => a.getBoundingClientRect().height < 64).map((a) => a.textContent)"""
        return page.evaluate(small), page.evaluate("document.documentElement.scrollWidth")

    assert on_handout(act, "#everything", viewport={"width": width, "height": 700}) == ([], width)


def test_text_is_22_px_and_follows_the_readers_own_size(on_handout):
    def act(page):
        sentence = "getComputedStyle(document.querySelector('#left-1 h2 + p')).fontSize"
        first = page.evaluate(sentence)
        page.evaluate("document.documentElement.style.fontSize = '200%'")
        return first, page.evaluate(sentence)

    assert on_handout(act, "#left-1") == ("22px", "44px")
