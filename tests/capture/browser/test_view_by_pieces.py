"""A view that is shown piece by piece: nothing that a hand does meanwhile is lost, and each piece comes."""

# A browser that paints no frame from now on.
NO_FRAMES = "() => { globalThis.requestAnimationFrame = () => 0; }"
# One that paints none for a while.
FRAMES_HELD = """() => {
  Object.assign(globalThis, { frames: requestAnimationFrame, held: [] });
  globalThis.requestAnimationFrame = (act) => held.push(act);
}"""
FRAMES_AGAIN = """() => {
  globalThis.requestAnimationFrame = frames;
  for (const act of held) requestAnimationFrame(act);
}"""
PLACES = "JSON.stringify([...document.querySelectorAll('.choice')].map((row) => row.getBoundingClientRect()))"
ALL_DRAWN = (
    "document.querySelectorAll('.picture svg').length === document.querySelectorAll('.picture').length"
)
# The parts of the check, by their classes, as they stand on the page.
PARTS = """() => {
  const parts = document.querySelectorAll(".to-scale svg, .figures > div, .flags > li, .read-back");
  return [...parts].map((one) => one.className.baseVal ?? one.className);
}"""


def test_a_key_that_is_sooner_than_the_first_frame_is_typed(phone):
    def walk(one):
        one.to_length()
        one.type("39.4")
        one.page.evaluate(NO_FRAMES)
        one.page.keyboard.press("Enter")
        one.at("girth")
        focused = one.page.evaluate("document.activeElement.className")
        one.page.keyboard.type("38.5")
        return focused, one.page.input_value("input.typed")

    focused, typed = phone(walk)

    assert (focused, typed) == ("", "38.5")


def test_what_was_taken_sooner_than_the_first_frame_keeps_the_focus(phone):
    def walk(one):
        one.begin()
        one.choose("Left")
        one.page.evaluate(FRAMES_HELD)
        one.page.click(".foot .next")
        one.at("knee.pivots_seen")
        one.page.focus("input[type=radio][value=several]")
        one.page.evaluate(FRAMES_AGAIN)
        one.painted()
        return one.page.evaluate("document.activeElement.value")

    assert phone(walk) == "several"


def test_next_goes_by_an_answer_that_is_not_shown_yet(phone):
    def walk(one):
        one.begin()
        one.page.evaluate(NO_FRAMES)
        one.page.click("label.choice:has-text('Left')")
        one.page.click(".foot .next")
        one.at("knee.pivots_seen")
        return one.page.inner_text(".whose")

    assert phone(walk).endswith("left")


def test_the_places_of_drawings_stand_before_what_is_in_them(phone):
    def walk(one):
        one.begin()
        one.choose("Left")
        one.painted()
        one.page.evaluate(FRAMES_HELD)
        one.page.click(".foot .next")
        one.at("knee.pivots_seen")
        empty = one.page.locator(".picture svg").count()
        before = one.page.evaluate(PLACES)
        one.page.evaluate(FRAMES_AGAIN)
        one.until(ALL_DRAWN)
        return empty, one.page.locator(".picture svg").count(), before == one.page.evaluate(PLACES)

    empty, drawn, same = phone(walk)

    assert empty == 0
    assert drawn >= 2
    assert same


def test_the_check_is_whole_from_the_top_down(phone):
    def walk(one):
        one.to_check(length="62")
        one.until("Boolean(document.querySelector('.read-back'))")
        return one.page.evaluate(PARTS)

    parts = phone(walk)

    assert parts[0].startswith("fg")
    assert sum(name.startswith("flag") for name in parts) >= 1
    assert parts[-1] == "read-back"
