"""One visit in two tabs of one phone: only one has it in hand, and what was typed in the other is never undone."""

from tests.capture.browser.conftest import Phone


def second_tab(one: Phone) -> Phone:
    return Phone(one.page.context.new_page(), one.server)


def at_length_in_two_tabs(one: Phone) -> Phone:
    """The visit at its length, with 39.4 typed in the first tab, then opened from the second tab's list."""
    one.to_length()
    one.type("39.4")
    other = second_tab(one)
    other.open()
    other.page.click("a.row:has-text('NF-0147')")
    other.page.wait_for_selector("main[data-view='elsewhere']")
    return other


def test_the_second_tab_says_where_the_visit_is_and_shows_nothing_of_it(phone):
    def walk(one):
        other = at_length_in_two_tabs(one)
        said = other.page.inner_text("main")
        other.page.click("a:has-text('All visits')")
        other.page.wait_for_selector("main[data-view='visits']")
        one.type("39.5")
        one.page.reload()
        one.at("length")
        return said, one.page.input_value("input.typed")

    said, typed = phone(walk)

    assert said.startswith("Open in another tab")
    assert typed == "39.5", "the first tab goes on as before, and a reload keeps it in hand"


def test_taking_over_shows_what_was_typed_and_the_first_tab_lets_go(phone):
    def walk(one):
        other = at_length_in_two_tabs(one)
        other.page.click("button:has-text('Take it over here')")
        other.at("length")
        typed = other.page.input_value("input.typed")
        other.type("39.6")
        one.page.wait_for_selector("main[data-view='visits'] .notice")
        notice = one.page.inner_text(".notice")
        other.page.reload()
        other.at("length")
        return typed, notice, other.page.input_value("input.typed")

    typed, notice, after = phone(walk)

    assert typed == "39.4"
    assert notice.startswith("The visit was taken over in another tab.")
    assert after == "39.6"


def test_a_visit_that_was_put_down_opens_by_itself_in_the_tab_that_waits(phone):
    def walk(one):
        other = at_length_in_two_tabs(one)
        one.page.close()
        other.at("length")
        return other.page.input_value("input.typed")

    assert phone(walk) == "39.4"


def test_a_photo_that_is_ready_late_joins_what_the_other_tab_typed(phone):
    """The photo was still being shrunk when its tab lost the visit: both stay, the photo once it may be added."""

    def walk(one):
        other = at_length_in_two_tabs(one)
        other.page.click("button:has-text('Take it over here')")
        other.at("length")
        one.page.wait_for_selector("main[data-view='visits'] .notice")
        one.page.evaluate(
            """async ([drafts, id]) => {
              const { alter } = await import(drafts);
              window.altering = alter(id, "m-1", (draft) => {
                draft.answers.photos = [{ sha256: "0".repeat(64), bytes: 1, view: "side", entry: 0 }];
                return true;
              });
            }""",
            ["/static/testbuild/js/sheet/drafts.js", other.page.url.split("/")[-2]],
        )
        other.type("39.7")
        other.page.goto(other.page.url.split("#")[0] + "#visits")
        one.page.evaluate("window.altering")
        other.page.click("a.row:has-text('NF-0147')")
        other.at("length")
        typed = other.page.input_value("input.typed")
        other.page.goto(other.page.url.rsplit("/", 1)[0] + "/photos")
        other.at("photos")
        return typed, other.page.locator(".photo-place.has-photo").count()

    assert phone(walk) == ("39.7", 1)


def test_two_taps_begin_one_visit(phone):
    def walk(one):
        one.open()
        one.page.dblclick("button.planned:has-text('NF-0152')")
        one.at("side")
        one.page.goto(one.page.url.split("#")[0] + "#new")
        one.page.fill("#reference", "NF-0160")
        one.page.fill("#initials", "T. W.")
        one.page.dblclick(".new-visit .next")
        one.at("side")
        one.page.goto(one.page.url.split("#")[0] + "#visits")
        one.page.wait_for_selector("a.row:has-text('NF-0160')")
        rows = one.page.locator("a.row .row-words strong").all_inner_texts()
        return sorted(rows), [visit["reference"] for visit in one.server.visits]

    assert phone(walk) == (["NF-0152", "NF-0160"], ["NF-0160"])
