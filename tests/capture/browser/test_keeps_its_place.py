"""What is being typed in keeps its place on the screen while things are said of it and parts open."""

import pytest

from capture.sheet_fields import FIELDS
from capture.sheet_fields.field import LEG
from tests.capture.browser.test_both_legs import to

TOP = "document.querySelector('.reading-box').getBoundingClientRect().top + scrollY"
KEYS = "document.querySelector('.keypad').getBoundingClientRect().top + scrollY"
# A laid-out page may round differently from one time to the next, by less than anybody sees.
UNSEEN_PX = 1.5


def tops(one) -> dict[str, float]:
    """Where the reading stands: empty, begun, asked about, understood, flagged, with the part opened."""
    one.to_length()
    found = {"empty": one.page.evaluate(TOP)}
    one.type("1")
    found["begun"] = one.page.evaluate(TOP)
    one.type("16")
    one.page.wait_for_selector(".reading-says .offers")
    found["asked"] = one.page.evaluate(TOP)
    one.type("39.4")
    one.until("document.querySelector('.follow').innerText.includes('made')")
    found["understood"] = one.page.evaluate(TOP)
    one.page.click(".fold summary")
    one.page.wait_for_selector(".fold .given-row")
    found["part opened"] = one.page.evaluate(TOP)
    one.type("62")
    one.page.wait_for_selector(".field-flag")
    found["flagged"] = one.page.evaluate(TOP)
    return found


SIZES = [(412, 915), (393, 851), (360, 800), (768, 1024), (375, 667), (1280, 800)]


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_the_reading_stays_where_it_is(phone, width, height):
    found = phone(tops, width=width, height=height)

    moved = {when: top - found["empty"] for when, top in found.items()}
    assert {when: by for when, by in moved.items() if abs(by) > UNSEEN_PX} == {}


def tops_of_keys(one) -> dict[str, float]:
    """Where the keys stand while a first, a second and a third reading are typed and things are said of them."""
    one.to_length()
    found = {"empty": one.page.evaluate(KEYS)}
    for text, sign in (
        ("16", ".reading-says .offers"),
        ("abc", ".reading-says .says"),
        ("39.37 cm", ".follow strong"),
        ("62", ".field-flag"),
    ):
        one.type(text)
        one.page.wait_for_selector(sign)
        found[text] = one.page.evaluate(KEYS)
    one.type("39.37 cm")
    one.page.click(".again")
    found["again"] = one.page.evaluate(KEYS)
    one.type("44.5 cm")
    one.page.wait_for_selector(".field-flag, .compare:not(:empty)")
    found["differs"] = one.page.evaluate(KEYS)
    one.page.click(".again")
    found["a third time"] = one.page.evaluate(KEYS)
    one.type("39.4 cm")
    one.page.wait_for_selector(".field-flag, .compare:not(:empty)")
    found["three"] = one.page.evaluate(KEYS)
    return found


SIZES_OF_PHONES = [(412, 915), (393, 851), (360, 800), (390, 740), (375, 667), (320, 568), (844, 390)]


@pytest.mark.parametrize(("width", "height"), SIZES_OF_PHONES)
def test_the_keys_stay_under_the_thumb(phone, width, height):
    found = phone(tops_of_keys, width=width, height=height)

    moved = {when: top - found["empty"] for when, top in found.items()}
    assert {when: by for when, by in moved.items() if abs(by) > UNSEEN_PX} == {}


# A knee and a foot of which all is asked that a tape can tell.
HARD = {
    "side": "left",
    "knee.pivots_seen": "several",
    "knee.named": "polycentric",
    "seen.knee": "both",
    "foot.profile": "high",
    "foot.ankle": "jointed",
    "seen.pylon": "moves",
}
READ = [field.key for field in FIELDS if field.kind in ("reading", "readings") and field.part is not LEG]
# From the lowest key to what is docked below it; less than nothing where that covers the key.
FREE = """() => document.querySelector('.foot').getBoundingClientRect().top
  - document.querySelector('.keypad').getBoundingClientRect().bottom"""


@pytest.mark.parametrize("language", ["en", "es", "de", "fr"])
def test_all_keys_are_in_reach_on_a_phone_with_its_address_bar(phone, language):
    """What a browser leaves of a usual phone's 850 to 915 px. A key that is docked over isn't found."""

    def walk(one):
        one.begin()
        for key, value in HARD.items():
            to(one, key)
            one.page.click(f"label.choice:has(input[value='{value}'])")
        free = {}
        for key in READ:
            to(one, key)
            one.painted()
            free[key] = one.page.evaluate(FREE)
        return free

    free = phone(walk, width=393, height=785, language=language)

    assert len(free) > 15
    assert {key: px for key, px in free.items() if px < 0} == {}


def test_an_opened_part_lies_over_the_drawing_and_closes_as_one_goes_on(phone):
    def walk(one):
        one.to_length()
        keys = "document.querySelector('.keypad').getBoundingClientRect().top"
        before = one.page.evaluate(keys)
        one.page.click(".fold summary")
        one.page.wait_for_selector(".fold .given-row")
        after = one.page.evaluate(keys)
        inside = one.page.evaluate(
            "document.querySelector('.fold ul').getBoundingClientRect().bottom"
            " <= document.querySelector('.fold summary').getBoundingClientRect().top + 1"
        )
        one.page.click("input.typed")
        one.until("!document.querySelector('.fold details').open")
        return abs(after - before), inside

    moved, above = phone(walk)

    assert moved <= UNSEEN_PX
    assert above


# How much of the keys is hidden: below the screen's end, or under the foot that is docked there.
HIDDEN = """() => {
  const box = (selector) => document.querySelector(selector).getBoundingClientRect();
  return box(".keypad").bottom - Math.min(innerHeight, box(".foot").top);
}"""


@pytest.mark.parametrize(("width", "height"), [(412, 915), (360, 640), (360, 600), (320, 568)])
def test_a_reading_has_all_of_its_keys_in_sight(phone, width, height):
    def walk(one):
        one.to_length()
        one.until("document.activeElement.matches('input.typed')")
        return one.page.evaluate(HIDDEN), one.page.evaluate(
            "document.querySelector('.words h1').getBoundingClientRect().bottom > 0"
        )

    hidden, has_its_name = phone(walk, width=width, height=height)

    assert hidden <= UNSEEN_PX
    assert has_its_name


PLACES = """() => [
  ".words h1", ".words .where", ".mistake", ".drawing-place", ".hand", ".reading-box", ".keypad", ".foot",
].map((selector) => {
  const box = document.querySelector(selector).getBoundingClientRect();
  return [selector, box.top + scrollY, box.height];
})"""


@pytest.mark.parametrize(("width", "height"), [(412, 915), (390, 844), (360, 740), (320, 568), (1280, 800)])
def test_nothing_moves_as_a_flag_comes(phone, width, height):
    def walk(one):
        one.to_length()
        one.type("39.4")
        one.until("document.querySelector('.follow').innerText.includes('made')")
        places = [one.page.evaluate(PLACES)]
        for text in ("62", "6"):  # told with its key; and one that is only begun, once the hand rests
            one.type(text)
            one.until(f"document.querySelector('.field-flag')?.innerText.includes(' {text}0')")
            places.append(one.page.evaluate(PLACES))
        return places

    before, *flagged = phone(walk, width=width, height=height)

    moved = [
        (was, now)
        for after in flagged
        for was, now in zip(before, after, strict=True)
        if any(abs(one - other) > UNSEEN_PX for one, other in zip(was[1:], now[1:], strict=True))
    ]
    assert moved == []
