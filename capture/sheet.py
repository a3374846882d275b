"""The measuring sheet's page: static, free of persons, one per language, rendered when the site is built.

The page holds every field's words and every sentence of the phone as one JSON block; the phone's modules
draw the views from it. Person's data reaches the phone only through `/api/` and stays in its own store.
"""

import json

from django.conf import settings
from django.shortcuts import resolve_url
from django.template.loader import render_to_string
from django.utils import translation
from django.utils.formats import get_format

from capture.line_marks import LINE_MARKS, line_mark
from capture.sheet_fields import FIELDS, PARTS, Choice, Column, Field, Row
from capture.sheet_words import WORDS
from orders.figure.data import FIGURE
from orders.reckoning.typed_sentences import SENTENCES
from orders.rulebook.expression import read_expression
from orders.rulebook.strings import STRINGS
from project.build import book_file

# What ends a script element or starts a comment in one; JSON reads the escapes as the same text.
_IN_SCRIPT = {ord("<"): "\\u003c", ord(">"): "\\u003e", ord("&"): "\\u0026"}


# The page's style sheets below css/, in their order.
STYLES = ("tokens.css", "base.css", "figure.css", "sheet.css")


def render_sheet(
    language: str, static_prefix: str, script: str = "main.js", styles: tuple[str, ...] = STYLES
) -> str:
    """The whole HTML page in one language.

    Parameters
    ----------
    language : str
        A language code that the site has.
    static_prefix : str
        Where this build's static files lie, with a slash at its end; its last folder names the build.
    script : str
        The page's script below js/sheet/: the first module, or the first of the build's scripts.
    styles : tuple of str
        Its style sheets below css/: each by itself, or the build's one of them all.
    """
    with translation.override(language):
        words = words_for_page()
        context = {
            "language": language,
            "direction": "rtl" if translation.get_language_bidi() else "ltr",
            "static": static_prefix,
            "script": script,
            "styles": styles,
            "words": words,
            "lines": {name: line_mark(name) for name in LINE_MARKS},
            "first_next": words["next"].format(what=translation.gettext(FIELDS[0].brief)),
            "sheet": sheet_json(static_prefix, language),
        }
        return render_to_string("capture/sheet.html", context)


def sheet_json(static_prefix: str, language: str) -> str:
    """All of the page's words and rules, in the language that is active, safe inside a script element."""
    sheet = {
        "build": static_prefix.rstrip("/").rsplit("/", 1)[-1],
        "language": language,
        "sign_in": f"{resolve_url(settings.LOGIN_URL)}?next={resolve_url('capture:visits')}",
        "orders": resolve_url("orders:clinic-orders"),
        "settings": resolve_url("settings"),
        "language_files": [resolve_url("offline"), f"{static_prefix}{book_file('{language}')}"],
        "pace": settings.SENDING_PACE,
        "parts": [{"key": part.key, "name": translation.gettext(part.name)} for part in PARTS],
        "fields": [field_for_page(field) for field in FIELDS],
        "words": words_for_page(),
        "lines": LINE_MARKS,
    }
    if language != "en":
        sheet["strings"] = strings_for_page()
    return json.dumps(sheet, ensure_ascii=False, separators=(",", ":")).translate(_IN_SCRIPT)


def words_for_page() -> dict[str, str]:
    """The phone's sentences by their keys, in the language that is active."""
    return {key: translation.gettext(text) for key, text in WORDS.items()}


def strings_for_page() -> dict:
    """What the phone's core and its drawings say, in the language that is active: of themselves they are English."""
    said = {"reading": SENTENCES, "book": STRINGS, "figure": FIGURE["words"]}
    told = {of: {key: translation.gettext(text) for key, text in texts.items()} for of, texts in said.items()}
    return {"mark": get_format("DECIMAL_SEPARATOR"), **told}


def field_for_page(field: Field) -> dict:
    """One field as the phone gets it: its words in the active language, its expressions as trees."""
    told = {"key": field.key, "part": field.part.key, "kind": field.kind, "home": field.home}
    for name in ("label", "brief", "posture", "where", "easy_mistake", "caution"):
        if getattr(field, name):
            told[name] = translation.gettext(getattr(field, name))
    for name in ("drawing", "options", "quantity", "unit", "least", "most", "starts_at"):
        if getattr(field, name) not in ("", None):
            told[name] = getattr(field, name)
    for name in ("signed", "asked_by", "most_rows"):
        if getattr(field, name):
            told[name] = getattr(field, name)
    if field.choices:
        told["choices"] = [_choice_for_page(choice) for choice in field.choices]
    for name in ("columns", "rows"):
        if getattr(field, name):
            told[name] = [_labelled_for_page(one) for one in getattr(field, name)]
    return told | {
        "asked": read_expression(field.asked_when),
        "open": read_expression(field.open_when),
        "required": field.required,
        "offered": field.offered,
    }


def _choice_for_page(choice: Choice) -> dict:
    told = {"value": choice.value, "label": translation.gettext(choice.label)}
    if choice.holds:
        told["holds"] = list(choice.holds)
    return told | ({"note": translation.gettext(choice.note)} if choice.note else {})


def _labelled_for_page(one: Column | Row) -> dict:
    told = {"key": one.key, "label": translation.gettext(one.label)}
    return told | ({"signed": True} if getattr(one, "signed", False) else {})
