"""Two shells in one order: measured one after the other on the phone, sent once, read side by side at the workshop."""

import re

from playwright.sync_api import Page, expect

from tests.browser.conftest import DESK, PHONE
from tests.browser.test_plain_case import (
    CLINICIAN,
    WORKSHOP,
    answer_the_plain_case,
    choose,
    new_visit,
    next_to,
    order_page,
    send_and_wait,
)


def to_field(page: Page, key: str) -> None:
    page.goto(re.sub(r"#(visit/[^/]+)/.*", rf"#\1/{key}", page.url))
    page.wait_for_selector(f"main[data-field='{key}']")


def begin_both(phone: Page, reference: str) -> None:
    """The left shell whole, its girth chosen since there is no sound leg; then the right one begun."""
    new_visit(phone, reference)
    answer_the_plain_case(phone)
    to_field(phone, "other_leg")
    choose(phone, "Prosthesis above the knee")
    to_field(phone, "girth_from")
    choose(phone, "Chosen")
    to_field(phone, "check")
    phone.get_by_role("button", name="Measure the other leg's shell too").click()


def answer_the_right(phone: Page) -> None:
    phone.wait_for_selector("main[data-field='knee.pivots_seen']")
    choose(phone, "One pin")
    next_to(phone, "foot.profile")
    choose(phone, "Only the pylon")
    next_to(phone, "foot.ankle")
    choose(phone, "Wide")
    next_to(phone, "marks")
    next_to(phone, "length")
    phone.locator("input.typed").press_sequentially("40.0 cm")


def test_both_shells_go_in_one_order(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    begin_both(phone, "NF-0230")
    expect(phone.locator(".whose")).to_contain_text("right")
    to_field(phone, "check")
    expect(phone.locator(".docked")).to_contain_text("Not yet")
    to_field(phone, "knee.pivots_seen")
    answer_the_right(phone)
    to_field(phone, "check")
    # the second worked case: 400 mm less 25.4 for a wide ankle is 374.6, down to a whole mm
    expect(phone.locator(".figures")).to_contain_text("374")

    phone.get_by_role("button", name="to left").click()
    expect(phone.locator(".figures")).to_contain_text("381")
    phone.reload()
    expect(phone.locator(".figures")).to_contain_text("381")
    send_and_wait(phone, "NF-0230")

    desk = sign_in(WORKSHOP, DESK)
    order_page(desk, "NF-0230")
    main = desk.locator("main")
    expect(main).to_contain_text("Shell, left")
    expect(main).to_contain_text("Shell, right")
    expect(main).to_contain_text("381")
    expect(main).to_contain_text("374")
    desk.get_by_role("button", name="Confirm revision 1").click()
    expect(main).to_contain_text("Revision 1 is confirmed.")


def test_what_the_other_leg_lacks_is_said_with_its_side(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    begin_both(phone, "NF-0231")
    to_field(phone, "check")
    phone.get_by_role("button", name="to left").click()

    expect(phone.locator(".docked")).to_contain_text("Not yet: right:")

    phone.get_by_role("button", name="Leave out the right shell").click()
    expect(phone.locator(".docked")).to_contain_text("Not yet: right:")
    phone.get_by_role("button", name="Leave out the right shell").click()
    expect(phone.locator(".docked")).to_contain_text("Ready")
