"""A result says the same in English as it did, and everything in any other language, from what it has kept."""

import json
from pathlib import Path

import pytest
from django.utils import translation

from orders.reckon import reckon
from orders.rulebook.told import derivation_in_words, flags_in_words, kept
from project import texts
from tests.orders.entries import catalogue

FOLDER = Path(__file__).resolve().parents[3] / "fixtures_demo" / "entries"
ENTRIES = sorted(file.stem for file in FOLDER.glob("*.json"))
TARN = catalogue()


def result_of(name: str) -> dict:
    """As the database gives it back."""
    content = json.loads((FOLDER / f"{name}.json").read_text())
    return json.loads(json.dumps(reckon(content.get("entry", content), TARN, told=True)))


def english_of(result: dict) -> list[str]:
    return [flag["says"] for flag in result["flags"]] + list(result["derivations"].values())


def in_language(result: dict) -> list[str]:
    return flags_in_words(result) + [derivation_in_words(result, key) for key in result["derivations"]]


@pytest.mark.parametrize("name", ENTRIES)
def test_in_english_all_is_said_as_the_result_says_it(name):
    result = result_of(name)

    assert flags_in_words(result) == [flag["says"] for flag in result["flags"]]
    assert {key: derivation_in_words(result, key) for key in result["derivations"]} == result["derivations"]


@pytest.mark.parametrize("language", ["es", "de", "fr"])
def test_every_sentence_is_said_in_the_readers_language(language):
    english = {message.id for message in texts.read_texts(language) if isinstance(message.id, str)}
    results = [result_of(name) for name in ENTRIES]

    with translation.override(language):
        said = [pair for one in results for pair in zip(english_of(one), in_language(one), strict=True)]

    assert [pair for pair in said if pair[0] == pair[1]] == []
    assert [words for _says, words in said if words in english] == []


def test_what_is_reckoned_stays_english_whoever_reads():
    here = result_of("plain")
    with translation.override("de"):
        assert result_of("plain") == here


def test_numbers_have_the_languages_own_mark_and_lists_its_own_and():
    result = result_of("plain")

    with translation.override("de"):
        says = derivation_in_words(result, "finished_length_mm")
        girth = derivation_in_words(result, "girth_mm")

    assert "19,1 offen" in says
    assert " and " not in girth


def test_a_result_that_kept_no_more_says_what_it_said():
    result = reckon(json.loads((FOLDER / "plain.json").read_text()), TARN)

    with translation.override("de"):
        assert flags_in_words(result) == [flag["says"] for flag in result["flags"]]
        assert derivation_in_words(result, "gap_mm") == result["derivations"]["gap_mm"]


def test_only_what_the_sentence_fills_in_is_kept():
    assert kept("By the tape {length_taken_mm}.", {"length_taken_mm": 401.0, "gap_mm": 19.0}) == {
        "says": "By the tape {length_taken_mm}.",
        "with": {"length_taken_mm": 401.0},
    }
