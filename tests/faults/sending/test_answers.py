"""The server's answers are lost, wrong or no answers at all: only a receipt that names the hash counts as received."""

import pytest

from tests.faults.sending.proxy import (
    answer_cut,
    answer_lost,
    answered,
    done_but_answered,
    dropped,
    shortened,
    stalled,
)

HTML = b"<!doctype html><title>Guest network</title><h1>Welcome</h1>"
PROBLEM = b'{"type": "about:blank", "status": 500, "title": "Broken"}'


def test_server_refuses_while_the_browser_believes_it_is_online(phone, proxy, all_there):
    """1."""
    one = phone()
    proxy.when("*", "/api/", dropped)
    sealed = one.seal(photos=1)
    assert one.page.evaluate("navigator.onLine")

    one.wake()
    one.shows(sealed, "on this phone")
    one.page.wait_for_selector("text=Waits for a signal, then goes by itself")
    proxy.mend()

    one.shows(sealed, "received")  # by its own timer: nobody wakes it
    all_there(sealed)


@pytest.mark.parametrize(
    "act",
    [
        pytest.param(
            done_but_answered("500 Broken", PROBLEM, Content_Type="application/problem+json"),
            id="2, error after the commit",
        ),
        pytest.param(answer_lost, id="3, answer lost"),
        pytest.param(answer_cut(0.6), id="3, answer cut"),
        pytest.param(answered("200 OK", HTML, Content_Type="text/html"), id="5, a page of HTML"),
        pytest.param(answered("200 OK"), id="5, an empty 200"),
        pytest.param(answered("200 OK", b"", Content_Type="application/json"), id="5, an empty JSON"),
        pytest.param(answered("204 No Content"), id="5, a 204"),
        pytest.param(answered("302 Found", Location="/accounts/login/"), id="5, a redirect"),
        pytest.param(
            done_but_answered(
                "200 OK", b'{"schema": "shankline-receipt-1"}', Content_Type="application/json"
            ),
            id="5, half a receipt",
        ),
        pytest.param(shortened(0.5), id="7, short body with a clean end"),
    ],
)
def test_what_is_no_receipt_is_not_received(phone, proxy, all_there, act):
    one = phone()
    proxy.when("PUT", "/api/entries/", act)
    sealed = one.seal(photos=1)

    one.wake()
    one.page.wait_for_selector("text=Waits for a signal, then goes by itself")
    assert [seal["state"] for seal in one.records("seal/")] == ["waiting"]
    one.shows(sealed, "on this phone")
    proxy.mend()

    one.shows(sealed, "received")
    all_there(sealed)
    assert [seal["sha256"] for seal in one.records("seal/")] == [sealed.sha256]


def test_a_call_that_stalls_is_given_up_and_made_again(phone, proxy, all_there):
    one = phone()
    stall = proxy.when("PUT", "/api/entries/", stalled, times=1)
    sealed = one.seal(photos=1)

    one.wake()
    one.sees(lambda: stall.met, "the call is under way")
    assert [seal["state"] for seal in one.records("seal/")] == ["waiting"]

    one.shows(sealed, "received")
    all_there(sealed)
