"""Signing out, while sending goes on: what is said and what is being pressed outlasts every change of what waits."""

import pytest

from tests.capture.browser.conftest import Phone

CHANGE = """(state) => {
  const tab = new BroadcastChannel("outbox"); // as another tab tells of it
  tab.postMessage({ state, since: new Date(), next: null });
  tab.close();
}"""
OUT = ".docked button"


def at_sign_out(one: Phone) -> None:
    one.open("#sign-out")
    one.page.wait_for_selector(OUT)


def changed(one: Phone, state: str) -> None:
    """What waits has changed, and the page has shown it: the list is read anew each time."""
    one.page.evaluate(CHANGE, state)
    one.page.wait_for_timeout(200)


def test_what_was_said_stays_as_the_signal_goes(phone):
    def walk(one):
        at_sign_out(one)
        one.server.reachable = False
        one.page.click(OUT)
        one.until("document.querySelector('.docked').innerText.includes('needs a signal')")
        changed(one, "waits")
        return one.page.inner_text(".docked [role=status]"), one.page.inner_text("h1")

    assert phone(walk) == ("Signing out needs a signal. Nothing has changed.", "Sign out")


def test_a_change_under_the_finger_loses_no_press(phone):
    def walk(one):
        at_sign_out(one)
        one.server.reachable = False
        box = one.page.locator(OUT).bounding_box()
        one.page.mouse.move(box["x"] + 20, box["y"] + 20)
        one.page.mouse.down()
        changed(one, "sending")
        one.page.mouse.up()
        one.until("document.querySelector('.docked').innerText.includes('needs a signal')")

    phone(walk)


APART = """() => {
  const parts = [...document.querySelectorAll(".sign-out-view .page :is(h1, p, ul.rows)")];
  const boxes = parts.map((part) => part.getBoundingClientRect());
  return boxes.slice(1).map((box, at) => box.top - boxes[at].bottom);
}"""


def test_what_is_said_of_unsent_visits_stands_apart_from_their_list(phone):
    def walk(one):
        one.begin("NF-0172")
        at_sign_out(one)
        one.page.wait_for_selector(".sign-out-view ul.rows")
        return one.page.evaluate(APART)

    gaps = phone(walk)

    assert len(gaps) == 3
    assert min(gaps) >= 8


def test_a_visit_that_is_not_sent_is_named_and_the_words_follow(phone):
    def walk(one):
        at_sign_out(one)
        before = one.page.inner_text(OUT)
        one.begin("NF-0171")
        at_sign_out(one)
        one.until("document.querySelector('.sign-out-view').innerText.includes('NF-0171')")
        return before, one.page.inner_text(OUT), one.page.locator(f"{OUT}.next").count()

    assert phone(walk) == ("Sign out", "Sign out all the same", 0)


@pytest.mark.parametrize("width", [320, 412])
def test_staying_and_leaving_stand_side_by_side_until_something_is_said(phone, width):
    def walk(one):
        at_sign_out(one)
        stay, out = (one.page.locator(f".docked {kind}").bounding_box() for kind in ("a", "button"))
        return stay, out

    stay, out = phone(walk, width=width)

    assert stay["y"] < out["y"] + out["height"]
    assert out["y"] < stay["y"] + stay["height"]
    assert stay["x"] == 16
    assert out["x"] + out["width"] == width - 16
