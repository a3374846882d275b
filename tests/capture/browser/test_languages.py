"""The sheet in every language: the plain case walked, nothing of it left in English, refusals and units in it too."""

import pytest
from django.utils import translation
from django.utils.translation import gettext

from orders.reckoning.typed import understand
from tests.capture.browser.test_both_legs import to
from tests.leftovers import left_in_english

OTHERS = ("es", "de", "fr")


def plain_case(phone, language):
    """The plain case by its own words, as far as the check; what was English on the way, and what a refusal said."""
    english = []

    def look():
        english.extend(left_in_english(phone.page, language))

    phone.open()
    look()
    phone.begin()
    for key, value in (
        ("side", "left"),
        ("knee.pivots_seen", "one"),
        ("foot.profile", "low"),
        ("foot.ankle", "solid"),
    ):
        phone.at(key)
        look()
        phone.page.click(f"label.choice:has(input[value='{value}'])")
        phone.next()
    phone.at("marks")
    look()
    phone.next()
    phone.at("length")
    phone.type("4oo")
    phone.next()
    said = phone.page.locator("p.says").first.inner_text()
    look()
    phone.type("39,4")
    phone.next()
    phone.at("girth")
    phone.type("38,5")
    look()
    phone.next()
    phone.at("workshop")
    look()
    phone.choose("Tarn Street")
    phone.next()
    phone.at("shell.rear")
    look()
    phone.choose("Short")
    phone.next()
    phone.at("photos")
    look()
    phone.next()
    phone.at("check")
    look()
    return english, said, phone.page.inner_text("main")


@pytest.mark.parametrize("language", OTHERS)
def test_the_plain_case_is_whole_in_every_language(phone, language):
    english, said, check = phone(lambda one: plain_case(one, language), language=language)

    assert english == []
    with translation.override(language):
        assert said == understand("4oo", "cm", "length").says
        # 394 mm less the 12.7 mm that a solid ankle leaves open: with a decimal comma in all three.
        assert "12,7" in check
        assert gettext("Read back") in check


@pytest.mark.parametrize("language", OTHERS)
def test_how_far_readings_lie_apart_has_the_languages_own_mark(phone, language):
    """394 and 399.5 mm, the mean of them 396.75; 424.5 mm by the other way."""

    def walk(one):
        one.begin()
        to(one, "length")
        one.type("39,4")
        one.page.click(".again")
        one.type("39,95")
        compared = one.page.inner_text(".compare")
        for key, text in (("second_route.apex_to_floor", "53"), ("second_route.rim_to_floor", "10,55")):
            to(one, key)
            one.type(text)
        return compared, one.page.inner_text(".follow")

    compared, follows = phone(walk, language=language)

    assert "5,5 mm" in compared
    assert [number for number in ("105,5", "424,5", "27,8", "396,8") if number not in follows] == []


def test_a_new_visit_begins_in_the_members_own_units(phone):
    def walk(one):
        one.to_length()
        return one.page.locator("input[name=units]:checked").get_attribute("value")

    assert phone(walk, units="in") == "in"
