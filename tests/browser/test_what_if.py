"""The workshop tries another gap on an order's page; figures, flags and drawing follow, and the order stays."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import DESK, PHONE
from tests.browser.test_workshop_asks import WORKSHOP, open_order, violations

NOT_STORED = "Not stored. The order stays as it was sent."


def finished(page):
    return page.locator('.figure-row[data-dimension="finished_length"]')


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_figures_flags_and_drawing_follow_and_the_order_stays(sign_in, size):
    page = sign_in(WORKSHOP, size)
    open_order(page, "NF-0147")  # worked case 3: 420.688 taken, 19.05 left open, made 401
    confirm = page.get_by_role("button", name="Confirm revision")
    assert confirm.is_visible()

    page.get_by_role("link", name="What if it were made otherwise?").click()
    expect(page.get_by_text(NOT_STORED)).to_be_visible()
    expect(page.get_by_role("heading", name="What if")).to_be_focused()
    page.get_by_label("Gap").fill("13")

    expect(finished(page)).to_contain_text(re.compile(r"was\s*401\s*407\s*mm"))
    expect(page.locator(".drawing svg")).to_contain_text("407")
    expect(page.get_by_text("The gap is tight.")).to_be_visible()
    assert page.get_by_label("Gap").evaluate("field => field === document.activeElement")
    expect(confirm).to_be_hidden()
    assert violations(page) == []

    page.get_by_label("Gap").fill("two")
    expect(page.get_by_text("Read “two”")).to_be_visible()
    expect(page.get_by_text("Tried as it was sent.")).to_be_visible()
    expect(finished(page)).not_to_contain_text("was")

    page.get_by_role("link", name="Back to the order as sent").click()
    expect(finished(page)).to_contain_text("401")
    expect(page.get_by_text(NOT_STORED)).to_have_count(0)
    expect(confirm).to_be_visible()


def test_who_is_signed_out_meanwhile_is_led_to_sign_in(sign_in):
    page = sign_in(WORKSHOP, DESK)
    open_order(page, "NF-0147")
    page.get_by_role("link", name="What if it were made otherwise?").click()
    expect(page.get_by_label("Gap")).to_be_visible()
    page.context.clear_cookies()

    page.get_by_label("Gap").fill("13")
    page.wait_for_url("**/accounts/login/**")

    assert "gap%3D13" in page.url


def test_without_script_it_is_tried_by_a_button(sign_in, browser, site):
    signed_in = sign_in(WORKSHOP, DESK)
    context = browser.new_context(
        base_url=site.address, java_script_enabled=False, storage_state=signed_in.context.storage_state()
    )
    page = context.new_page()
    open_order(page, "NF-0147")

    page.get_by_role("link", name="What if it were made otherwise?").click()
    page.get_by_label("Gap").fill("13")
    page.get_by_role("button", name="Try it").click()

    assert page.get_by_text(NOT_STORED).is_visible()
    assert finished(page).locator("s").inner_text() == "401"
    context.close()
