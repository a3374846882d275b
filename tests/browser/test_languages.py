"""Language and units as a person's own setting, against the real server: desk and phone, with and without a signal."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import DESK, PHONE
from tests.leftovers import left_in_english

# Members whom no other journey needs: what they choose would turn its pages.
CLINICIAN = "clinician@saltmarsh.example"
WORKSHOP = "workshop@quayside.example"
VISITS = {"es": "Visitas", "de": "Besuche", "fr": "Visites", "en": "Visits"}


def choose(page: Page, language: str) -> None:
    page.goto("/settings/")
    page.select_option("select[name=language]", language)
    page.locator("main form button").click()
    expect(page.locator("main [role=status]")).to_be_visible()


@pytest.fixture
def speaking(sign_in):
    """Signs in, chooses a language, and takes the choice back at the end."""
    pages = []

    def speaks(mail: str, language: str, size: dict) -> Page:
        page = sign_in(mail, size)
        pages.append(page)
        choose(page, language)
        return page

    yield speaks
    for page in pages:
        page.context.set_offline(False)
        choose(page, "")


def test_the_phones_page_turns_and_stays_so_with_no_signal(sign_in, speaking):
    page = sign_in(CLINICIAN, PHONE)
    page.goto("/visits/")
    expect(page.locator("main")).to_contain_text("This phone is ready for a visit", timeout=60_000)
    expect(page.get_by_role("heading", name=VISITS["en"], exact=True)).to_be_visible()

    choose(page, "de")
    page.goto("/visits/")
    expect(page.get_by_role("heading", name=VISITS["de"], exact=True)).to_be_visible(timeout=20_000)
    page.context.set_offline(True)
    page.reload()

    expect(page.get_by_role("heading", name=VISITS["de"], exact=True)).to_be_visible()
    assert page.locator("html").get_attribute("lang") == "de"
    page.context.set_offline(False)
    choose(page, "")


@pytest.mark.parametrize("language", ["es", "de", "fr"])
def test_nothing_on_the_workshops_pages_is_left_in_english(speaking, language):
    page = speaking(WORKSHOP, language, DESK)
    left = {}

    for path in ("/bench/", "/catalogue/", "/settings/"):
        page.goto(path)
        left[path] = left_in_english(page, language)
    page.goto("/bench/")
    page.locator("a.row-link").first.click()
    page.wait_for_selector("main.order")
    left["order"] = left_in_english(page, language)

    assert {path: found for path, found in left.items() if found} == {}


@pytest.mark.parametrize("language", ["es", "de", "fr"])
def test_nothing_on_the_clinics_pages_is_left_in_english(speaking, language):
    page = speaking(CLINICIAN, language, PHONE)
    left = {}

    for path in ("/orders/", "/cards/", "/phones/", "/take-in/", "/visits/"):
        page.goto(path)
        # the phone's page may first open as it was kept at signing in, and is then put in the member's language
        page.wait_for_selector(f"html[lang='{language}'] h1", timeout=20_000)
        left[path] = left_in_english(page, language)

    assert {path: found for path, found in left.items() if found} == {}
