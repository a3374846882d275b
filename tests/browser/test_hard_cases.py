"""Hard cases on the sheet, sent and read: what must stay reachable, a part that moves under load, a boot."""

import re

from playwright.sync_api import Page, expect

from tests.browser.conftest import DESK, PHONE
from tests.browser.test_both_legs import to_field
from tests.browser.test_plain_case import (
    CLINICIAN,
    WORKSHOP,
    answer_the_plain_case,
    choose,
    new_visit,
    order_page,
    send_and_wait,
)


def read(page: Page, key: str, text: str) -> None:
    to_field(page, key)
    page.locator("input.typed").fill(text)


def test_what_must_stay_reachable_is_named_flagged_and_sent(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    new_visit(phone, "NF-0240")
    answer_the_plain_case(phone)
    to_field(phone, "knee.control")
    choose(phone, "Microprocessor")
    read(phone, "knee.hardware_length", "12.0 cm")
    to_field(phone, "service_points")
    phone.locator(".foot .next").click()
    expect(phone.get_by_role("alert")).to_contain_text("Add what must stay reachable")
    phone.get_by_role("button", name="Add something").click()
    phone.locator(".foot .next").click()
    expect(phone.get_by_role("alert")).to_contain_text("Say what it is")
    phone.get_by_role("textbox", name="What it is").fill("charging port")
    phone.get_by_label("Where, on the shank").select_option("outer")
    phone.get_by_role("textbox", name=re.compile("Below the apex")).fill("nineteen")
    phone.locator(".foot .next").click()
    expect(phone.get_by_role("alert")).to_contain_text("nineteen")
    phone.get_by_role("textbox", name=re.compile("Below the apex")).fill("19 cm")
    expect(phone.locator(".point")).to_contain_text("190 mm")

    phone.reload()
    expect(phone.get_by_role("textbox", name="What it is")).to_have_value("charging port")
    to_field(phone, "check")
    covered = phone.locator(".flag.explain", has_text="charging port")
    covered.locator("textarea").fill("An opening was agreed by telephone.")
    photo = phone.locator(".flag.explain", has_text="knee from near")
    photo.locator("textarea").fill("The camera is broken.")
    send_and_wait(phone, "NF-0240")

    desk = sign_in(WORKSHOP, DESK)
    order_page(desk, "NF-0240")
    expect(desk.locator("main")).to_contain_text("charging port, outer, 19 cm below the apex, stays open")
    expect(desk.locator("main")).to_contain_text("An opening was agreed by telephone.")


def test_a_part_that_moves_under_load_is_left_room(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    new_visit(phone, "NF-0241")
    answer_the_plain_case(phone)
    read(phone, "moving_part.from_above_rim", "20 mm")
    read(phone, "moving_part.to_above_rim", "50 mm")
    read(phone, "moving_part.travel", "8 mm")

    to_field(phone, "check")

    # 393.7 mm less 12.7 for a solid ankle and 8 that the part gives: 373, and no flag for a gap over the usual
    expect(phone.locator(".figures")).to_contain_text("373")
    send_and_wait(phone, "NF-0241")


def test_a_boot_wants_its_collar_and_stops_a_shell_that_reaches_it(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    new_visit(phone, "NF-0242")
    answer_the_plain_case(phone)
    to_field(phone, "footwear")
    choose(phone, "Boot")
    read(phone, "collar_above_rim", "3 cm")

    to_field(phone, "check")

    expect(phone.locator(".flag.stop")).to_contain_text("collar")
    expect(phone.locator(".docked")).to_contain_text("Not yet: one stop")
