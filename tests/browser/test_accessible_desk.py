"""The desk's pages under axe (WCAG 2.2 AA), on a light phone and a dark desk, with nothing wider than the screen."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.browser.conftest import DESK, PHONE

WCAG = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
WITH_PHOTOS = "NF-0139"  # of the demo: photos, and a query that waits
LEAD, WORKSHOP = "lead@northfell.example", "workshop@tarnstreet.example"
NEW, IN_MAKING, SHIPPED = "NF-0144", "NF-0128", "NF-0125"  # of the demo
MAKING = [
    "catalogue",
    "catalogue refused",
    "ask",
    "making",
    "making refused",
    "shipped",
    "traveller",
    "packing-slip",
]
PLACES = [
    (LEAD, ["orders", "order", "photo", "members", "cards", "card"]),
    (WORKSHOP, ["bench", "order", "photo"]),
    (WORKSHOP, MAKING),
]


def open_order(page: Page, reference: str) -> None:
    page.goto(f"/bench/?find={reference}")
    page.get_by_role("link", name=reference).first.click()
    page.wait_for_selector(".figures")


def go_making(page: Page, place: str) -> None:
    """Where a shell is made, and what it is made by."""
    kind, _space, refused = place.partition(" ")
    if kind == "catalogue":
        page.goto("/catalogue/")
    elif kind == "ask":
        open_order(page, NEW)
        page.goto(page.locator("a[href*='field=upper_strap_mm']").first.get_attribute("href"))
        page.wait_for_selector("form [name=proposed]")
    else:
        open_order(page, SHIPPED if kind in ("shipped", "packing-slip") else IN_MAKING)
        page.goto(page.url + {"making": "making/", "shipped": "making/"}.get(kind, kind))
        page.wait_for_selector("h1")
    if refused:
        if kind == "catalogue":
            page.get_by_label("Girth, least").fill("wide")
        page.get_by_role(
            "button", name={"making": "Write it down"}.get(kind, "Save as the next version")
        ).click()
        page.wait_for_selector(".says")


def go_to(page: Page, place: str) -> None:
    if place in MAKING:
        go_making(page, place)
        return
    home = "/orders/" if page.locator(".desk-nav a[href='/orders/']").count() else "/bench/"
    page.goto({"members": "/members/", "cards": "/cards/", "card": "/cards/"}.get(place, home))
    if place == "card":
        page.locator(".row a").first.click()
        page.wait_for_selector("#id_label")
    if place in ("order", "photo"):
        page.get_by_role("link", name=re.compile(WITH_PHOTOS)).first.click()
        page.wait_for_selector(".figures")
    if place == "photo":
        page.locator(".photo-open").first.click()
        page.wait_for_selector(".photo-view")


def findings(page: Page) -> list[str]:
    found = Axe().run(page, options=WCAG).response["violations"]
    wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    told = [f"{one['id']}: {[node['target'] for node in one['nodes']][:3]}" for one in found]
    return told + ([f"{wide} px wider than the screen"] if wide > 0 else [])


@pytest.mark.parametrize(("size", "scheme"), [(PHONE, "light"), (DESK, "dark")], ids=["phone", "desk"])
@pytest.mark.parametrize(("mail", "places"), PLACES, ids=["clinic", "workshop", "making"])
def test_pages_read_well_for_everyone(sign_in, mail, places, size, scheme):
    page = sign_in(mail, size, color_scheme=scheme)
    page.goto("/orders/" if mail == LEAD else "/bench/")
    found = {}
    for place in places:
        go_to(page, place)
        found[place] = findings(page)

    assert found == {place: [] for place in places}
