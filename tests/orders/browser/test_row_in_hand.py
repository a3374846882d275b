import pytest

PAGE = """(module, act) => {
  document.body.innerHTML = ["left", "right"].map((side) => `
    <section class="shell" id="${side}">
      <div class="drawing"><svg><g data-of="gap"></g><g data-of="girth"></g></svg></div>
      <ul>
        <li class="figure-row askable" data-dimension="gap"><span class="row-name">Gap</span></li>
        <li class="figure-row askable" data-dimension="length"><span class="row-name">Length</span></li>
        <li class="figure-row askable"><span class="row-name">Mass</span></li>
        <li class="askable"><span class="row-name">Wall</span><a class="ask-button" href="/ask">Ask</a>
          <div class="ask-place"><form><a class="ask-not" href="/order">Don't ask</a></form></div></li>
      </ul>
    </section>`).join("");
  module.attend(document);
  const row = document.querySelector("#right .figure-row");
  const button = row.querySelector("button");
  const wall = document.querySelector("#right .askable:last-child");
  const does = {
    click: () => button.click(),
    "choose wall": () => wall.querySelector("button").click(),
    "don't ask": () => wall.querySelector(".ask-not").click(),
    "rows come in": () => {
      const list = document.querySelector("#right ul");
      list.insertAdjacentHTML("beforeend",
        '<li class="figure-row askable" data-dimension="girth"><span class="row-name">Girth</span></li>');
      const come = () => new CustomEvent("htmx:load", { bubbles: true, detail: { elt: list } });
      for (const event of [come(), come()]) list.dispatchEvent(event);
      list.lastElementChild.querySelector("button").click();
    },
  };
  for (const step of act) step in does ? does[step]() : row.dispatchEvent(new PointerEvent(step));
  return {
    chosen: [...document.querySelectorAll(".chosen .row-name")].map((name) => name.textContent),
    forms: document.querySelectorAll("#right form").length,
    address: location.pathname,
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


def test_only_a_row_that_is_drawn_or_may_be_asked_about_becomes_a_button(after):
    page = after()

    assert (page["buttons"], page["named"], page["pressed"]) == (4, "Gap", "false")
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


def test_one_row_is_chosen_at_a_time(after):
    page = after("click", "choose wall")

    assert page["chosen"] == ["Wall"]
    assert (page["pressed"], page["strong"]) == ("false", [])


def test_row_under_the_pointer_is_not_chosen_by_that(after):
    assert after("pointerenter")["chosen"] == []


def test_form_in_a_row_goes_without_leaving_the_page(after):
    before = after("choose wall")
    page = after("choose wall", "don't ask")

    assert (before["forms"], page["forms"]) == (1, 0)
    assert page["address"] == before["address"]
    assert page["chosen"] == ["Wall"]


def test_rows_that_come_in_later_are_attended_to_once(after):
    page = after("rows come in")

    assert page["buttons"] == 5
    assert page["chosen"] == ["Girth"]
    assert page["strong"] == ["right girth"]
