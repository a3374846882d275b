"""The bench by keys, and a bench that stands open while somebody else works."""

import re

from playwright.sync_api import expect

from tests.browser.conftest import DESK

WORKSHOP = "workshop@tarnstreet.example"


def test_an_open_bench_shows_what_a_colleague_has_begun_and_keeps_the_row_in_hand(sign_in):
    mine, theirs = sign_in(WORKSHOP, DESK), sign_in(WORKSHOP, DESK)
    mine.clock.install()
    mine.goto("/bench/")
    mine.keyboard.press("ArrowDown")
    mine.keyboard.press("ArrowDown")
    expect(mine.locator(".row-link:focus")).to_have_text("NF-0147")

    theirs.goto("/bench/?find=NF-0136")
    theirs.keyboard.press("ArrowDown")
    theirs.keyboard.press("Enter")
    theirs.get_by_role("button", name="Start making").click()
    expect(theirs).to_have_url(re.compile("/making/$"))
    mine.clock.fast_forward(25_000)

    in_making = mine.locator("tbody").filter(has_text="In making")
    expect(in_making).to_contain_text("NF-0136")
    expect(mine.locator(".row-link:focus")).to_have_text("NF-0147")
    mine.keyboard.press("Enter")
    expect(mine.locator("h1")).to_have_text("Order NF-0147")


def test_the_bench_is_sorted_by_the_keyboard_alone(sign_in):
    page = sign_in(WORKSHOP, DESK)
    page.goto("/bench/")
    expect(page.locator(".row-link").first).to_have_text("SM-0024")  # due first

    for _press in range(40):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.matches('.bench-sortings a[href*=flags]')"):
            break
    page.keyboard.press("Enter")

    expect(page).to_have_url(re.compile("by=flags"))
    expect(page.locator(".bench-sortings [aria-current]")).to_have_text("flags")
    page.keyboard.press("ArrowDown")
    expect(page.locator(".row-link:focus")).to_have_text("NF-0147")  # the one with a reason
