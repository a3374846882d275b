"""The plain case, from sign-in on a phone to the workshop's confirmation, against the real server."""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import DESK, PHONE
from tests.orders.documents.pages import texts

CLINICIAN = "clinician@northfell.example"
WORKSHOP = "workshop@tarnstreet.example"


def choose(page: Page, words: str) -> None:
    page.locator("label.choice", has_text=words).first.click()


def next_to(page: Page, field: str) -> None:
    page.locator(".foot .next, .new-visit .next").first.click()
    page.wait_for_selector(f"main[data-field='{field}']")


def new_visit(page: Page, reference: str) -> None:
    page.get_by_text("New visit").click()
    page.fill("#reference", reference)
    page.fill("#initials", "Q. X.")
    next_to(page, "side")


def answer_the_plain_case(page: Page, length: str = "39.37 cm", girth: str = "38.5 cm") -> None:
    """Six things and two readings, up to check and send. 39.37 cm is 15 1/2 in."""
    choose(page, "Left")
    next_to(page, "knee.pivots_seen")
    choose(page, "One pin")
    next_to(page, "foot.profile")
    choose(page, "Only the pylon")
    next_to(page, "foot.ankle")
    choose(page, "Solid")
    next_to(page, "marks")
    next_to(page, "length")
    page.locator("input.typed").press_sequentially(length)
    next_to(page, "girth")
    page.locator("input.typed").press_sequentially(girth)
    next_to(page, "workshop")
    choose(page, "Tarn Street")
    next_to(page, "shell.rear")
    choose(page, "Short")
    next_to(page, "photos")
    next_to(page, "check")


def send_and_wait(page: Page, reference: str) -> None:
    page.locator(".docked .button.next").click()
    expect(page.locator("body")).to_contain_text(re.compile(r"received \d"), timeout=20_000)
    expect(page.locator("body")).to_contain_text(reference)


def order_page(page: Page, reference: str) -> None:
    page.goto(f"/bench/?find={reference}")
    page.get_by_role("link", name=re.compile(reference)).first.click()
    page.wait_for_url(re.compile(r"/bench/[0-9a-f-]{36}/"))


@pytest.mark.parametrize(
    ("reference", "clinic", "workshop"),
    [("NF-0201", PHONE, DESK), ("NF-0200", DESK, PHONE)],
    ids=["phone to desk", "desk to phone"],
)
def test_the_plain_case_from_sign_in_to_confirmed(sign_in, reference, clinic, workshop):
    phone = sign_in(CLINICIAN, clinic)
    new_visit(phone, reference)
    answer_the_plain_case(phone)
    # the first worked case of the reckoning: 15 1/2 in less 12.7 mm for a solid ankle is 381 mm
    expect(phone.locator("main")).to_contain_text("381")
    send_and_wait(phone, reference)

    desk = sign_in(WORKSHOP, workshop)
    order_page(desk, reference)
    expect(desk.locator("main")).to_contain_text("381")
    expect(desk.locator("main svg").first).to_be_visible()
    desk.get_by_role("button", name="Confirm revision 1").click()

    expect(desk.locator("main")).to_contain_text("Confirmed")
    with desk.expect_download() as work_order:
        desk.get_by_role("link", name="Work order, PDF, A4").click()
    assert work_order.value.suggested_filename == f"{reference} revision 1 work-order-a4.pdf"
    first_page = texts(work_order.value.path().read_bytes())[0]
    assert reference in first_page
    assert "381 mm" in first_page
    assert "PREVIEW" not in first_page
    phone.goto("/visits/")
    expect(phone.locator("body")).to_contain_text("confirmed", timeout=15_000)


def test_a_reload_in_the_middle_keeps_place_and_text(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    new_visit(phone, "NF-0202")
    choose(phone, "Left")
    next_to(phone, "knee.pivots_seen")
    choose(phone, "One pin")
    next_to(phone, "foot.profile")
    choose(phone, "Only the pylon")
    next_to(phone, "foot.ankle")
    choose(phone, "Solid")
    next_to(phone, "marks")
    next_to(phone, "length")
    phone.locator("input.typed").press_sequentially("15 1/2 in")
    expect(phone.locator("main")).to_contain_text("393.7")

    phone.reload()

    phone.wait_for_selector("main[data-field='length']")
    expect(phone.locator("input.typed")).to_have_value("15 1/2 in")


def test_a_stale_revision_is_not_confirmed(sign_in):
    phone = sign_in(CLINICIAN, PHONE)
    new_visit(phone, "NF-0203")
    answer_the_plain_case(phone)
    send_and_wait(phone, "NF-0203")
    desk = sign_in(WORKSHOP, DESK)
    order_page(desk, "NF-0203")

    phone.get_by_text("Change and send again").first.click()
    phone.wait_for_selector("main[data-field]")
    phone.goto(phone.url.rsplit("/", 1)[0] + "/length")
    phone.wait_for_selector("main[data-field='length']")
    phone.locator("input.typed").fill("40.00 cm")
    phone.goto(phone.url.rsplit("/", 1)[0] + "/check")
    phone.wait_for_selector("main[data-field='check']")
    send_and_wait(phone, "NF-0203")
    desk.get_by_role("button", name="Confirm revision 1").click()

    expect(desk.locator("h1")).to_have_text("Nothing was confirmed")
    expect(desk.locator("main")).to_contain_text("387")  # 400 − 12.7 = 387.3, down to a whole mm
    expect(desk.locator("main")).to_contain_text("381")
    desk.get_by_role("link", name="Read revision 2").click()
    desk.get_by_role("button", name="Confirm revision 2").click()
    expect(desk.locator("main")).to_contain_text("Revision 2 is confirmed.")
