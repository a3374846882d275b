"""A misunderstanding, whole: the workshop's question, a reply that measures again, a confirmation that came too late."""

import re

from playwright.sync_api import Page, expect

from tests.browser.conftest import DESK, PHONE
from tests.browser.test_plain_case import CLINICIAN, WORKSHOP, order_page, send_and_wait

REFERENCE = "NF-0139"  # of the demo: a polycentric knee, asked about its hardware length


def to_check(page: Page) -> None:
    page.goto(re.sub(r"#(visit/[^/]+)/.*", r"#\1/check", page.url))
    page.wait_for_selector("main[data-field='check']")


def change_hardware_length(page: Page, text: str) -> None:
    page.goto(re.sub(r"#(visit/[^/]+)/.*", r"#\1/knee.hardware_length", page.url))
    page.wait_for_selector("main[data-field='knee.hardware_length']")
    page.locator("input.typed").fill(text)
    to_check(page)


def test_a_question_a_reply_that_measures_again_and_a_stale_confirmation(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    first = phone.locator(".asked").first
    expect(first).to_contain_text(REFERENCE)
    expect(first).to_contain_text("Is 10.8 cm down to that one?")
    assert phone.locator("h2").first.inner_text() == "Waiting for your reply"
    first.get_by_role("link", name="Reply").click()

    phone.wait_for_selector("main[data-field='knee.hardware_length']")
    expect(phone.locator(".question")).to_contain_text("sent as: 10.8")
    phone.locator("input.typed").fill("11.6 cm")
    to_check(phone)
    phone.get_by_label("Your answer, in words").fill("To the second clamp it is 11.6 cm.")
    send_and_wait(phone, REFERENCE)

    desk = sign_in(WORKSHOP, DESK)
    order_page(desk, REFERENCE)
    expect(desk.locator("main")).to_contain_text("To the second clamp it is 11.6 cm.")
    # 116 mm, 10 clear and half a strap of 25: 138.5 mm, where it was 108 + 10 + 12.5 = 130.5
    expect(desk.locator("main")).to_contain_text("138.5")
    expect(desk.get_by_role("button", name="Confirm revision 2")).to_be_visible()

    phone.get_by_role("button", name="Change and send again").click()
    change_hardware_length(phone, "11.8 cm")
    send_and_wait(phone, REFERENCE)
    desk.get_by_role("button", name="Confirm revision 2").click()

    expect(desk.locator("h1")).to_have_text("Nothing was confirmed")
    expect(desk.locator("main")).to_contain_text("11.8 cm")
    desk.get_by_role("link", name="Read revision 3").click()
    desk.get_by_role("button", name="Confirm revision 3").click()
    expect(desk.locator("main")).to_contain_text("Revision 3 is confirmed.")

    phone.goto("/visits/")
    expect(phone.locator(".asked", has_text=REFERENCE)).to_have_count(0)
