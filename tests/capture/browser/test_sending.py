"""Sealing and sending: frozen bytes, and nothing but the right receipt counts."""

import hashlib
import json

import pytest
from django.conf import settings
from django.shortcuts import resolve_url

from capture.seal import read_seal
from orders.reckoning.entry import read_entry

from .conftest import receipt_for


def waiting_state(one) -> str:
    """What stands beside the visit while it waits; a try in between says that it is being sent."""
    one.page.goto(one.page.url.split("#")[0] + "#visits")
    state = one.page.wait_for_selector("li:has-text('NF-0147') .row-state.waiting")
    return state.inner_text().strip()


def test_seal_is_named_by_the_hash_of_its_very_bytes(phone):
    def walk(one):
        one.to_check()
        one.send()
        one.page.wait_for_selector(".docked:has-text('received 12:58')")
        return one.server.seals, one.page.inner_text(".docked p")

    (seals, foot) = phone(walk)

    ((path, raw),) = seals
    content = read_seal(raw)
    assert path == f"/api/entries/{content.id}/seals/{hashlib.sha256(raw).hexdigest()}"
    assert content.reference == "NF-0147"
    assert content.parent_sha256 == ""
    assert "With Tarn Street Moulding Room" in foot


def test_sealed_entry_is_one_that_the_reckoning_reads(phone):
    def walk(one):
        one.to_check()
        one.send()
        one.page.wait_for_selector(".docked:has-text('received')")
        return json.loads(one.server.seals[0][1])

    seal = phone(walk)

    entry = read_entry(seal["entries"][0])
    assert entry["length"] == ["39.4"]
    assert entry["units"] == "cm"
    assert entry["knee"]["named"] == "single_axis"
    assert entry["shell"] == {
        "wall": "thin", "rear": "short", "top": "plain", "colour": "slate", "finish": "matt", "buckle_side": "outer",
        "upper_strap": None, "lower_strap": None,
    }  # fmt: skip


def wrong_hash(request):
    status, kind, body = receipt_for(request)
    return status, kind, json.dumps(json.loads(body) | {"sha256": "0" * 64})


def wrong_length(request):
    status, kind, body = receipt_for(request)
    return status, kind, json.dumps(json.loads(body) | {"bytes": 1})


def wrong_order(request):
    status, kind, body = receipt_for(request)
    return status, kind, json.dumps(json.loads(body) | {"id": "0f8fad5b-d9cb-469f-a165-70867728950e"})


def page_of_a_portal(_request):
    return 200, "text/html", "<h1>Welcome to the guest network</h1>"


def html_called_json(_request):
    return 200, "application/json", "<h1>Sign in</h1>"


def failing(_request):
    return 500, "application/problem+json", '{"title": "Broken", "status": 500}'


@pytest.mark.parametrize(
    "answer", [wrong_hash, wrong_length, wrong_order, page_of_a_portal, html_called_json, failing]
)
def test_answer_that_is_no_receipt_counts_as_nothing(phone, answer):
    def walk(one):
        one.to_check()
        one.send()
        one.page.wait_for_selector(".docked:has-text('Waits for a signal')")
        state = waiting_state(one)
        one.page.reload()
        after_reload = waiting_state(one)
        one.server.to_seal = receipt_for
        one.page.evaluate("dispatchEvent(new Event('online'))")
        one.page.wait_for_selector(".row-state.received")
        return state, after_reload, one.server.seals

    state, after_reload, seals = phone(walk, to_seal=answer)

    assert state == after_reload == "on this phone"
    assert len(seals) >= 2
    assert {raw for _path, raw in seals} == {seals[0][1]}, "the same bytes every time"


def test_with_no_way_out_it_stays_and_goes_later_by_itself(phone):
    def walk(one):
        one.to_check()
        one.server.reachable = False
        one.send()
        one.page.wait_for_selector(".docked:has-text('Waits for a signal')")
        assert one.server.seals == []
        one.server.reachable = True
        one.page.evaluate("dispatchEvent(new Event('online'))")
        one.page.wait_for_selector(".docked:has-text('received')")
        return len(one.server.seals)

    assert phone(walk) == 1


def test_signed_out_keeps_all_and_says_so(phone):
    def walk(one):
        one.to_check()
        one.server.signed_in = False
        one.send()
        one.page.wait_for_selector(".docked:has-text('Waits until you sign in')")
        state = waiting_state(one)
        said = one.page.inner_text(".signal")
        link = one.page.get_attribute(".signal a", "href")
        one.server.signed_in = True
        one.page.evaluate("dispatchEvent(new Event('online'))")
        one.page.wait_for_selector(".row-state.received")
        return state, said, link

    state, said, link = phone(walk)

    assert state == "on this phone"
    assert said.startswith("You are signed out; all is kept.")
    assert link == f"{resolve_url(settings.LOGIN_URL)}?next=/visits/"


def test_refusal_is_shown_in_the_servers_words_and_blocks_nothing_else(phone):
    problem = {
        "type": "about:blank", "title": "Unprocessable", "status": 422, "detail": "This can't be taken.",
        "errors": [{"field": "workshop", "says": "No such workshop."}],
    }  # fmt: skip

    def walk(one):
        refused = []

        def refuse_the_first(request):
            refused.append(request.url.split("/")[5])
            if request.url.split("/")[5] == refused[0]:
                return 422, "application/problem+json", json.dumps(problem)
            return receipt_for(request)

        one.server.to_seal = refuse_the_first
        one.to_check()
        one.send()
        one.page.wait_for_selector(".docked:has-text('needs attention')")
        said = one.page.inner_text(".docked p")
        one.to_check(reference="NF-0148")
        one.send()
        one.page.wait_for_selector(".docked:has-text('received')")
        one.page.goto(one.page.url.split("#")[0] + "#visits")
        one.page.wait_for_selector(".row-state")
        return said, one.page.locator(".row strong").all_inner_texts()

    said, rows = phone(walk)

    assert "This can't be taken. No such workshop." in said
    assert rows[:2] == ["NF-0147", "NF-0148"], "what needs attention comes first"


def test_another_member_neither_sees_nor_sends_it(phone):
    def walk(one):
        one.to_check()
        one.server.reachable = False
        one.send()
        one.page.wait_for_selector(".docked:has-text('Waits for a signal')")
        one.server.reachable, one.server.member = True, "m-2"
        one.open()
        one.page.reload()
        one.page.wait_for_selector(".row.planned")
        one.page.wait_for_timeout(500)
        seen = one.page.locator("li:has-text('NF-0147')").count()
        return seen, len(one.server.seals)

    assert phone(walk) == (0, 0)


def test_a_correction_is_a_new_seal_that_names_the_last(phone):
    def walk(one):
        one.to_check()
        one.send()
        one.page.wait_for_selector(".docked:has-text('received')")
        one.page.click("text=Change and send again")
        not_yet = one.page.inner_text(".docked p")
        one.page.click("a[aria-label='Change: Rear']")
        one.at("shell.rear")
        one.choose("Long")
        one.next()
        one.at("check")
        one.send()
        one.page.wait_for_function("() => document.querySelector('.docked').innerText.includes('received')")
        return not_yet, one.server.seals

    not_yet, seals = phone(walk)

    first, second = (json.loads(raw) for _path, raw in seals)
    assert not_yet == "Not yet: nothing has changed since it was sent"
    assert second["parent_sha256"] == seals[0][0].rsplit("/", 1)[1]
    assert first["id"] == second["id"]
    assert second["entries"][0]["shell"]["rear"] == "long"


def test_visit_made_with_no_signal_reaches_the_server_later(phone):
    def walk(one):
        one.open()
        one.page.wait_for_selector(".row.planned")
        one.server.reachable = False
        one.begin("NF-0160")
        one.server.reachable = True
        one.page.evaluate("dispatchEvent(new Event('online'))")
        one.page.wait_for_timeout(500)
        return [(visit["reference"], visit["initials"]) for visit in one.server.visits]

    assert phone(walk) == [("NF-0160", "L. H.")]


def test_no_signal_is_said_and_the_list_is_still_there(phone):
    def walk(one):
        one.open()
        one.page.wait_for_selector(".row.planned")
        one.server.reachable = False
        one.page.click("text=New visit")
        one.page.click("a.back")
        one.page.wait_for_selector(".signal:has-text('no signal since')")
        said = one.page.inner_text(".signal")
        planned = one.page.inner_text(".row.planned")
        one.server.reachable = True
        one.page.click("text=try now")
        one.page.wait_for_selector(".signal:has-text('no signal since')", state="detached")
        return said, planned

    said, planned = phone(walk)

    assert "nothing is lost" in said
    assert "NF-0152" in planned
