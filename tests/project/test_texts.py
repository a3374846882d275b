"""The texts in other languages: all that the site says, with their places for values and their marks kept."""

import re

import pytest
from babel.messages.mofile import read_mo

from orders.handout import LANGUAGES
from project import texts

OTHERS = [language for language in LANGUAGES if language != "en"]
# The languages in which every text is translated. The others say in English what they lack.
WHOLE = OTHERS
PLACES = re.compile(r"%\(\w+\)[sd]|\{\w+\}")
MARKS = re.compile(r"</?\w[^>]*>|&\w+;|%%")


def forms_of(message):
    """A text's translation, or its plural forms; Babel reads these as a tuple here and as a list there."""
    return [message.string] if isinstance(message.string, str) else list(message.string)


def translated(language):
    """Each translated text as (all its English forms, one form in the language)."""
    for message in texts.read_texts(language):
        english = (message.id,) if isinstance(message.id, str) else tuple(message.id)
        if message.id:
            yield from ((english, form) for form in forms_of(message) if form)


def test_every_language_has_its_texts():
    assert texts.languages() == sorted(OTHERS)


@pytest.mark.parametrize("language", OTHERS)
def test_files_hold_the_very_texts_of_the_site(language):
    file = texts.po_file(language).read_bytes()
    assert file == texts.po_text(texts.update(language)), "run `manage.py gather_texts`"


@pytest.mark.parametrize("language", OTHERS)
def test_no_text_is_in_doubt(language):
    found = texts.read_texts(language)
    assert [message.id for message in found if message.id and message.fuzzy] == []
    assert not found.obsolete


@pytest.mark.parametrize("language", WHOLE)
def test_no_text_is_missing(language):
    assert texts.untranslated(texts.read_texts(language)) == []


@pytest.mark.parametrize("language", OTHERS)
def test_places_for_values_are_kept(language):
    for english, form in translated(language):
        wanted = set(PLACES.findall(english[-1]))
        kept = set(PLACES.findall(form))
        # Of two forms, the one for a single thing may say “one”.
        optional = {place for place in wanted if len(english) > 1 and "count" in place}
        assert wanted - optional <= kept <= wanted, (english, form)


@pytest.mark.parametrize("language", OTHERS)
def test_marks_and_outer_spaces_are_kept(language):
    for english, form in translated(language):
        assert sorted(MARKS.findall(form)) == sorted(MARKS.findall(english[-1])), (english, form)
        assert form != form.strip() or english[-1] == english[-1].strip(), (english, form)
        assert form == form.strip() or english[-1] != english[-1].strip(), (english, form)


@pytest.mark.parametrize("language", OTHERS)
def test_what_is_used_is_compiled_from_what_is_read(language):
    texts.compile_texts()
    with texts.po_file(language).with_suffix(".mo").open("rb") as file:
        compiled = read_mo(file)

    for message in texts.read_texts(language):
        if message.id and all(forms_of(message)):
            assert forms_of(compiled.get(message.id, message.context)) == forms_of(message)


def test_a_file_that_is_newer_is_compiled_again(tmp_path, monkeypatch):
    monkeypatch.setattr(texts, "PLACE", tmp_path)
    file = texts.po_file("de")
    file.parent.mkdir(parents=True)
    file.write_text('msgid "rim"\nmsgstr "Rand"\n')

    assert texts.compile_texts() == ["de"]
    assert texts.compile_texts() == []
    with file.with_suffix(".mo").open("rb") as compiled:
        assert read_mo(compiled).get("rim").string == "Rand"


def test_what_was_translated_is_kept_and_what_is_gone_is_dropped(tmp_path, monkeypatch):
    file = texts.po_file("de")
    whole = texts.wanted("de")
    monkeypatch.setattr(texts, "PLACE", tmp_path)
    file = texts.po_file("de")
    file.parent.mkdir(parents=True)
    file.write_text('msgid "Length as taken"\nmsgstr "Länge wie gemessen"\n\nmsgid "gone"\nmsgstr "weg"\n')

    updated = texts.update("de")

    assert updated.get("Length as taken").string == "Länge wie gemessen"
    assert updated.get("gone") is None
    assert {message.id for message in updated} == {message.id for message in whole}


@pytest.mark.parametrize(
    ("english", "file"),
    [
        ("Next: {what}", "capture/sheet_words.py"),
        ("Length as taken", "capture/sheet_fields"),
        ("Taking the gap off. Read what the tape says.", "capture/sheet_fields"),
        ("{Side} leg, seen from the outside.", "static/figures/leg.js"),
        (
            "Apex to floor {apex_to_floor_mm} less rim to floor {rim_to_floor_mm}.",
            "orders/rulebook/length.toml",
        ),
        ("Look at the marks and the unit, and measure once more.", "orders/rulebook/length.toml"),
        ("The front is missing.", "orders/rulebook/beside.toml"),
        ("Nothing was typed. Expected one length, such as {example}.", "orders/reckoning/typed_sentences.py"),
        ("lies outside {least} to {most}.", "orders/reckoning/shape.py"),
        ("Order {reference} is confirmed", "orders/mail.py"),
        ("Skip to the content", "project/templates/base.html"),
    ],
)
def test_texts_are_gathered_wherever_they_stand(english, file):
    assert english in {text.english for text in texts.gathered() if text.file == file}
