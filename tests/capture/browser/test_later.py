"""What comes after the first script: a view shows at once what it can, completes itself, and loses nothing typed."""

import pytest

REST = {
    "sheet/reckoning.js", "sheet/pictures.js", "offline/outbox.js", "offline/have_list.js", "sheet/check_and_send.js",
    "sheet/reply_draft.js", "sheet/photos.js", "sheet/points.js", "sheet/rows.js", "sheet/sign_out.js",
}  # fmt: skip


def restore(one) -> None:
    """The link is back: what was cut comes, and the page hears of the signal."""
    one.server.cut.clear()
    one.page.evaluate("dispatchEvent(new Event('online'))")


def test_a_reading_is_understood_and_kept_before_drawings_and_checks_have_come(phone):
    def walk(one):
        one.to_length()
        one.type("39.4")
        before = (one.page.inner_text(".means .mm"), one.page.inner_text(".follow"))
        drawn = one.page.locator(".drawing svg").count()
        restore(one)
        one.page.wait_for_selector(".drawing svg")
        one.until("document.querySelector('.follow').innerText.includes('made')")
        typed, focused = (
            one.page.input_value("input.typed"),
            one.page.evaluate("document.activeElement.className"),
        )
        one.page.reload()
        one.at("length")
        return before, drawn, typed, focused, one.page.input_value("input.typed")

    (means, follows), drawn, typed, focused, kept = phone(walk, cut=set(REST))

    assert (means, follows, drawn) == ("394.0 mm", "", 0)
    assert (typed, kept) == ("39.4", "39.4")
    assert "typed" in focused


def test_pictures_take_their_places_beside_choices(phone):
    def walk(one):
        one.begin()
        one.choose("Left")
        before = one.page.locator(".choice .picture svg").count()
        restore(one)
        one.page.wait_for_selector(".choice .picture svg")
        return (
            before,
            one.page.locator(".choice .picture svg").count(),
            one.page.is_checked("input[value=left]"),
        )

    assert phone(walk, cut=set(REST)) == (0, 2, True)


def test_check_and_send_says_that_it_comes_and_opens_by_itself(phone):
    def walk(one):
        one.to_length()
        one.type("39.4")
        one.page.evaluate("location.hash = location.hash.replace('length', 'check')")
        one.page.wait_for_selector("main[data-view='coming']")
        said = one.page.inner_text("main")
        restore(one)
        one.at("check")
        return said, one.page.inner_text(".read-back")

    said, read_back = phone(walk, cut=set(REST))

    assert "comes by itself" in said
    assert "39.4 cm" in read_back


def test_another_view_asked_for_meanwhile_stays(phone):
    def walk(one):
        one.to_length()
        one.page.evaluate("location.hash = location.hash.replace('length', 'check')")
        one.page.wait_for_selector("main[data-view='coming']")
        one.page.click("text=All visits")
        one.page.wait_for_selector("main[data-view='visits']")
        restore(one)
        one.page.wait_for_selector(".row-leg svg")
        return one.page.get_attribute("main", "data-view")

    assert phone(walk, cut=set(REST)) == "visits"


@pytest.mark.parametrize(
    ("key", "there"), [("photos", ".photo-place"), ("service_points", ".points-figure svg")]
)
def test_a_control_that_comes_later_takes_its_place(phone, key, there):
    def walk(one):
        one.to_length()
        one.page.evaluate(f"location.hash = location.hash.replace('length', '{key}')")
        one.at(key)
        said = one.page.inner_text(".hand")
        restore(one)
        one.page.wait_for_selector(there)
        return said

    assert "comes by itself" in phone(walk, cut=set(REST))


def test_what_waits_is_sent_once_the_sending_has_come(phone):
    def walk(one):
        one.to_check()
        one.send()
        one.page.wait_for_selector("text=on this phone")
        sent_before = len(one.server.seals)
        restore(one)
        one.page.wait_for_selector("text=received")
        return sent_before, len(one.server.seals)

    assert phone(walk, cut={"offline/outbox.js"}) == (0, 1)
