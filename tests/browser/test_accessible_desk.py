"""The desk's pages under axe (WCAG 2.2 AA), on a light phone and a dark desk, with nothing wider than the screen."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.browser.conftest import DESK, PHONE

WCAG = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
WITH_PHOTOS = "NF-0139"  # of the demo: photos, and a query that waits
PLACES = {
    "lead@northfell.example": ["orders", "order", "photo", "members", "cards", "card"],
    "workshop@tarnstreet.example": ["bench", "order", "photo"],
}


def go_to(page: Page, place: str) -> None:
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
@pytest.mark.parametrize("mail", PLACES)
def test_pages_read_well_for_everyone(sign_in, mail, size, scheme):
    page = sign_in(mail, size, color_scheme=scheme)
    page.goto("/orders/" if "lead" in mail else "/bench/")
    found = {}
    for place in PLACES[mail]:
        go_to(page, place)
        found[place] = findings(page)

    assert found == {place: [] for place in PLACES[mail]}
