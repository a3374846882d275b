"""A whole visit with no signal: the page opens, checks and draws the same, keeps all, and sends once there is one."""

import json

import pytest
from playwright.sync_api import Page, expect

from tests.browser.test_plain_case import answer_the_plain_case, new_visit, send_and_wait
from tests.faults.conftest import PATIENCE_MS

# All that any cache holds, as "address: text" lines for the pages and scripts.
CACHED = """async () => {
  const held = {};
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) held[request.url] = await (await cache.match(request)).text();
  }
  return held;
}"""

# All that the page asked for: [file, whether it came from the worker].
CAME = (
    "performance.getEntriesByType('resource').map((one) => [one.name.split('/').at(-1), one.workerStart > 0])"
)


def lose_signal(page: Page, site, way: str) -> None:
    """Either the phone knows that it has none, or it believes that it has and nothing answers."""
    if way == "offline":
        page.context.set_offline(True)
    else:
        site.stop()


def find_signal(page: Page, site, way: str) -> None:
    if way == "offline":
        page.context.set_offline(False)
    else:
        site.start()
        page.evaluate(
            "dispatchEvent(new Event('online'))"
        )  # else it would try again within minutes, by itself


@pytest.mark.parametrize(("way", "reference"), [("offline", "NF-0510"), ("server gone", "NF-0511")])
def test_a_whole_visit_without_a_signal_is_sent_when_there_is_one(phone, site, way, reference):
    page = phone()
    lose_signal(page, site, way)
    page.goto("/visits/")

    new_visit(page, reference)
    answer_the_plain_case(page)
    page.reload()
    page.get_by_role("button", name="Send").click()
    page.wait_for_selector("text=Waits for a signal, then goes by itself")
    page.reload()
    expect(page.locator("main")).to_contain_text("Waits for a signal")
    find_signal(page, site, way)

    page.goto("/visits/")
    row = page.locator("a.row", has_text=reference)
    expect(row.locator(".row-state")).to_contain_text("received", timeout=PATIENCE_MS)
    here = page.evaluate("fetch('/api/phone').then((answer) => answer.json())")
    assert [order["reference"] for order in here["orders"]].count(reference) == 1


def test_the_first_visit_leaves_to_the_worker_what_it_does_without(phone):
    page = phone()

    came = page.evaluate(CAME)

    later = {name: worker for name, worker in came if name.startswith(("bundle-", "book-"))}
    assert {"bundle-pictures.js", "bundle-reckoning.js", "book-en.json"} <= set(later)
    assert [name for name, by_worker in later.items() if not by_worker] == [], "brought a second time"


def at_check(page: Page, reference: str) -> dict:
    """What the check shows of a visit with two flags: their words and the drawing."""
    new_visit(page, reference)
    answer_the_plain_case(page, length="30.1 cm", girth="52 cm")
    page.wait_for_selector(".flag")
    return {
        "flags": page.locator(".flag").all_inner_texts(),
        "drawing": page.locator(".check svg").first.evaluate("(svg) => svg.outerHTML"),
    }


def test_flags_and_drawing_are_the_same_without_a_signal(phone):
    page = phone()
    with_signal = at_check(page, "NF-0520")
    page.context.set_offline(True)
    page.goto("/visits/")

    without = at_check(page, "NF-0521")

    assert len(with_signal["flags"]) > 1
    assert without == with_signal


def test_another_page_says_that_it_needs_a_signal_and_leads_to_the_visits(phone):
    page = phone()
    page.context.set_offline(True)

    page.goto("/accounts/login/")

    expect(page.get_by_role("heading")).to_have_text("No signal")
    page.get_by_role("link", name="To the visits").click()
    expect(page.get_by_role("heading", name="Visits")).to_be_visible()


def test_no_cache_holds_anything_about_a_person(phone):
    page = phone()
    new_visit(page, "NF-0530")
    answer_the_plain_case(page)
    send_and_wait(page, "NF-0530")
    page.goto("/visits/")
    expect(page.locator("a.row", has_text="NF-0530")).to_contain_text("received", timeout=PATIENCE_MS)
    known = page.evaluate("fetch('/api/phone').then((answer) => answer.json())")

    held = page.evaluate(CACHED)

    assert [address for address in held if "/api/" in address or "/photos/" in address] == []
    texts = json.dumps(held)
    assert "Visits" in texts, "there is a page that could hold something"
    about = {known["member"]["id"], known["csrf"], known["organisation"]["name"], "NF-0530", "NF-0152"}
    assert {words for words in about if words in texts} == set()
