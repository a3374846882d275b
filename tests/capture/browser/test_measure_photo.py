"""Measuring in a photo on the phone: six places are put with finger or keys, and held against the tape."""

import io
import json

import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image

from capture.seal import read_seal
from orders.photo_lengths import length_in
from tests.orders.reckoning.scenes import Scene, turned

from .test_photos import received, take, to_photos

SCENE = Scene(rotation=turned(5, -10), corner=(-250, -330, 1200))
SHEET, MARKS = (260, 180, 210, 297), [(215, 90), (215, 484)]  # 394 mm, as typed in the plain case
CORNERS = [SCENE.seen(x, y) for x, y in ((260, 180), (470, 180), (470, 477), (260, 477))]
ENDS = [SCENE.seen(*mark) for mark in MARKS]
ON_SCREEN = """([x, y]) => {
  const matrix = document.querySelector(".measure-stage").getScreenCTM();
  return [matrix.a * x + matrix.e, matrix.d * y + matrix.f];
}"""
IN_HAND = """() => {
  const { x, y, width, height } = document.querySelector(".measure-stage .in-hand").getBoundingClientRect();
  return [x + width / 2, y + height / 2];
}"""
KEPT = """async () => {
  const { readAll } = await import("/static/testbuild/js/offline/store.js");
  return (await readAll("draft/"))[0].answers.photos[0];
}"""


@pytest.fixture(scope="module")
def scene() -> bytes:
    out = io.BytesIO()
    Image.fromarray(SCENE.photo(SHEET, MARKS)).save(out, "JPEG", quality=92)
    return out.getvalue()


def open_measure(one, content: bytes, view: str = "side") -> None:
    to_photos(one)
    take(one, view, content)
    one.page.get_by_role("button", name="Check the tape in it").click()
    one.page.wait_for_selector(".measuring[open]")


def put(one, number: int, place) -> None:
    """Drags a place, from where it is shown."""
    one.page.locator(".picker").nth(number).click()
    mouse = one.page.mouse
    mouse.move(*one.page.evaluate(IN_HAND))
    mouse.down()
    mouse.move(*one.page.evaluate(ON_SCREEN, place), steps=3)
    mouse.up()


def put_all(one, ends=ENDS) -> None:
    for number, place in enumerate([*CORNERS, *ends]):
        put(one, number, place)


def status(one) -> str:
    return one.page.inner_text(".measuring [role=status]")


def keep(one) -> None:
    one.page.get_by_role("button", name="Keep", exact=True).click()
    one.page.wait_for_selector(".measuring", state="detached")


def test_a_length_is_dragged_kept_and_sent_as_places(phone, scene):
    def walk(one):
        one.to_check()
        open_measure(one, scene)
        put_all(one)
        said = status(one)
        keep(one)
        shown = one.page.inner_text(".has-photo .photo-words")
        one.page.goto(one.page.url.rsplit("/", 1)[0] + "/check")
        one.page.wait_for_selector(".docked .button.next")
        one.send()
        received(one)
        return said, shown, one.page.inner_text("main"), one.server.seals[-1][1]

    said, shown, check, raw = phone(walk)

    (photo,) = read_seal(raw).photos
    found = length_in(photo["measured"])
    # put to a pixel of the screen, 5 of the photo or 3 mm, at each end
    assert found.mm == pytest.approx(394, abs=6)
    assert f"{found.mm:.0f} ± " in said
    assert "394 mm by the tape: they agree" in said
    assert f"Length as taken in the photo: {found.mm:.0f} ± " in shown
    assert "don't agree" not in check
    assert set(json.loads(raw)["photos"][0]["measured"]) == {"what", "sheet", "size", "corners", "ends"}


def test_what_the_tape_does_not_say_is_told_there_and_asked_about_by_the_checks(phone, scene):
    def walk(one):
        one.to_check()
        open_measure(one, scene)
        put_all(one, [SCENE.seen(215, 90), SCENE.seen(215, 590)])
        said = status(one)
        keep(one)
        one.page.goto(one.page.url.rsplit("/", 1)[0] + "/check")
        one.page.wait_for_selector(".docked .button.next, .docked .not-yet")
        return said, one.page.inner_text("main").replace("\N{NO-BREAK SPACE}", " ")

    said, check = phone(walk)

    assert "Measure again with the tape." in said
    assert "The length is 394 mm by the tape, and " in check
    assert "Measure it" in check


def test_places_put_so_far_are_there_after_a_reload(phone, scene):
    def walk(one):
        one.to_check()
        open_measure(one, scene)
        put(one, 1, CORNERS[1])
        is_kept = f"async () => Boolean((await ({KEPT})()).placing?.put.includes(1))"
        for _try in range(200):  # `wait_for_function` takes a promise for true
            if one.page.evaluate(is_kept):
                break
            one.page.wait_for_timeout(50)
        one.page.reload()
        one.page.get_by_role("button", name="Check the tape in it").click()
        one.page.wait_for_selector(".measuring[open]")
        return one.page.locator(".picker").nth(1).get_attribute("aria-label"), status(one)

    label, said = phone(walk)

    x, y = (
        int(part) for part in label.removeprefix("corner 2: ").removesuffix(" px down").split(" px across, ")
    )
    assert [x, y] == pytest.approx(CORNERS[1], abs=8)
    assert "5 of 6 to go" in said


def test_keys_alone_move_a_place_in_small_and_large_steps(phone, scene):
    """A small step is a 2,000th of the photo's longer side: 1 px of 2,000; with shift it is ten of them."""

    def walk(one):
        one.begin()
        open_measure(one, scene)
        before = one.page.evaluate("() => document.activeElement.className")
        one.page.keyboard.press("ArrowRight")
        first = one.page.evaluate(KEPT)["placing"]["corners"][0]
        one.page.keyboard.press("Shift+ArrowDown")
        one.page.keyboard.press("ArrowLeft")
        one.page.wait_for_function(
            "() => document.activeElement.getAttribute('aria-label').includes(' px across')"
        )
        label = one.page.evaluate("() => document.activeElement.getAttribute('aria-label')")
        for _ in range(4):
            one.page.keyboard.press("Tab")
        return before, first, label, one.page.evaluate("() => document.activeElement.textContent")

    before, first, label, last = phone(walk)

    assert "picker" in before
    # a corner begins at 58 in 100 of the width and 36 in 100 of the height
    assert first == [871, 720]
    assert label == "corner 1: 870 px across, 730 px down"
    assert last == "apex"


def test_the_large_picture_moves_under_the_cross(phone, scene):
    """1.25 of its pixels are one of the photo's: 2,500 for the longer side of 2,000."""

    def walk(one):
        one.begin()
        open_measure(one, scene)
        box = one.page.locator(".measure-large").bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        mouse = one.page.mouse
        mouse.move(x, y)
        mouse.down()
        mouse.move(x + 50, y, steps=4)
        mouse.up()
        dragged = one.page.evaluate(KEPT)["placing"]["corners"][0]
        mouse.click(x, y + 25)
        return dragged, one.page.evaluate(KEPT)["placing"]["corners"][0]

    dragged, tapped = phone(walk)

    assert dragged == pytest.approx([870 - 40, 720], abs=1.5)
    assert tapped == pytest.approx([dragged[0], 740], abs=1.5)


def test_it_is_not_kept_before_every_place_is_put(phone, scene):
    def walk(one):
        one.begin()
        open_measure(one, scene)
        put(one, 0, CORNERS[0])
        one.page.get_by_role("button", name="Keep", exact=True).click()
        return one.page.evaluate("() => document.activeElement.textContent"), one.page.evaluate(KEPT)

    focused, photo = phone(walk)

    assert focused == "2"
    assert "measured" not in photo


def test_places_that_give_no_length_are_not_kept_as_measured(phone, scene):
    """Two corners are crossed. It would stand at the photo, and go to the workshop, as measured without a length."""

    def walk(one):
        one.begin()
        open_measure(one, scene)
        put_all(one)
        put(one, 0, CORNERS[1])
        put(one, 1, CORNERS[0])
        one.page.get_by_role("button", name="Keep", exact=True).click()
        said, photo = one.page.inner_text(".measuring .says"), one.page.evaluate(KEPT)
        put(one, 0, CORNERS[0])
        put(one, 1, CORNERS[1])
        keep(one)
        return said, photo, one.page.evaluate(KEPT)

    said, crossed, then = phone(walk)

    assert said.startswith("Put the corners round the sheet, one after the other.")
    assert "measured" not in crossed
    assert then["measured"]["what"] == "length"


def test_what_was_measured_can_be_left_out_again(phone, scene):
    def walk(one):
        one.begin()
        open_measure(one, scene)
        put_all(one)
        keep(one)
        with_it = one.page.evaluate(KEPT).get("measured")
        one.page.get_by_role("button", name="Check the tape in it").click()
        one.page.get_by_role("button", name="Leave it out").click()
        one.page.wait_for_selector(".measuring", state="detached")
        return (
            with_it,
            one.page.evaluate(KEPT).get("measured"),
            one.page.inner_text(".has-photo .photo-words"),
        )

    with_it, without, words = phone(walk)

    assert with_it["what"] == "length"
    assert without is None
    assert "in the photo" not in words.replace("Check the tape in it", "")


@pytest.mark.parametrize(
    ("view", "ends"), [("knee", ["apex", "grip"]), ("foot", ["top", "rim"]), ("side", ["apex", "rim"])]
)
def test_each_view_begins_with_what_it_shows(phone, scene, view, ends):
    def walk(one):
        one.begin()
        open_measure(one, scene, view)
        return one.page.locator(".picker").all_inner_texts()

    assert phone(walk)[4:] == ends


@pytest.mark.parametrize("width", [320, 412])
def test_it_is_accessible_and_large_enough_to_touch(phone, scene, width):
    def walk(one):
        one.begin()
        open_measure(one, scene)
        put(one, 0, CORNERS[0])
        small = one.page.evaluate("""() => [...document.querySelectorAll(".measuring button, .measuring select")]
            .filter((one) => Math.min(one.offsetWidth, one.offsetHeight) < 44).map((one) => one.textContent)""")
        wide = one.page.evaluate("() => document.querySelector('.measuring').scrollWidth <= innerWidth")
        return small, wide, Axe().run(one.page).response["violations"]

    assert phone(walk, width=width) == ([], True, [])
