"""Component cards on the sheet: they fill it, are shown as such, and never stand in for a look."""

import json

import pytest
from axe_playwright_python.sync_playwright import Axe

from capture.cards import for_sheet

POINT = {"what": "charging port", "side": "rear", "below_apex": "75 mm", "stays_open": True}
KNEE = {"knee.named": "polycentric", "knee.control": "microprocessor", "knee.hardware_length": "108 mm"}
FOOT = {"foot.profile": "high", "foot.ankle": "jointed", "foot.hardware_above_rim": "3 in"}


def card(label: str, kind: str, holds: dict, allows_shell: str = "yes") -> dict:
    """A card as the server tells it."""
    told = {"id": label, "kind": kind, "label": label, "allows_shell": allows_shell}
    return told | for_sheet(kind, label, holds)


CARDS = [
    card("Ours, charged", "knee", {**KNEE, "service_points": [POINT]}),
    card("Open frame", "knee", {"knee.named": "single_axis"}, "no"),
    card("High foot", "foot", FOOT, "unknown"),
]


def to_knee(one) -> None:
    one.begin()
    one.choose("Left")
    one.next()
    one.at("knee.pivots_seen")


def take(one, label: str) -> None:
    one.page.locator(".card-place .button").click()
    one.page.click(f"dialog .row:has-text('{label}')")
    one.page.wait_for_selector("dialog", state="detached")


def at_field(one, key: str) -> str:
    """What stands in words at a field."""
    one.page.goto(one.page.url.rsplit("/", 1)[0] + f"/{key}")
    one.at(key)
    return one.page.inner_text(".card-line")


def kept(one) -> dict:
    return one.page.evaluate("""async () => {
      const { readAll } = await import("/static/testbuild/js/offline/store.js");
      return (await readAll("draft/"))[0].answers;
    }""")


def test_a_card_fills_what_its_maker_says_and_no_more(phone):
    def walk(one):
        to_knee(one)
        take(one, "Ours, charged")
        one.page.wait_for_selector(".card-place :text('Ours, charged')")
        answers = kept(one)
        marks = {key: at_field(one, key) for key in ("knee.control", "knee.named", "service_points")}
        return answers, marks, one.page.input_value("#point-0")

    answers, marks, point = phone(walk, cards=CARDS)

    assert answers == {
        "side": "left",
        "knee.named": "polycentric",
        "knee.control": "microprocessor",
        "knee.label": "Ours, charged",
        "service_points": [POINT],
    }
    assert set(marks.values()) == {"from the card"}
    assert point == "charging port"


def test_what_is_seen_or_measured_is_asked_and_the_card_says_nothing_before(phone):
    def walk(one):
        to_knee(one)
        take(one, "Ours, charged")
        before = one.page.inner_text(".card-line")
        one.next()  # without a look there is no going on
        refused = one.page.inner_text("#choice-says")
        one.choose("One pin")
        after = one.page.inner_text(".card-line")
        measured = at_field(one, "knee.hardware_length")
        return before, refused, after, measured

    before, refused, after, measured = phone(walk, cards=CARDS)

    assert before == measured == "Look for yourself; the card is held against it."
    assert refused == "Choose one of these first."
    assert after == "The card says Several pins. Another one, or changed?"


def test_the_drawing_counts_no_pins_before_they_are_seen(phone):
    """The card's knee has several; drawn so, it would answer what is to be looked at."""

    def walk(one):
        to_knee(one)
        one.page.wait_for_selector(".drawing svg")
        before = one.page.inner_html(".drawing")
        take(one, "Ours, charged")
        one.page.wait_for_selector(".card-place :text('Ours, charged')")
        one.page.wait_for_selector(".drawing svg")
        with_card = one.page.locator(".drawing circle").count()
        return before.count("<circle"), with_card

    before, with_card = phone(walk, cards=CARDS)

    assert before == with_card


# 108 mm on the card; two readings differ from 8 mm on
@pytest.mark.parametrize(
    ("typed", "differs"), [("10.8 cm", False), ("11.6 cm", False), ("11.7 cm", True), ("9 cm", True)]
)
def test_a_length_unlike_the_card_s_is_told(phone, typed, differs):
    def walk(one):
        to_knee(one)
        take(one, "Ours, charged")
        at_field(one, "knee.hardware_length")
        one.type(typed)
        return one.page.inner_text(".card-line")

    said = phone(walk, cards=CARDS)

    assert said == ("The card says 108 mm. Another one, or changed?" if differs else "the card says 108 mm")


def test_a_maker_that_allows_no_shell_is_a_caution_at_the_choice_and_before_sending(phone):
    def walk(one):
        to_knee(one)
        one.page.locator(".card-place .button").click()
        offered = one.page.inner_text("dialog li:has-text('Open frame')")
        one.page.click("dialog .row:has-text('Open frame')")
        chosen = one.page.inner_text(".card-place")
        one.page.goto(one.page.url.rsplit("/", 1)[0] + "/check")
        one.page.wait_for_selector(".read-back")
        return offered, chosen, one.page.inner_text(".read-back")

    for place in phone(walk, cards=CARDS):
        assert "Its maker allows no shell over it, and its maker's instructions win." in place


def test_another_card_takes_back_what_the_first_filled_and_nothing_that_was_answered(phone):
    def walk(one):
        to_knee(one)
        one.choose("Several pins")
        at_field(one, "knee.control")
        one.choose("Fluid")
        one.page.goto(one.page.url.rsplit("/", 1)[0] + "/knee.pivots_seen")
        one.at("knee.pivots_seen")
        take(one, "Ours, charged")
        with_first = kept(one)
        mark = at_field(one, "knee.control")
        at_field(one, "knee.pivots_seen")
        one.page.locator(".card-place .button").click()
        one.page.get_by_role("button", name="No card").click()
        one.page.wait_for_selector(".card-place :text('From a card')")
        return with_first, mark, kept(one)

    with_first, mark, without = phone(walk, cards=CARDS)

    assert with_first["knee.control"] == "fluid"
    assert mark == "The card says Microprocessor. Another one, or changed?"
    assert without == {"side": "left", "knee.pivots_seen": "several", "knee.control": "fluid"}


def test_a_foot_s_card_is_chosen_at_the_foot_and_sent_as_answers(phone):
    def walk(one):
        to_knee(one)
        one.choose("One pin")
        at_field(one, "foot.profile")
        take(one, "High foot")
        one.choose("s mechanism")
        one.painted()
        marks = [one.page.inner_text(".card-line"), at_field(one, "foot.ankle")]
        one.page.reload()
        one.at("foot.ankle")
        return marks, one.page.inner_text(".card-line"), kept(one)["foot.ankle"]

    assert phone(walk, cards=CARDS) == (
        ["the card says The foot's mechanism", "from the card"],
        "from the card",
        "jointed",
    )


def test_a_clinic_without_cards_sees_no_place_for_them(phone):
    def walk(one):
        to_knee(one)
        return one.page.locator(".card-place").count()

    assert phone(walk) == 0


@pytest.mark.parametrize("width", [320, 412])
def test_choosing_is_accessible_and_large_enough_to_touch(phone, width):
    def walk(one):
        to_knee(one)
        one.page.locator(".card-place .button").click()
        low = one.page.evaluate(
            "() => [...document.querySelectorAll('dialog button')].filter((one) => one.offsetHeight < 44).length"
        )
        margin = one.page.locator("dialog h2").bounding_box()["x"]
        found = [Axe().run(one.page).response["violations"]]
        one.page.click("dialog .row:has-text('Open frame')")
        one.page.wait_for_selector("dialog", state="detached")
        one.choose("Several pins")
        found.append(Axe().run(one.page).response["violations"])
        wide = one.page.evaluate("() => document.body.scrollWidth <= innerWidth")
        return low, margin, json.dumps(found), wide

    assert phone(walk, width=width, cards=CARDS) == (0, 16, "[[], []]", True)
