"""Signing out on a phone with work that isn't sent: said, asked, kept for its member, and seen by nobody else."""

import re

from playwright.sync_api import Page, expect

from fixtures_demo import world
from tests.browser.conftest import PHONE
from tests.browser.test_plain_case import (
    CLINICIAN,
    answer_the_plain_case,
    choose,
    new_visit,
    next_to,
    send_and_wait,
)

OTHER = "clinician@saltmarsh.example"


def in_again(page: Page, mail: str) -> None:
    page.get_by_label("Mail address").fill(mail)
    page.get_by_label("Password").fill(world.PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(lambda address: "/accounts/" not in address)
    page.goto("/visits/")


def test_what_is_not_sent_is_said_and_waits_for_its_member(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    new_visit(phone, "NF-0260")
    choose(phone, "Left")
    next_to(phone, "knee.pivots_seen")
    phone.goto("/visits/")
    phone.get_by_role("link", name="Sign out").click()

    expect(phone.locator("h1")).to_have_text("Sign out")
    expect(phone.locator("main")).to_contain_text("NF-0260")
    expect(phone.locator("main")).to_contain_text("on this phone")
    phone.get_by_role("link", name=re.compile("Stay signed in")).click()
    expect(phone.locator("main[data-view='visits']")).to_contain_text("NF-0260")

    phone.get_by_role("link", name="Sign out").click()
    phone.locator(".docked button").click()
    phone.wait_for_url(re.compile("/accounts/login/"))

    in_again(phone, OTHER)
    expect(phone.locator("main[data-view='visits']")).to_contain_text("Visits")
    expect(phone.locator("main")).not_to_contain_text("NF-0260")
    phone.get_by_role("link", name="Sign out").click()
    expect(phone.locator("main")).not_to_contain_text("NF-0260")
    phone.locator(".docked button").click()
    phone.wait_for_url(re.compile("/accounts/login/"))

    in_again(phone, CLINICIAN)
    expect(phone.locator("main[data-view='visits']")).to_contain_text("NF-0260")


def test_without_signal_signing_out_changes_nothing(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    phone.goto("/visits/")
    phone.get_by_role("link", name="Sign out").click()
    phone.wait_for_selector("main[data-view='sign-out'] .docked button")
    phone.context.set_offline(True)

    phone.locator(".docked button").click()

    # a call that was on its way as the signal went is given up after 20 s
    says = phone.locator(".docked")
    expect(says).to_contain_text("Signing out needs a signal. Nothing has changed.", timeout=40_000)
    phone.context.set_offline(False)
    phone.goto("/visits/")
    expect(phone.locator("main[data-view='visits']")).to_contain_text("Northfell Mobile Limb Clinic")


def test_a_session_that_ended_still_lets_the_phone_send(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    new_visit(phone, "NF-0261")
    answer_the_plain_case(phone)
    phone.context.clear_cookies()

    send_and_wait(phone, "NF-0261")

    phone.goto("/visits/")
    expect(phone.locator("main")).to_contain_text("You are signed out; all is kept.")
