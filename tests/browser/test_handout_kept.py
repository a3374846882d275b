"""The person's page kept on their phone: at a tap, with no signal, until it is let go of or its link is stopped."""

import re
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Error, expect

from tests.browser.conftest import DESK, PHONE
from tests.faults.sending.proxy import Proxy, stalled

LEAD = "lead@northfell.example"
REFERENCE = "NF-0125"  # of the demo: shipped
KEPT = "Kept on this phone. It opens without a signal."
OLD = "No signal. This is the page as it was kept on this day:"


@pytest.fixture
def clinic(sign_in):
    page = sign_in(LEAD, DESK)
    page.goto("/orders/")
    page.get_by_role("link", name=re.compile(REFERENCE)).first.click()
    return page


@pytest.fixture
def address(clinic):
    """A link of this test's own."""
    order = clinic.url
    clinic.get_by_role("button", name=re.compile("Make .*link")).click()
    made = clinic.locator("input[readonly]").input_value()
    clinic.goto(order)
    return made


@pytest.fixture
def person(browser, address):
    """The person's phone, with the page open."""
    context, wrong = browser.new_context(viewport=PHONE), []
    page = context.new_page()
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.goto(address)
    yield page
    context.close()
    assert wrong == []


def kept(page):
    page.get_by_role("button", name="Keep on this phone").click()
    expect(page.locator("#keep [role=status]")).to_have_text(KEPT)


def test_kept_it_opens_without_a_signal_and_says_that_it_is_old(person):
    kept(person)
    person.context.set_offline(True)

    person.reload()

    expect(person.get_by_text(OLD)).to_be_visible()
    expect(person.locator("#kept-copy bdi")).to_have_text(re.compile(r"\w+ \d{1,2}, \d{4}|\d{1,2} \w+ \d{4}"))
    expect(person.locator("body")).to_contain_text("Your leg works without the shell.")
    person.locator("a:visible", has_text="Start").click()
    expect(person.locator("h2:visible").first).to_have_text("Sit down")
    numbers = [person.locator("[name=sent_as]").input_value()]
    person.reload()
    numbers.append(person.locator("[name=sent_as]").input_value())
    assert len(set(numbers)) == 2  # or a second report would be taken for the first, sent again
    ink = person.evaluate("getComputedStyle(document.querySelector('.handout-caution')).position")
    assert ink == "sticky"  # its style sheet is there too

    person.context.set_offline(False)
    person.reload()
    expect(person.get_by_text(OLD)).to_be_hidden()
    expect(person.locator("#keep [role=status]")).to_have_text(KEPT)


def test_not_kept_or_let_go_of_it_does_not(person):
    person.context.set_offline(True)
    with pytest.raises(Error, match="ERR_INTERNET_DISCONNECTED"):
        person.reload()
    person.context.set_offline(False)
    person.reload()
    kept(person)

    person.get_by_role("button", name="Remove from this phone").click()

    expect(person.get_by_role("button", name="Keep on this phone")).to_be_visible()
    person.context.set_offline(True)
    with pytest.raises(Error, match="ERR_"):
        person.reload()


def test_a_link_that_is_stopped_takes_along_what_was_kept(person, clinic, address):
    kept(person)
    clinic.get_by_role("button", name="Withdraw the link").click()

    assert person.goto(address).status == 410

    person.context.set_offline(True)
    with pytest.raises(Error, match="ERR_"):
        person.goto(address)


def test_a_link_that_is_up_and_brings_nothing_is_given_up(site, browser, address):
    way = Proxy(urlsplit(site.address).port)
    context = browser.new_context(viewport=PHONE)
    person = context.new_page()
    person.goto(way.address + urlsplit(address).path)
    kept(person)
    stall = way.when("GET", "/h/", stalled)

    person.reload()

    expect(person.get_by_text(OLD)).to_be_visible()
    assert stall.met
    context.close()
    way.close()
