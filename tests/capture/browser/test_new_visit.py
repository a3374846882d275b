"""A new visit's form stands in the page: what is typed before any script is there is kept, and checked."""

import pytest

from project.bundle import FIRST

STYLED = "document.styleSheets.length === document.querySelectorAll('link[rel=stylesheet]').length"


def opened_without_the_script(one, place: str):
    """Opens the page with its script held back; gives what lets the script come."""
    held = []
    one.page.route(f"**/js/sheet/{FIRST}", lambda route: held.append(route))
    one.page.goto(f"https://phone.invalid/visits/{place}", wait_until="commit")
    one.until(STYLED)
    one.page.wait_for_selector(".waiting", state="attached")

    def come():
        one.page.unroute(f"**/js/sheet/{FIRST}")
        for route in held:
            route.fallback()

    return come


def typed_before_the_script(one, reference: str, initials: str = "L. H."):
    """A new visit's form with something typed in it, the script held back; gives what lets the script come."""
    come = opened_without_the_script(one, "#new")
    one.page.fill("#reference", reference)
    one.page.fill("#initials", initials)
    assert one.page.get_attribute("main", "data-view") is None
    return come


def test_what_is_typed_before_the_script_is_kept_and_goes_on(phone):
    def walk(one):
        come = typed_before_the_script(one, "NF-0188")
        one.page.focus("#reference")
        come()
        one.page.wait_for_selector("main[data-view='new']")
        focused = one.page.evaluate("document.activeElement.id")
        one.until(KEPT, "NF-0188")
        one.page.reload()
        one.page.wait_for_selector("main[data-view='new']")
        one.until("document.querySelector('#reference').value === 'NF-0188'")
        one.next()
        one.at("side")
        return focused, one.page.inner_text(".sheet-head")

    focused, head = phone(walk)

    assert focused == "reference"
    assert "NF-0188" in head


KEPT = """async (reference) => {
  const open = indexedDB.open("shankline");
  const database = await new Promise((resolve) => { open.onsuccess = () => resolve(open.result); });
  const asked = database.transaction("records").objectStore("records").get("new visit");
  const kept = await new Promise((resolve) => { asked.onsuccess = () => resolve(asked.result); });
  database.close();
  return kept?.reference === reference;
}"""


def test_what_cannot_be_taken_is_said_once_the_script_is_there(phone):
    def walk(one):
        typed_before_the_script(one, "N" * 41)()
        one.page.wait_for_selector("#reference[aria-invalid=true]")
        return one.page.inner_text("#reference-says"), one.page.inner_text("#initials-says")

    assert phone(walk) == ("This has 41 characters; 40 is the most.", "")


def test_what_turns_the_reading_round_is_refused_at_its_field(phone):
    def walk(one):
        typed_before_the_script(one, "NF\u202e7410")()
        one.page.wait_for_selector("#reference[aria-invalid=true]")
        return one.page.inner_text("#reference-says")

    assert phone(walk) == "This holds a character that can't be seen. Type it anew."


def test_nothing_typed_gets_into_an_address(phone):
    """Before the script is there, neither the button nor Enter sends the form."""

    def walk(one):
        typed_before_the_script(one, "NF-0188")
        one.page.click(".new-visit .next")
        one.page.press("#initials", "Enter")
        return one.page.url

    assert phone(walk) == "https://phone.invalid/visits/#new"


@pytest.mark.parametrize("place", ["", "#visits"])
def test_the_form_is_not_seen_where_another_view_is_asked_for(phone, place):
    def walk(one):
        come = opened_without_the_script(one, place)
        seen = one.page.is_visible("#new")
        come()
        one.page.wait_for_selector("main[data-view='visits']")
        return seen, one.page.locator("#new").count()

    assert phone(walk) == (False, 0)


def test_the_next_visit_begins_empty(phone):
    def walk(one):
        one.begin("NF-0188")
        one.open("#new")
        one.page.evaluate("location.hash = '#visits'")
        one.page.wait_for_selector("main[data-view='visits']")
        one.page.click(".docked .next")
        one.page.wait_for_selector("main[data-view='new']")
        return one.page.input_value("#reference")

    assert phone(walk) == ""


def test_asked_for_before_anybody_is_known_it_opens_by_the_next_tap(phone):
    """Visits, shown in its place, says that a signal is needed; its link to a new visit must lead somewhere."""

    def walk(one):
        one.page.goto("https://phone.invalid/visits/#new")
        one.page.wait_for_selector("main[data-view='visits']")
        one.server.reachable = True
        one.page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
        one.until("document.querySelector('.visits-head').innerText.includes('Northfell')")
        one.page.click(".docked .next")
        one.page.wait_for_selector("main[data-view='new']")

    phone(walk, reachable=False)


def test_the_way_on_looks_as_on_every_field(phone):
    """Its arrow stands at the button's end, where the thumb finds it on the next view too."""

    def end(one):
        mark, button = (one.page.locator(at).bounding_box() for at in (".next .line-mark", ".next"))
        return round(button["x"] + button["width"] - mark["x"] - mark["width"])

    def walk(one):
        one.open("#new")
        new = end(one)
        one.begin()
        return new, end(one)

    new, field = phone(walk)

    assert new == field
