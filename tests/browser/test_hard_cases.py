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
    to_field(phone, "seen.knee")
    choose(phone, "Nothing")
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
    to_field(phone, "seen.pylon")
    choose(phone, "A part that gives")
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


def test_a_stop_that_stands_out_is_asked_for_once_it_was_seen(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    new_visit(phone, "NF-0243")
    answer_the_plain_case(phone)
    to_field(phone, "knee.pivots_seen")
    choose(phone, "Several pins")
    phone.locator(".foot .next").click()
    choose(phone, "Polycentric")
    read(phone, "knee.hardware_length", "12 cm")
    phone.locator(".foot .next").click()
    phone.wait_for_selector("main[data-field='seen.knee']")
    choose(phone, "A stop in front")
    phone.locator(".foot .next").click()
    phone.wait_for_selector("main[data-field='knee.stop_projection']")
    expect(phone.locator(".drawing svg")).to_have_count(1)
    # 46 mm in front of the axis at the apex for a girth of 385, less a wall of 4: nothing is left for 50
    read(phone, "knee.stop_projection", "50 mm")

    to_field(phone, "check")

    expect(phone.locator(".flag.stop")).to_contain_text("extension stop meets the shell's front")


def test_routes_that_differ_ask_for_the_lean(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    new_visit(phone, "NF-0244")
    answer_the_plain_case(phone)
    read(phone, "second_route.apex_to_floor", "50 cm")
    read(phone, "second_route.rim_to_floor", "8.6 cm")

    phone.locator(".foot .next").click()

    phone.wait_for_selector("main[data-field='pylon.lean_forward_deg']")
    phone.get_by_label("Lean, forward").fill("5")
    to_field(phone, "check")
    expect(phone.locator(".flag.explain").first).to_contain_text("By the floor the length is 414 mm")


def test_girths_elsewhere_and_the_places_of_the_pins_are_kept_in_rows(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    new_visit(phone, "NF-0245")
    answer_the_plain_case(phone)
    to_field(phone, "extra_girths")
    phone.get_by_role("button", name="Add more girths").click()
    phone.get_by_label("Above the floor").fill("5 in")
    phone.locator(".foot .next").click()
    expect(phone.get_by_role("alert")).to_contain_text("Girth there is missing")
    phone.get_by_label("Girth there").fill("9 1/4 in")
    expect(phone.locator(".point")).to_contain_text("235 mm")

    phone.reload()

    expect(phone.get_by_label("Girth there")).to_have_value("9 1/4 in")
    read(phone, "second_route.apex_to_floor", "48 cm")
    read(phone, "second_route.rim_to_floor", "8.6 cm")
    to_field(phone, "check")
    expect(phone.locator("main")).to_contain_text("9 1/4 in")
    send_and_wait(phone, "NF-0245")
    desk = sign_in(WORKSHOP, DESK)
    order_page(desk, "NF-0245")
    expect(desk.locator("main")).to_contain_text("9 1/4 in")
