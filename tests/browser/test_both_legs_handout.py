"""Both legs in one order, and the person's page: a link is made, opened, printed and withdrawn; a problem is reported."""

import re

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect

from tests.browser.conftest import DESK, PHONE

WCAG = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
LEAD = "lead@northfell.example"
REFERENCE = "NF-0141"  # of the demo: two prostheses, confirmed


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_a_link_is_made_opened_printed_and_withdrawn(sign_in, site, browser, size):
    clinic = sign_in(LEAD, size)
    clinic.goto("/orders/")
    clinic.get_by_role("link", name=re.compile(REFERENCE)).first.click()
    expect(clinic.locator("main")).to_contain_text("Shell, left")
    expect(clinic.locator("main")).to_contain_text("Shell, right")
    clinic.get_by_role("button", name=re.compile("link", re.IGNORECASE)).first.click()
    address = clinic.locator("input[readonly]").input_value()
    assert address.startswith(f"{site.address}/h/")
    expect(clinic.locator("main svg").first).to_be_visible()

    person = browser.new_context(viewport=size).new_page()
    answer = person.goto(address)
    assert (answer.status, answer.headers["referrer-policy"]) == (200, "no-referrer")
    assert "no-store" in answer.headers["cache-control"]
    expect(person.locator("body")).to_contain_text("If in doubt, sit down and take it off.")
    assert REFERENCE not in person.content()
    person.locator("a:visible", has_text="Start").click()
    steps = []
    for _step in range(3):
        steps.append(person.locator("h2:visible").first.inner_text())
        person.locator("a.next:visible").first.click()
        expect(person.locator("h2:visible").first).not_to_have_text(steps[-1])
    assert "Shell round the leg" in steps
    expect(person.locator("h2:visible").first).to_have_text("Lower strap first")
    assert faults_of(person) == []

    person.locator("a:visible", has_text="Report a problem").click()
    expect(person.locator("h2:visible").first).to_have_text("Tell the clinic")
    person.get_by_role("button", name="Tell the clinic").click()
    expect(person.get_by_role("alert")).to_have_text("Tick what is wrong, or write it down.")
    expect(person.locator("h2:visible").first).to_have_text("Tell the clinic")
    assert faults_of(person) == []
    person.get_by_label("the shell turns or slides down").check()
    person.get_by_label("In your own words").fill("After the stairs.")
    person.get_by_role("button", name="Tell the clinic").click()
    expect(person.get_by_role("heading", level=1)).to_have_text("The clinic has been told")
    assert faults_of(person) == []
    person.goto(address)

    paper = person.pdf(format="A4")
    assert paper.startswith(b"%PDF-")
    assert paper.count(b"/Type /Page\n") + paper.count(b"/Type /Page ") + paper.count(b"/Type /Page/") >= 4

    clinic.goto("/orders/")
    clinic.get_by_role("link", name=re.compile(REFERENCE)).first.click()
    expect(clinic.locator("#problems")).to_contain_text("After the stairs.")
    expect(clinic.locator("#problems")).to_contain_text("the shell turns or slides down")
    clinic.get_by_role("button", name="Withdraw the link").click()
    gone = person.goto(address)
    assert gone.status == 410
    expect(person.locator("body")).to_contain_text("01632 960 147")
    expect(person.locator("body")).to_contain_text("Your leg works without the shell")
    person.context.close()


def faults_of(page):
    """What axe finds on the page."""
    found = Axe().run(page, options=WCAG).response["violations"]
    return [(one["id"], one["nodes"][0]["target"]) for one in found]


def test_a_wrong_link_is_said_kindly(site, browser):
    person = browser.new_context(viewport=PHONE).new_page()

    answer = person.goto(f"{site.address}/h/AAAAAAAAAAAAAAAAAAAAAA/")

    assert answer.status == 404
    expect(person.locator("body")).to_contain_text("Your leg works without the shell")
    person.context.close()
