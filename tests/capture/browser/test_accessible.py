"""The phone's views under axe, and by keyboard alone."""

import io

import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image

from .test_card import CARDS
from .test_photos import picture, take, to_photos

STANDARD = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
# How far the page can be scrolled sideways. [px]
WIDER = "Math.max(0, document.documentElement.scrollWidth - innerWidth)"

BEYOND = """() => [...(document.querySelector("dialog[open]") ?? document.querySelector("main")).querySelectorAll("*")]
  .filter((one) => !one.closest("svg, .unseen") && one.getBoundingClientRect().width)
  .filter((one) => one.getBoundingClientRect().right > innerWidth + 1 || one.getBoundingClientRect().left < -1)
  .map((one) => `${one.tagName} ${one.className} ${one.textContent.slice(0, 30)}`)"""


def faults_on(one) -> list[str]:
    """What axe finds on the view, shown whole: a key that the docked foot half covers is not small, it scrolls free."""
    size = one.page.viewport_size
    one.page.set_viewport_size({**size, "height": 4000})
    results = Axe().run(one.page, options=STANDARD)
    one.page.set_viewport_size(size)
    return [
        f"{fault['id']}: {node['html'][:120]}"
        for fault in results.response["violations"]
        for node in fault["nodes"]
    ]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_views_have_no_fault_that_axe_can_find(phone, scheme):
    def walk(one):
        one.page.emulate_media(color_scheme=scheme)
        found = {}
        one.open()
        one.page.wait_for_selector(".row.planned")
        found["visits"] = faults_on(one)
        one.page.goto(one.page.url.split("#")[0] + "#new")
        one.page.wait_for_selector("main[data-view=new]")
        one.next()
        found["new"] = faults_on(one)
        one.to_check(girth="52")
        found["check"] = faults_on(one)
        one.page.click(".read-back a[aria-label='Change: Girth']")
        one.at("girth")
        one.page.click(".given summary")
        found["girth"] = faults_on(one)
        one.type("1,234")
        one.next()
        found["girth, stopped"] = faults_on(one)
        one.page.click("a.back")
        one.at("length")
        one.page.click(".again")
        found["length, again"] = faults_on(one)
        one.page.click(".ruler button:has-text('foot')")
        found["parts"] = faults_on(one)
        one.page.click(".part-row:has-text('What stands above')")
        one.at("foot.profile")
        found["foot"] = faults_on(one)
        one.page.click(".enlarge")
        found["drawing"] = faults_on(one)
        one.page.click(".enlarged label:has-text('To scale')")
        found["to scale"] = faults_on(one)
        one.page.keyboard.press("Escape")
        one.page.goto(one.page.url.replace("foot.profile", "marks"))
        one.at("marks")
        found["marks"] = faults_on(one)
        return {view: faults for view, faults in found.items() if faults}

    assert phone(walk) == {}


def test_plain_case_goes_by_keyboard_alone(phone):
    def walk(one):
        page = one.page
        one.open("#new")
        one.until("document.activeElement.id === 'reference'")
        page.keyboard.type("NF-0147")
        page.keyboard.press("Tab")
        page.keyboard.type("L. H.")
        page.keyboard.press("Enter")

        def pick(key, steps=0):
            one.at(key)
            page.focus("input[type=radio][name]:not([name=units])")
            page.keyboard.press("Space")
            for _ in range(steps):
                page.keyboard.press("ArrowDown")
            page.keyboard.press("Enter")

        def measure(key, text):
            one.at(key)
            one.until("document.activeElement.className === 'typed'")
            page.keyboard.type(text)
            page.keyboard.press("Enter")

        pick("side")
        pick("knee.pivots_seen")
        pick("foot.profile")
        pick("foot.ankle", steps=1)
        one.at("marks")
        page.focus(".foot .next")
        page.keyboard.press("Enter")
        measure("length", "39.4")
        measure("girth", "38.5")
        pick("workshop")
        pick("shell.rear")
        one.at("photos")
        page.focus(".foot .next")
        page.keyboard.press("Enter")
        one.at("check")
        page.focus(".docked .button.next")
        page.keyboard.press("Enter")
        page.wait_for_selector(".docked:has-text('received')")
        return one.server.seals

    seals = phone(walk)

    assert len(seals) == 1
    assert b'"ankle":"spring"' in seals[0][1]


def test_targets_are_at_least_44_px(phone):
    small = """() => [...document.querySelectorAll('a, button, summary, label.choice, .unit-option, input.input')]
      .map((element) => [element, element.getBoundingClientRect()])
      .filter(([element, box]) => box.width > 0 && (box.height < 43.9 || box.width < 43.9))
      .map(([element, box]) => `${element.className} ${element.textContent.trim()} ${box.width}x${box.height}`)"""

    def walk(one):
        found = []
        one.to_length()
        one.type("39.4")
        found += one.page.evaluate(small)
        one.page.click(".again")
        one.page.click(".given summary")
        found += one.page.evaluate(small)
        one.page.click(".enlarge")
        found += one.page.evaluate(small)
        one.page.keyboard.press("Escape")
        one.page.click(".ruler button:has-text('knee')")
        found += one.page.evaluate(small)
        one.page.click(".part-row:has-text('Pins on one side')")
        one.at("knee.pivots_seen")
        found += one.page.evaluate(small)
        one.page.goto(one.page.url.replace("knee.pivots_seen", "check"))
        one.at("check")
        found += one.page.evaluate(small)
        one.page.click(".whose a")
        one.page.wait_for_selector("main[data-view=visits]")
        one.page.wait_for_selector(".row.planned")
        found += one.page.evaluate(small)
        return found

    assert phone(walk) == []


def test_text_twice_as_large_fits_on_the_narrowest_screen_and_drawings_follow(phone):
    """WCAG 2.2, 1.4.4 and 1.4.10: 200 % text, 320 px without scrolling sideways."""
    letters = "document.querySelector('dialog text.fg-end').getBoundingClientRect().height"

    def walk(one):
        one.to_check()
        one.page.click(".read-back a[aria-label='Change: Length as taken']")
        one.at("length")
        one.page.click(".enlarge")
        usual = one.page.evaluate(letters)
        one.page.evaluate("document.documentElement.style.fontSize = '200%'")
        one.until(f"{letters} > {1.3 * usual}")
        wider = {"drawing": one.page.evaluate(WIDER)}
        one.page.keyboard.press("Escape")
        one.page.click(".fold summary")
        wider["length"] = one.page.evaluate(WIDER)
        for key in ("girth", "photos", "check"):
            one.page.evaluate(f"location.hash = location.hash.replace(/[^/]+$/, '{key}')")
            one.at(key)
            wider[key] = one.page.evaluate(WIDER)
        return {view: px for view, px in wider.items() if px}

    assert phone(walk, width=320, height=800) == {}


@pytest.mark.parametrize("language", ["en", "de"])
def test_what_is_rarer_fits_as_well_with_text_twice_as_large(phone, language):
    """Service points, a repeated reading, cards, the enlarged drawing, a photo and its measuring: nothing is cut off."""

    def walk(one):
        one.begin()
        one.page.click("label.choice:has(input[value='left'])")
        # As a browser's own setting does it, by which the sheet's widths count too.
        session = one.page.context.new_cdp_session(one.page)
        session.send("Page.enable")
        session.send("Page.setFontSizes", {"fontSizes": {"standard": 32, "fixed": 26}})
        one.until("getComputedStyle(document.documentElement).fontSize === '32px'")
        beyond = {}

        def look(name):
            beyond[name] = one.page.evaluate(BEYOND)

        def to(key):
            one.page.evaluate(f"location.hash = location.hash.replace(/[^/]+$/, '{key}')")
            one.at(key)

        to("service_points")
        one.page.click(".ways .button")
        look("points")
        to("knee.pivots_seen")
        one.page.click(".card-place .button")
        one.page.wait_for_selector("dialog .row")
        look("cards")
        one.page.keyboard.press("Escape")
        to("length")
        one.type("41.2 cm")
        one.page.dispatch_event(".again", "click")
        look("repeated")
        one.page.dispatch_event(".enlarge", "click")
        one.page.wait_for_selector("dialog.enlarged svg")
        look("enlarged")
        one.page.keyboard.press("Escape")
        to("photos")
        take(one, "side", picture(1))
        look("photos")
        one.page.dispatch_event(".has-photo .ways > button", "click")
        one.page.wait_for_selector(".measuring[open]")
        look("measuring")
        cut = one.page.locator(".measuring > p, .measure-head").evaluate_all(
            "all => all.filter((one) => one.scrollHeight > one.clientHeight + 1).map((one) => one.textContent)"
        )
        return {name: found for name, found in beyond.items() if found}, cut

    assert phone(walk, width=320, height=800, cards=CARDS, language=language) == ({}, [])


def test_the_place_in_hand_is_told_in_forced_colours(phone):
    def walk(one):
        one.page.emulate_media(forced_colors="active")
        one.begin()
        one.choose("Left")
        to_photos(one)
        take(one, "side", picture(1))
        one.page.click(".has-photo .ways > button")
        one.page.wait_for_selector(".measuring[open]")
        one.painted()
        pickers = [one.page.locator(".picker").nth(number).screenshot() for number in (0, 1)]
        return [Image.open(io.BytesIO(shown)).convert("RGB").getpixel((12, 12)) for shown in pickers]

    in_hand, other = phone(walk)

    assert in_hand != other
