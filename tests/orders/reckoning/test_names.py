"""Held against the character database that Python brings: classes Cc, Zl, Zp, and the explicit directions of Annex 9."""

import unicodedata

import pytest

from orders.reckoning.names import has_unseen

TURNS = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}


def unseen(letter: str) -> bool:
    return unicodedata.category(letter) in {"Cc", "Zl", "Zp"} or unicodedata.bidirectional(letter) in TURNS


def test_a_name_holds_no_control_and_nothing_that_turns_the_reading_round():
    letters = [chr(code) for code in range(0x3000)]

    assert [letter for letter in letters if has_unseen(letter)] == [
        letter for letter in letters if unseen(letter)
    ]


@pytest.mark.parametrize("name", ["NF-0147", "Łódź 7½", "علي", "नि\u200dल", "𠮷野", "a b"])
def test_what_people_write_is_taken(name):
    assert not has_unseen(name)


@pytest.mark.parametrize("name", ["\ud800", "\udfffa", "a\ud83d"])
def test_half_a_character_is_none(name):
    assert has_unseen(name)


def test_the_phone_says_the_same(js):
    asked = [chr(code) for code in range(0x3000)] + ["𠮷", "\ud800", "a\udfff", "NF-0147"]

    # Handed over as numbers: half a character is no text that can be sent.
    codes = [[ord(letter) for letter in text] for text in asked]
    told = js("reading/names.js").evaluate(
        "((module, codes) => codes.map((code) => module.hasUnseen(String.fromCodePoint(...code))))", codes
    )

    assert told == [has_unseen(text) for text in asked]
