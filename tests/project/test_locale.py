"""The texts in other languages: whole, with their places for values kept, and compiled from what is read here."""

import re
from pathlib import Path

import polib
import pytest
from django.conf import settings

from orders.handout import LANGUAGES

(PLACE,) = settings.LOCALE_PATHS
OTHERS = [language for language in LANGUAGES if language != "en"]
PLACES = re.compile(r"%\(\w+\)s|\{\w+\}")


def texts(language: str) -> polib.POFile:
    return polib.pofile(str(folder(language) / "django.po"))


def folder(language: str) -> Path:
    return PLACE / language / "LC_MESSAGES"


def test_every_language_has_its_texts():
    assert sorted(file.name for file in PLACE.iterdir()) == sorted(OTHERS)


@pytest.mark.parametrize("language", OTHERS)
def test_no_text_is_missing_or_in_doubt(language):
    found = texts(language)

    assert found.untranslated_entries() + found.fuzzy_entries() + found.obsolete_entries() == []
    assert [entry.msgid for entry in found] == [entry.msgid for entry in texts(OTHERS[0])]


@pytest.mark.parametrize("language", OTHERS)
def test_places_for_values_are_kept(language):
    for entry in texts(language):
        assert sorted(PLACES.findall(entry.msgstr)) == sorted(PLACES.findall(entry.msgid)), entry.msgid


@pytest.mark.parametrize("language", OTHERS)
def test_what_is_used_is_compiled_from_what_is_read(language):
    compiled = polib.mofile(str(folder(language) / "django.mo"))

    told = {entry.msgid: entry.msgstr for entry in compiled}
    assert told == {entry.msgid: entry.msgstr for entry in texts(language)}
