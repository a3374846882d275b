"""What must stay reachable, put onto the leg by tap, drag and keys; the list says the same and is enough by itself."""

import pytest
from axe_playwright_python.sync_playwright import Axe

# The drawing's own scale, as leg.js writes it, and the picture's height in mm from its upper edge to the apex.
MM_PER_PX = """() => {
  const svg = document.querySelector(".face svg");
  return svg.viewBox.baseVal.height / svg.getBoundingClientRect().height / Number(svg.dataset.pxPerMm);
}"""
KEPT = """async () => {
  const { readAll } = await import("/static/testbuild/js/offline/store.js");
  return (await readAll("draft/"))[0].answers.service_points;
}"""


def to_points(one, side: str = "Left") -> None:
    one.begin()
    one.choose(side)
    one.page.goto(one.page.url.rsplit("/", 1)[0] + "/service_points")
    one.at("service_points")
    one.page.wait_for_selector(".face svg")


def tap(one, share: float) -> None:
    """Taps the drawing at a share of its height."""
    one.page.locator(".face").scroll_into_view_if_needed()
    box = one.page.locator(".face svg").bounding_box()
    one.page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] * share)


def turn_to(one, face: str) -> None:
    one.page.click(f".faces label:has-text('{face}')")


def below(one, number: int = 0) -> str:
    return one.page.input_value(f"#point-{number}-below")


def test_a_tap_puts_one_where_it_is_on_the_face_that_is_shown(phone):
    def walk(one):
        to_points(one)
        turn_to(one, "outer")
        tap(one, 0.4)
        one.page.keyboard.type("valve")
        low = below(one)
        tap(one, 0.5)
        apart = one.page.evaluate(MM_PER_PX) * one.page.locator(".face svg").bounding_box()["height"] / 10
        return low, below(one, 1), apart, one.page.evaluate(KEPT)[0]

    first, second, apart, kept = phone(walk)

    first_mm, second_mm = (int(text.removesuffix(" mm")) for text in (first, second))
    assert first_mm % 5 == second_mm % 5 == 0
    # each is rounded to the nearest 5 mm
    assert second_mm - first_mm == pytest.approx(apart, abs=5)
    assert kept == {"what": "valve", "side": "outer", "below_apex": first, "stays_open": True}


def test_the_apex_of_the_drawing_is_nought(phone):
    """Held against the coupling above the knee, which the figure draws from 69 to 52 mm above the apex."""

    def walk(one):
        to_points(one)
        one.page.click("button:has-text('Add something')")
        one.page.fill("#point-0", "light")
        one.page.select_option("#point-0-side", "front")
        one.page.fill("#point-0-below", "0 mm")
        turn_to(one, "front")
        return one.page.evaluate("""() => {
          const middle = (one) => { const { top, height } = one.getBoundingClientRect(); return top + height / 2; };
          const coupling = document.querySelector(".face .fg-metal").getBoundingClientRect();
          return [middle(document.querySelector(".point-mark")), coupling.top, coupling.bottom];
        }""")

    mark, top, bottom = phone(walk)

    # 2 mm is a pixel of the screen here
    assert 17 * (mark - top) / (bottom - top) == pytest.approx(69, abs=2)


def test_one_is_dragged_and_the_list_says_where_it_is(phone):
    def walk(one):
        to_points(one)
        tap(one, 0.3)
        before = below(one)
        one.page.locator(".face").scroll_into_view_if_needed()
        box = one.page.locator(".point-mark").bounding_box()
        x, y = box["x"] + 30, box["y"] + 30  # not its middle: it must not jump under the finger
        mouse = one.page.mouse
        mouse.move(x, y)
        mouse.down()
        mouse.move(x, y + 60, steps=5)
        mouse.up()
        return (
            before,
            below(one),
            60 * one.page.evaluate(MM_PER_PX),
            one.page.evaluate(KEPT),
            one.page.locator(".point").count(),
        )

    before, after, moved, kept, rows = phone(walk)

    before_mm, after_mm = (int(text.removesuffix(" mm")) for text in (before, after))
    assert after_mm - before_mm == pytest.approx(moved, abs=5)
    assert [point["below_apex"] for point in kept] == [after]
    assert rows == 1


def test_keys_alone_move_one_by_5_mm_and_say_so(phone):
    def walk(one):
        to_points(one)
        tap(one, 0.3)
        one.page.keyboard.type("charging port")
        start = int(below(one).removesuffix(" mm"))
        mark = one.page.locator(".point-mark")
        mark.focus()
        one.page.keyboard.press("ArrowDown")
        one.page.keyboard.press("ArrowDown")
        one.page.keyboard.press("ArrowUp")
        told = [mark.get_attribute(name) for name in ("role", "aria-label", "aria-valuetext")]
        one.page.keyboard.press("PageDown")
        lower = below(one)
        for _ in range(20):
            one.page.keyboard.press("PageUp")
        return start, told, lower, below(one)

    start, told, lower, top = phone(walk)

    assert told == ["slider", "charging port", f"{start + 5} mm below the apex"]
    assert lower == f"{start + 55} mm"
    assert top == "0 mm"


def test_the_list_alone_does_it_and_the_figure_follows(phone):
    def walk(one):
        to_points(one)
        one.page.click("button:has-text('Add something')")
        one.page.fill("#point-0", "charging port")
        one.page.fill("#point-0-below", "7.5")
        on_rear = one.page.locator(".point-mark").get_attribute("aria-valuetext")
        one.page.select_option("#point-0-side", "inner")
        gone = one.page.locator(".point-mark").count()
        turn_to(one, "inner")
        there = one.page.locator(".point-mark").count()
        one.page.fill("#point-0-below", "somewhere")
        return on_rear, gone, there, one.page.locator(".point-mark").count()

    # 7.5 typed while centimetres are the unit
    assert phone(walk) == ("75 mm below the apex", 0, 1, 0)


@pytest.mark.parametrize(
    ("side", "face", "ahead"),
    [("Left", "front", -1), ("Left", "rear", 1), ("Right", "front", 1), ("Right", "rear", -1)],
)
def test_a_mark_stands_on_its_face_of_either_leg(phone, side, face, ahead):
    """From outside a left leg points left, a right leg right."""

    def walk(one):
        to_points(one, side)
        turn_to(one, face)
        tap(one, 0.5)
        return one.page.evaluate("""() => {
          const middle = (one) => { const { left, width } = one.getBoundingClientRect(); return left + width / 2; };
          return middle(document.querySelector(".point-mark")) - middle(document.querySelector(".face .fg-tube"));
        }""")

    assert phone(walk) * ahead > 10


@pytest.mark.parametrize("width", [320, 412])
def test_it_is_accessible_and_large_enough_to_touch(phone, width):
    def walk(one):
        to_points(one)
        tap(one, 0.3)
        one.page.keyboard.type("charging port")
        small = one.page.evaluate("""() => [...document.querySelectorAll(".points-figure button, .points-figure label")]
            .filter((one) => Math.min(one.offsetWidth, one.offsetHeight) < 44).length""")
        wide = one.page.evaluate("() => document.body.scrollWidth <= innerWidth")
        return small, wide, Axe().run(one.page).response["violations"]

    assert phone(walk, width=width) == (0, True, [])


def add(one, what: str, below: str) -> None:
    one.page.click("button:has-text('Add something')")
    number = one.page.locator(".point").count() - 1
    one.page.fill(f"#point-{number}", what)
    one.page.fill(f"#point-{number}-below", below)


def held_back(one) -> list[str]:
    """What holds Next back, and where the focus is then."""
    one.page.click(".foot .next")
    return [one.page.inner_text("#points-says"), one.page.evaluate("() => document.activeElement.id")]


def goes_on(one) -> None:
    one.page.click(".foot .next")
    one.page.wait_for_selector("main:not([data-field=service_points])")


def test_a_place_that_would_lie_on_the_leg_in_another_unit_is_asked_about(phone):
    """250 is meant in millimetres while the unit is cm: 2.5 m below the apex nothing would be held against the shell."""

    def walk(one):
        to_points(one)
        add(one, "charging port", "250")
        asked = one.page.inner_text("#point-0-understood")
        drawn, held = one.page.locator(".point-mark").count(), held_back(one)
        one.page.fill("#point-0-below", "250 mm")
        goes_on(one)
        return asked, drawn, held

    asked, drawn, held = phone(walk)

    assert "Is it 250 mm" in asked
    assert (drawn, held) == (0, [asked, "point-0-below"])


def test_what_must_stay_open_says_where_it_is(phone):
    """What is only reached with the shell off lies under it anyhow."""

    def walk(one):
        to_points(one)
        add(one, "charging port", "")
        held = held_back(one)
        one.page.locator(".point input[type=checkbox]").uncheck()
        goes_on(one)
        return held

    says, focused = phone(walk)

    assert says.startswith("Say how far below the apex it is")
    assert focused == "point-0-below"


def test_none_is_drawn_off_the_leg(phone):
    def walk(one):
        to_points(one)
        add(one, "valve", "900 mm")
        far = one.page.locator(".point-mark").count()
        one.page.fill("#point-0-below", "90 mm")
        return far, one.page.locator(".point-mark").count()

    assert phone(walk) == (0, 1)


def test_the_focus_stays_among_them_when_one_is_removed(phone):
    def walk(one):
        to_points(one)
        for what in ("port", "light", "valve"):
            add(one, what, "90 mm")
        at = []
        for what in ("light", "valve", "port"):
            one.page.click(f"button:has-text('Remove {what}')")
            at.append(
                one.page.evaluate("() => document.activeElement.value || document.activeElement.textContent")
            )
        return at

    assert phone(walk) == ["valve", "Add something", "Add something"]
