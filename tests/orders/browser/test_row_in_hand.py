import pytest

PAGE = """(module, act) => {
  document.body.innerHTML = ["left", "right"].map((side) => `
    <section class="shell" id="${side}">
      <div class="drawing"><svg><g data-of="gap"></g><g data-of="girth"></g></svg></div>
      <ul>
        <li class="figure-row" data-dimension="gap"><span class="figure-name">Gap</span></li>
        <li class="figure-row" data-dimension="length"><span class="figure-name">Length</span></li>
        <li class="figure-row"><span class="figure-name">Mass</span></li>
      </ul>
    </section>`).join("");
  module.attend(document);
  const row = document.querySelector("#right .figure-row");
  const button = row.querySelector("button");
  const point = (kind) => row.dispatchEvent(new PointerEvent(kind));
  for (const step of act) step === "click" ? button.click() : point(step);
  return {
    buttons: document.querySelectorAll("button").length,
    named: button.textContent,
    pressed: button.getAttribute("aria-pressed"),
    inHand: row.classList.contains("in-hand"),
    strong: [...document.querySelectorAll(".fg-strong")].map(
      (part) => part.closest(".shell").id + " " + part.dataset.of),
  };
}"""


@pytest.fixture(scope="module")
def after(js):
    """What the page is like after these things were done to the right shell's first row."""
    module = js("desk/row_in_hand.js")
    return lambda *act: module.evaluate(PAGE, list(act))


def test_only_a_figure_with_a_dimension_on_the_drawing_becomes_a_button(after):
    page = after()

    assert (page["buttons"], page["named"], page["pressed"]) == (2, "Gap", "false")
    assert page["strong"] == []


def test_row_under_the_pointer_thickens_its_own_shells_dimension(after):
    page = after("pointerenter")

    assert page["inHand"]
    assert page["strong"] == ["right gap"]


def test_row_lets_go_when_the_pointer_leaves(after):
    page = after("pointerenter", "pointerleave")

    assert not page["inHand"]
    assert page["strong"] == []


def test_chosen_row_stays_in_hand_until_it_is_chosen_again(after):
    chosen = after("pointerenter", "click", "pointerleave")
    assert (chosen["pressed"], chosen["inHand"], chosen["strong"]) == ("true", True, ["right gap"])

    again = after("click", "click")
    assert (again["pressed"], again["inHand"], again["strong"]) == ("false", False, [])
