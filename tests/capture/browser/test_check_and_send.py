"""Check and send: what stands in the way, the way out, and reasons that hold only for their figures."""

import json


def test_what_is_missing_keeps_it_from_being_sent_and_is_named(phone):
    def walk(one):
        one.to_length()
        one.page.goto(one.page.url.replace("/length", "/check"))
        one.at("check")
        one.page.wait_for_selector(".read-back")
        one.page.wait_for_selector(".docked .not-yet")
        words = one.page.inner_text(".docked p")
        one.page.click(".docked .not-yet")
        focused = one.page.evaluate("document.activeElement.getAttribute('aria-label')")
        return words, focused, one.server.seals

    words, focused, seals = phone(walk)

    assert words == "Not yet: 4 aren't answered, length first"
    assert focused == "Change: Length as taken"
    assert seals == []


def test_explain_takes_a_reason_and_a_stop_does_not_go(phone):
    def walk(one):
        one.to_check(girth="52")
        first = one.page.inner_text(".docked p")
        one.page.fill("textarea.reason", "Swollen for years, measured twice.")
        second = one.page.inner_text(".docked p")
        one.page.wait_for_selector(".flag.explain")
        flags = one.page.locator(".flag.explain").count()
        one.send()
        one.page.wait_for_selector(".docked:has-text('received')")
        return first, second, flags, one.server.seals[0][1].decode()

    first, second, flags, sealed = phone(walk)

    assert flags == 1
    assert first == "Not yet: one reason missing"
    assert second == "Ready for Tarn Street Moulding Room."
    assert '"answers":{"girth.unusual":"Swollen for years, measured twice."}' in sealed


def test_a_reason_does_not_hold_for_other_figures(phone):
    def walk(one):
        one.to_check(girth="52")
        one.page.fill("textarea.reason", "Measured twice.")
        one.page.click("a[aria-label='Change: Girth']:not(.button)")
        one.at("girth")
        one.type("52.5")
        one.page.goto(one.page.url.replace("/girth", "/check"))
        one.at("check")
        one.page.wait_for_selector(".stale")
        before = one.page.inner_text(".docked p"), one.page.input_value("textarea.reason")
        one.page.click("text=It still holds")
        focused = one.page.evaluate("document.activeElement.className")
        return before, one.page.inner_text(".docked p"), focused

    before, after, focused = phone(walk)

    assert before == ("Not yet: one reason missing", "Measured twice.")
    assert focused == "input reason"
    assert after == "Ready for Tarn Street Moulding Room."


def test_everything_taken_as_given_is_read_back(phone):
    def walk(one):
        one.to_check()
        return one.page.inner_text(".read-back")

    text = phone(walk)

    for label in (
        "Level",
        "The other leg",
        "What controls it",
        "Gap",
        "Swelling of the calf",
        "Wall",
        "Buckles",
    ):
        assert label in text
    assert "12.7 mm, as advised" in text


def test_four_figures_and_the_drawing_to_scale(phone):
    def walk(one):
        one.to_check()
        one.page.wait_for_selector(".to-scale svg")
        drawing = one.page.locator(".to-scale svg").count()
        return drawing, one.page.inner_text(".figures").replace("\u00a0", " ").split("\n")

    drawing, figures = phone(walk)

    assert drawing == 1
    assert figures[:2] == ["finished length", "381 mm"]
    assert figures[2:4] == ["girth", "385 mm"]


def test_draft_is_thrown_away_on_the_second_tap(phone):
    def walk(one):
        one.to_check()
        one.page.click("text=Throw this draft away")
        one.page.click("text=Keep it")
        one.page.click("text=Throw this draft away")
        one.page.click(".throw-away .button:has-text('Throw')")
        one.page.wait_for_selector("main[data-view=visits]")
        one.page.reload()
        one.page.wait_for_selector(".row.planned")
        return one.page.locator("a.row").count()

    assert phone(walk) == 0


def test_offer_of_a_stop_is_a_button_that_settles_it(phone):
    def walk(one):
        one.begin()
        one.choose("Left")
        one.next()
        one.at("knee.pivots_seen")
        one.choose("One pin")
        one.next()
        one.at("foot.profile")
        one.choose("high foot")
        one.next()
        one.at("foot.ankle")
        one.choose("Solid")
        one.next()
        one.at("foot.hardware_above_rim")
        one.type("7.5")
        one.next()
        one.at("seen.pylon")
        one.choose("Only a tube")
        one.next()
        one.past_marks()
        one.at("length")
        one.type("41.9")
        one.next()
        one.at("girth")
        one.type("38.5")
        one.next()
        one.at("workshop")
        one.choose("Tarn Street")
        one.next()
        one.at("shell.rear")
        one.choose("Long")
        one.next()
        one.past_photos()
        before = one.page.inner_text(".docked p")
        one.page.click(".flag.stop .button")
        one.page.wait_for_selector(".flag.stop", state="detached")
        between = one.page.inner_text(".docked p")
        focused = one.page.evaluate("document.activeElement.closest('.flag').id")
        # a high foot's near photo is wanted, or a reason why there is none
        one.page.fill(".flag.explain textarea", "The lamp was too dim for a photo.")
        return before, between, focused, one.page.inner_text(".docked p")

    before, between, focused, after = phone(walk)

    assert before == "Not yet: one stop, one reason missing"
    assert between == "Not yet: one reason missing"
    assert focused == "flag-1"
    assert after == "Ready for Tarn Street Moulding Room."


# Keeps the next seal from being written until `letSeal` is called.
HOLD_SEALING = """() => new Promise((held) => {
  navigator.locks.request("sealing", () => new Promise((done) => {
    window.letSeal = done;
    held();
  }));
})"""
SEALING_ASKED = "async () => (await navigator.locks.query()).pending.some(({ name }) => name === 'sealing')"


def test_a_change_made_while_the_seal_is_written_stays_a_change(phone):
    def walk(one):
        one.to_check(girth="52")
        one.page.fill("textarea.reason", "Measured once.")
        one.page.evaluate(HOLD_SEALING)
        one.send()
        one.until(SEALING_ASKED)
        one.page.fill("textarea.reason", "Measured twice.")
        with one.page.expect_response(lambda response: response.request.method == "PUT"):
            one.page.evaluate("letSeal()")
        one.page.wait_for_selector(".docked:has-text('Ready')")
        one.page.reload()
        one.at("check")
        reason = one.page.input_value("textarea.reason")
        one.send()
        one.page.wait_for_selector(".docked:has-text('received')")
        return reason, [json.loads(content) for _, content in one.server.seals]

    reason, seals = phone(walk)

    assert reason == "Measured twice."
    said = [seal["entries"][0]["answers"]["girth.unusual"] for seal in seals]
    assert said == ["Measured once.", "Measured twice."]
    assert [seal["parent_sha256"] is None for seal in seals] == [True, False]


def test_a_flags_way_out_is_called_by_what_is_done_there(phone):
    """A girth over the usual, measured seated, and a photo that is still to be taken."""

    def walk(one):
        one.to_check(girth="52")
        check = one.page.url
        for key, choice in (
            ("knee.pivots_seen", "Several pins"),
            ("knee.named", "Polycentric"),
            ("taken", "Seated"),
        ):
            one.page.goto(check.replace("check", key))
            one.at(key)
            one.choose(choice)
        one.page.goto(check)
        one.at("check")
        one.page.wait_for_selector(".flag.explain .ways a")
        return one.page.eval_on_selector_all(
            ".flag .ways a", "(all) => all.map((way) => [way.innerText, way.getAttribute('aria-label')])"
        )

    ways = phone(walk)

    assert {"Measure it", "Change it", "Take it"} == {words for words, _label in ways}
    assert ["Take it", "Take it: Photos"] in ways
    assert [label for words, label in ways if not label.startswith(f"{words}: ")] == []


def test_send_stays_the_same_button_while_it_says_the_same(phone):
    def walk(one):
        one.to_check(girth="52")
        one.page.fill("textarea.reason", "M")
        one.until("Boolean(document.querySelector('.docked .button.next'))")
        one.page.evaluate("globalThis.first = document.querySelector('.docked .button')")
        one.page.type("textarea.reason", "easured")
        one.painted()
        stays = one.page.evaluate("first === document.querySelector('.docked .button')")
        one.page.fill("textarea.reason", "")
        one.until("Boolean(document.querySelector('.docked .button.not-yet'))")
        return stays, one.page.evaluate("first.isConnected")

    assert phone(walk) == (True, False)
