"""The shell to scale beside a field, where there is room: it bears the flags that the fields tell, and no others."""

from tests.capture.browser.test_both_legs import to

FLAGS = "(all) => all.map((flag) => flag.dataset.n)"


def seen(one) -> tuple[list[str], list[str]]:
    """The numbers of the flags at the field, and on the drawing beside it."""
    return (
        one.page.locator(".field-flag .flag-shape text").all_text_contents(),
        one.page.eval_on_selector_all(".beside-sheet .fg-flag", FLAGS),
    )


def test_a_reading_that_is_only_begun_is_flagged_neither_at_the_field_nor_on_the_drawing(phone):
    """62 cm is no length of a shank; 6 may become one. With the hand at rest, 6 cm is meant."""

    def walk(one):
        one.to_length()
        one.type("62 cm")
        whole = seen(one)
        one.type("6")
        begun = seen(one)
        one.page.wait_for_selector(".field-flag.stop")
        one.painted()
        return whole, begun, seen(one)

    whole, begun, rested = phone(walk, width=1280, height=800)

    assert whole[0] != []
    assert begun == ([], [])
    assert rested[0] != []
    assert [set(at_field) <= set(drawn) for at_field, drawn in (whole, rested)] == [True, True]


def test_what_was_not_asked_yet_is_flagged_on_neither(phone):
    """A high foot wants the height of its mechanism, a near view of it, and what a workshop can make of it; the sheet
    asks for the first next, and for the others at its end."""

    def walk(one):
        one.to_length()
        to(one, "foot.profile")
        one.choose("high foot")
        return seen(one)

    assert phone(walk, width=1280, height=800) == ([], [])


def test_opened_large_it_bears_the_same_flags(phone):
    def walk(one):
        one.to_length()
        one.type("62 cm")
        _at_field, beside = seen(one)
        one.page.click(".enlarge")
        one.page.click(".enlarged label:has-text('To scale')")
        return beside, one.page.eval_on_selector_all(".stage .fg-flag", FLAGS)

    beside, large = phone(walk, width=1280, height=800)

    assert beside != []
    assert large == beside
