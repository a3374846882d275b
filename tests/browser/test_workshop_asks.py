"""The workshop asks about a row of an order where it stands, takes the question back, and looks at a photo."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe

from tests.browser.conftest import DESK, PHONE

WORKSHOP = "workshop@tarnstreet.example"


def open_order(page, reference):
    page.goto("/bench/")
    page.get_by_role("link", name=reference, exact=True).click()
    page.wait_for_load_state("networkidle")


def violations(page) -> list[str]:
    return [
        f"{found['id']}: {[node['target'] for node in found['nodes']][:3]}"
        for found in Axe().run(page).response["violations"]
    ]


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_question_is_asked_in_its_row_and_withdrawn(sign_in, size):
    page = sign_in(WORKSHOP, size)
    open_order(page, "NF-0150")
    row = page.locator(".figure-row", has_text="Girth, outside")
    assert not row.get_by_role("link", name="Ask about this entry").is_visible()

    row.get_by_role("button").click()
    row.get_by_role("link", name="Ask about this entry").click()
    question = row.get_by_label("Your question")
    question.wait_for()
    assert question.evaluate("field => field === document.activeElement")
    assert row.get_by_label("About").input_value() == "girth"
    assert violations(page) == []
    asked = f"Over a stocking or on the skin? {size['width']}"
    question.fill(asked)
    row.get_by_role("button", name="Ask the clinic").click()

    query = page.locator(".query", has_text=asked)
    assert "#query-" in page.url
    assert query.get_by_text("waits for the clinic").is_visible()
    assert row.get_by_role("link", name="asked").is_visible()
    assert page.get_by_role("button", name="Confirm revision").count() == 0

    query.get_by_role("button", name="Withdraw the query").click()
    page.locator(".query", has_text=asked).get_by_text("the clinic need not reply").wait_for()
    assert page.get_by_role("button", name="Confirm revision").is_visible()


def test_who_is_signed_out_meanwhile_is_led_to_sign_in_and_back_to_the_question(sign_in):
    page = sign_in(WORKSHOP, DESK)
    open_order(page, "NF-0150")
    row = page.locator(".figure-row", has_text="Girth, outside")
    row.get_by_role("button").click()
    page.context.clear_cookies()

    row.get_by_role("link", name="Ask about this entry").click()
    page.wait_for_url("**/accounts/login/**")

    assert "girth_mm" in page.url


def test_without_script_the_question_is_a_page_of_its_own(sign_in, browser, site):
    signed_in = sign_in(WORKSHOP, DESK)
    context = browser.new_context(
        base_url=site.address, java_script_enabled=False, storage_state=signed_in.context.storage_state()
    )
    page = context.new_page()
    open_order(page, "NF-0150")

    page.get_by_role("link", name=re.compile("Ask about this entry ?: Finished length")).click()
    page.get_by_label("Your question").fill("?")
    page.get_by_role("button", name="Ask the clinic").click()

    assert page.get_by_text("Write what you want to know, in a few words.").is_visible()
    assert page.get_by_label("Your question").input_value() == "?"
    context.close()


def test_photo_opens_large_and_comes_nearer(sign_in):
    page = sign_in(WORKSHOP, DESK)
    open_order(page, "NF-0147")
    strip = page.locator(".photo-strip a.photo-open")
    assert strip.count() >= 4
    assert violations(page) == []

    strip.first.click()
    photo = page.locator(".photo-view img")
    photo.wait_for()
    assert photo.evaluate("picture => picture.decode().then(() => picture.naturalHeight)") == 1600
    page.locator(".photo-view").focus()
    page.keyboard.press("+")

    assert page.locator("output").text_content() == "150 %"
    assert violations(page) == []
