"""Two shells in one order: what is one shell's stays with it, whichever is in hand."""

import json

from tests.capture.browser.test_card import CARDS, take

# What a draft knows of the shell in hand beside its answers, and what of that the other one begins with.
OF_LEFT = {
    "raised": ["length.routes_differ"],
    "cards": {"knee": {"label": "Ours, charged"}},
    "base": {"side": "left"},
    "at": "check",
}
SWAPPED = """async ({ otherShell, swap }) => {
  const shell = (side) => ({ answers: { side }, skipped: {}, taken_up: {}, reasons: {} });
  const draft = { id: "d", ...shell("left"), ...%s, second: shell("right") };
  const told = ({ answers, raised, cards, base, at }) => [answers.side, raised, cards, base, at];
  const other = told(otherShell(draft));
  swap(draft);
  const right = told(draft);
  swap(draft);
  return [other, right, told(draft)];
}"""


def to(one, key: str) -> None:
    one.page.goto(one.page.url.rsplit("/", 1)[0] + f"/{key}")
    one.at(key)


def begin_the_other(one) -> None:
    """From the left shell's check: its leg is a prosthesis too, and that one's shell is begun."""
    to(one, "other_leg")
    one.choose("Prosthesis above the knee")
    to(one, "girth_from")
    one.choose("Chosen")
    to(one, "check")
    one.page.click("button:has-text('Measure the other leg')")
    one.at("knee.pivots_seen")


def test_what_is_of_one_shell_goes_and_comes_with_it(js):
    other, right, left = js("sheet/both_legs.js").evaluate(SWAPPED % json.dumps(OF_LEFT))

    assert other == right == ["right", None, None, None, None]
    assert left == ["left", *OF_LEFT.values()]


def test_visits_tells_what_a_check_asks_of_the_shell_in_hand(phone):
    """The left one's two routes differ, which asks for the pylon's lean; of the right one nothing is measured yet."""

    def walk(one):
        one.to_check()
        for key, text in (("second_route.apex_to_floor", "52"), ("second_route.rim_to_floor", "10")):
            to(one, key)
            one.type(text)
        begin_the_other(one)
        to(one, "check")
        one.page.click(".other-leg")
        one.page.wait_for_selector(".other-leg:has-text('to right')")
        one.page.click(".whose a")
        one.page.wait_for_selector("main[data-view='visits'] .progress")
        return one.page.inner_text(".progress")

    assert "lean forward" in phone(walk)


def test_a_card_of_the_one_knee_says_nothing_of_the_other(phone):
    def walk(one):
        one.to_check()
        to(one, "knee.pivots_seen")
        take(one, "Open frame")
        left = one.page.inner_text(".card-place")
        begin_the_other(one)
        right = one.page.inner_text(".card-place")
        to(one, "check")
        one.page.wait_for_selector(".read-back")
        return left, right, one.page.inner_text("main")

    left, right, read = phone(walk, cards=CARDS)

    assert "Open frame" in left
    assert "Open frame" not in right
    assert "Open frame" not in read


def test_a_side_named_anew_is_taken_from_the_other_shell(phone):
    """Both of one side would be refused only when they are sent."""

    def walk(one):
        one.to_check()
        begin_the_other(one)
        before = one.page.inner_text(".other-leg")
        to(one, "side")
        one.choose("Left")
        one.page.wait_for_selector(".whose:has-text('· left')")
        return before, one.page.inner_text(".other-leg")

    assert phone(walk) == ("to left", "to right")


def test_a_shell_is_left_out_on_the_second_tap(phone):
    def walk(one):
        one.to_check()
        begin_the_other(one)
        to(one, "check")
        one.page.click("button:has-text('Leave out the left shell')")
        one.page.click("button:has-text('Keep it')")
        kept = one.page.locator(".other-leg").count()
        one.page.keyboard.press("Enter")
        one.page.keyboard.press("Enter")
        twice = one.page.locator(".other-leg").count()
        one.page.keyboard.press("Enter")
        one.page.click("button:has-text('Leave out the left shell')")
        one.page.wait_for_selector(".other-leg", state="detached")
        return kept, twice

    assert phone(walk) == (1, 1)
