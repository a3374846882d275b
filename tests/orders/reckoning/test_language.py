import pytest

from orders.reckoning import language
from orders.reckoning.language import in_english, look_up_with, said, with_mark


@pytest.fixture
def german(monkeypatch):
    """A reader of German, for the length of a test."""
    for name in ("_look_up", "_mark"):
        monkeypatch.setattr(language, name, getattr(language, name))  # put back as it was
    look_up_with({"Gap of {mm} mm.": "Spalt von {mm} mm."}.__getitem__, mark=lambda: ",")


def test_a_sentence_and_a_number_are_the_readers_own(german):
    assert said("Gap of {mm} mm.", mm=19) == "Spalt von 19 mm."
    assert with_mark("19.05") == "19,05"


def test_what_is_kept_is_english_whoever_reads(german):
    with in_english():
        assert said("Gap of {mm} mm.", mm=19) == "Gap of 19 mm."
        assert with_mark("19.05") == "19.05"

    assert said("Gap of {mm} mm.", mm=19) == "Spalt von 19 mm."


def test_without_a_look_up_it_is_english(monkeypatch):
    monkeypatch.setattr(language, "_look_up", language._as_it_is)
    monkeypatch.setattr(language, "_mark", language._point)

    assert said("Gap of {mm} mm.", mm=19) == "Gap of 19 mm."
    assert with_mark("19.05") == "19.05"


def test_what_is_filled_in_is_not_filled_in_again():
    assert language.fill("{a} and {b}", {"a": "{b}", "b": 2}) == "{b} and 2"
