"""The app changes under the person's hands, forward or back: not while a visit is open, and nothing typed is lost."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import ROOT
from tests.browser.test_plain_case import choose, next_to, send_and_wait
from tests.faults.conftest import PATIENCE_MS, to_length, until

WAITS = "navigator.serviceWorker.getRegistration().then(({ waiting }) => Boolean(waiting))"
FILES = "caches.keys().then((names) => names.filter((name) => name.startsWith('build ')))"
# A file that a page asks for only when it is needed.
OWN_FILE = """fetch(new URL("shrink_worker.js", document.querySelector("script[type=module]").src))
  .then(({ status }) => status, () => 0)"""


def build_of(page: Page) -> str:
    """The build that the page itself is of."""
    return page.locator("script[type=module]").get_attribute("src").split("/")[2]


def wait_for_other_version(page: Page) -> None:
    """Until another version than the one in charge is on the phone whole."""
    until(page, WAITS)


def at_length(page: Page, typed: str) -> None:
    page.wait_for_selector("main[data-field='length']")
    expect(page.locator("input.typed")).to_have_value(typed, timeout=PATIENCE_MS)


def finish_and_send(page: Page, reference: str) -> None:
    next_to(page, "girth")
    page.locator("input.typed").press_sequentially("38.5 cm")
    next_to(page, "workshop")
    choose(page, "Tarn Street")
    next_to(page, "shell.rear")
    choose(page, "Short")
    next_to(page, "photos")
    next_to(page, "check")
    send_and_wait(page, reference)


@pytest.mark.parametrize(
    ("reference", "back"), [("NF-0570", False), ("NF-0571", True)], ids=["updated", "rolled back"]
)
def test_another_version_waits_for_the_visit_and_loses_nothing(phone, served, newer_tree, reference, back):
    """A newer release comes while a visit is open, or the one that the phone has is taken back. Another tab, which is
    still of the version before, keeps its files."""
    before, after = (newer_tree, ROOT) if back else (ROOT, newer_tree)
    served.start(before)
    page = phone()
    first = build_of(page)
    to_length(page, reference, "39.3")
    other = page.context.new_page()
    other.goto("/visits/#new")
    other.wait_for_selector("main[data-view='new']")
    served.start(after)

    page.reload()
    wait_for_other_version(page)
    at_length(page, "39.3")
    page.context.set_offline(True)
    page.locator("input.typed").press("End")
    page.locator("input.typed").press_sequentially("7 cm")
    page.reload()
    at_length(page, "39.37 cm")
    assert build_of(page) == first

    page.locator(".whose a").click()
    page.wait_for_function(
        "(build) => !document.querySelector('script[type=module]').src.includes(build)", arg=first
    )
    expect(page.locator("h1")).to_have_text("Visits" if back else "All visits, newer")
    assert other.evaluate(OWN_FILE) == 200
    other.close()
    page.locator("a.row", has_text=reference).click()
    at_length(page, "39.37 cm")
    page.reload()
    at_length(page, "39.37 cm")
    until(page, f"{FILES}.then((names) => names.length === 1)")

    page.context.set_offline(False)
    finish_and_send(page, reference)
