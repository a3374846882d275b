import pytest

FRAME = {"width": 400, "height": 300}
ENLARGED = "(module, [place, times, at, frame]) => module.enlarged(place, times, at, frame)"
PLACED = "(module, [place, frame]) => module.placed(place, frame)"
PAGE = """(module, act) => {
  document.body.innerHTML = `<button data-zoom="in" hidden>+</button><button data-zoom="whole" hidden>Whole</button>
    <output data-zoom="says" hidden></output><div class="photo-view" tabindex="0"><img alt=""></div>`;
  const view = document.querySelector(".photo-view");
  Object.assign(view.style, { width: "400px", height: "300px", position: "fixed", left: "0", top: "0" });
  view.setPointerCapture = () => {};
  module.attend(document);
  const point = (kind, pointerId, clientX, clientY) =>
    view.dispatchEvent(new PointerEvent(kind, { pointerId, clientX, clientY }));
  const does = {
    key: (key) => view.dispatchEvent(new KeyboardEvent("keydown", { key, cancelable: true })),
    wheel: (deltaY, clientX, clientY) =>
      view.dispatchEvent(new WheelEvent("wheel", { deltaY, clientX, clientY, cancelable: true })),
    click: (name) => document.querySelector(`[data-zoom="${name}"]`).click(),
    down: (...where) => point("pointerdown", ...where),
    move: (...where) => point("pointermove", ...where),
    up: (...where) => point("pointerup", ...where),
  };
  for (const [what, ...how] of act) does[what](...how);
  const look = new DOMMatrix(getComputedStyle(view.querySelector("img")).transform);
  return {
    scale: look.a, x: look.e, y: look.f, says: document.querySelector("output").textContent,
    hidden: document.querySelectorAll("[hidden]").length, larger: view.classList.contains("larger"),
  };
}"""


@pytest.fixture(scope="module")
def module(js):
    return js("desk/photo_zoom.js")


@pytest.fixture
def after(module):
    """How the photo lies after these things were done."""
    return lambda *act: module.evaluate(PAGE, [list(one) for one in act])


def test_what_lies_under_the_pointer_stays_there(module):
    place = module.evaluate(ENLARGED, [{"scale": 1, "x": 0, "y": 0}, 2, {"x": 100, "y": 75}, FRAME])

    assert place == {"scale": 2, "x": -100, "y": -75}  # 100 - 100 * 2


def test_no_edge_of_the_frame_is_ever_bare(module):
    assert module.evaluate(PLACED, [{"scale": 2, "x": 50, "y": -999}, FRAME]) == {
        "scale": 2,
        "x": 0,
        "y": -300,
    }
    assert module.evaluate(PLACED, [{"scale": 0.2, "x": -50, "y": -50}, FRAME]) == {
        "scale": 1,
        "x": 0,
        "y": 0,
    }
    assert module.evaluate(PLACED, [{"scale": 99, "x": 0, "y": 0}, FRAME])["scale"] == 6


def test_buttons_appear_and_enlarge_about_the_middle(after):
    assert after()["hidden"] == 0

    page = after(("click", "in"))
    assert (page["scale"], page["x"], page["y"], page["says"]) == (1.5, -100, -75, "150 %")
    assert page["larger"]


def test_keys_enlarge_move_and_go_back(after):
    assert after(("key", "+"), ("key", "-"))["scale"] == pytest.approx(1)
    assert after(("key", "+"), ("key", "ArrowLeft"))["x"] == -40  # -100 + 60
    assert after(("key", "+"), ("key", "ArrowRight"))["x"] == -160
    assert after(("key", "+"), ("key", "0"))["scale"] == 1


def test_wheel_enlarges_about_the_pointer(after):
    page = after(("wheel", -300, 400, 300))

    assert page["scale"] == pytest.approx(2.71828, abs=1e-4)  # e
    assert page["x"] == pytest.approx(400 - 400 * 2.71828, abs=0.01)


def test_two_fingers_that_part_enlarge_and_one_moves(after):
    pinch = [("down", 1, 150, 150), ("down", 2, 250, 150), ("move", 2, 350, 150)]

    assert after(*pinch)["scale"] == 2
    assert after(*pinch, ("up", 2, 350, 150), ("move", 1, 160, 155))["x"] == after(*pinch)["x"] + 10


def test_finger_that_was_lifted_moves_nothing(after):
    page = after(("click", "in"), ("down", 1, 10, 10), ("up", 1, 10, 10), ("move", 1, 90, 90))

    assert (page["x"], page["y"]) == (-100, -75)
