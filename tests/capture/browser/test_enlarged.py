"""A field's drawing opened large: its figures say what the drawing says."""

import pytest

from tests.capture.browser.test_both_legs import to


@pytest.mark.parametrize(
    ("projection", "lettered", "row"),
    [("40 mm", "clear", "clear in front of the stop"), ("60 mm", "overlap", "overlap at the stop")],
)
def test_a_stop_in_the_shell_is_told_as_it_is_drawn(phone, projection, lettered, row):
    """Reckoned downwards in the drawing: so many whole mm are clear, or overlap, and never fewer than none."""

    def walk(one):
        one.to_check()
        to(one, "seen.knee")
        one.choose("A stop in front")
        for key, text in (("knee.stop_projection", projection), ("knee.stop_below_apex", "5 mm")):
            to(one, key)
            one.type(text)
        one.page.click(".enlarge")
        one.page.click(".enlarged label:has-text('To scale')")
        drawn = one.page.text_content(".stage [data-of=clear_stop] text")
        return drawn, one.page.locator(".figure-row").all_inner_texts()

    drawn, rows = phone(walk)

    number, word = drawn.split()
    assert word == lettered
    assert [text for text in rows if "stop" in text] == [f"{row}\n{number} mm"]
