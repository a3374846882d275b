"""The site's texts in other languages: gathered from where they stand, kept up to date in `.po` files, compiled.

A text stands in English in the code, a template, the sheet's fields, the phone's sentences, the rule book or the
leg figure's data; its translations are by the English ones in `project/locale/<language>/LC_MESSAGES/django.po`.
Python and templates are read by Babel; what is data is read as the site reads it, each with a word on where it
stands, which translators see above it.
"""

import io
import os
import re
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_python
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po
from django.conf import settings
from django.utils.translation.template import templatize

PLACE = settings.ROOT / "project" / "locale"
KEYWORDS = {
    "_": None,
    "said": None,
    "noop": None,
    "gettext": None,
    "gettext_lazy": None,
    "gettext_noop": None,
    "ngettext": (1, 2),
    "pgettext": ((1, "c"), 2),
    "npgettext": ((1, "c"), 2, 3),
}
# In the order in which somebody translates them: what the clinician reads first.
SOURCES = (
    "orders/reckoning",
    "orders/rulebook",
    "capture",
    "project",
    "orders/templates/orders/clinic*.html",
    "orders/templates/orders/_clinic*.html",
    "orders/clinic*.py",
    "orders/views",
    "orders/bench*.py",
    "orders",
)
# What the person's own page is made from: the only texts that Arabic has.
HANDOUT = (
    "orders/handout_page.py",
    "orders/handout_steps.py",
    "orders/problem_form.py",
    "orders/problems.py",
    "orders/templates/orders/handout*.html",
    "orders/templates/orders/_handout*.html",
    "project/templates/base_public.html",
)
ONLY_HANDOUT = ("ar",)
# Nothing here is counted in millions, which these two count in a form of their own.
PLURALS = {"es": "nplurals=2; plural=(n != 1);", "fr": "nplurals=2; plural=(n > 1);"}


@dataclass(frozen=True)
class Text:
    """One English text and where it stands.

    Attributes
    ----------
    english : str or tuple of str
        One form, or the singular and the plural.
    file : str
        From the tree's root.
    about : tuple of str
        What a translator should know of it.
    context : str or None
        What tells it from the same words with another meaning.
    """

    english: str | tuple[str, str]
    file: str
    about: tuple[str, ...] = ()
    context: str | None = None


@cache
def gathered() -> tuple[Text, ...]:
    """Every text of the site, in the order of the `.po` files; one may come more than once."""
    return tuple(_gathered())


def _gathered() -> Iterator[Text]:
    yield from _of_the_phone()
    yield from _of_the_fields()
    yield from _of_the_figure()
    yield from _of_the_book()
    for file in _files(SOURCES):
        yield from _of_file(file)


def of_handout() -> Iterator[Text]:
    """The texts of the person's own page."""
    for file in _files(HANDOUT):
        yield from _of_file(file)


def languages() -> list[str]:
    """The languages that there are texts in."""
    return sorted(place.name for place in PLACE.iterdir() if place.is_dir())


def po_file(language: str) -> Path:
    """Where a language's texts are."""
    return PLACE / language / "LC_MESSAGES" / "django.po"


def read_texts(language: str) -> Catalog:
    """A language's texts as they are in its file."""
    with po_file(language).open("rb") as file:
        return read_po(file, locale=language)


def wanted(language: str) -> Catalog:
    """A catalog of every text that this language should have, none translated."""
    catalog = Catalog(locale=language, charset="utf-8")
    if language in PLURALS:
        catalog.mime_headers = [
            ("Content-Type", "text/plain; charset=utf-8"),
            ("Plural-Forms", PLURALS[language]),
        ]
    for text in of_handout() if language in ONLY_HANDOUT else gathered():
        catalog.add(
            text.english,
            locations=[(text.file, None)],
            auto_comments=[about for about in text.about if about],
            context=text.context,
        )
    return catalog


def update(language: str) -> Catalog:
    """A language's texts as they should be now: those gone are dropped, those new are empty, the rest is kept."""
    kept, catalog = read_texts(language), wanted(language)
    for message in catalog:
        old = message.id and kept.get(message.id, message.context)
        if old and isinstance(old.string, str) == isinstance(message.id, str):
            message.string = old.string
            message.user_comments = old.user_comments
            message.flags |= old.flags & {"fuzzy"}
    return catalog


def untranslated(catalog: Catalog) -> list[str]:
    """The texts that have no translation, in the catalog's order."""
    empty = []
    for message in catalog:
        forms = message.string if isinstance(message.string, (list, tuple)) else [message.string]
        if message.id and not all(forms):
            empty.append(message.id if isinstance(message.id, str) else message.id[0])
    return empty


def po_text(catalog: Catalog) -> bytes:
    """What a catalog's `.po` file holds: no dates and no line numbers, so that it only changes with the texts."""
    out = io.BytesIO()
    write_po(out, catalog, width=110, include_lineno=False, omit_header=True)
    return _header(catalog) + re.sub(rb"\n{3,}", b"\n\n", out.getvalue())


def _header(catalog: Catalog) -> bytes:
    """The head that gettext needs: the language, its letters and its plural forms."""
    return (
        'msgid ""\nmsgstr ""\n'
        f'"Language: {catalog.locale_identifier}\\n"\n'
        '"Content-Type: text/plain; charset=utf-8\\n"\n'
        '"Content-Transfer-Encoding: 8bit\\n"\n'
        f'"Plural-Forms: {catalog.plural_forms}\\n"\n\n'
    ).encode()


def compile_texts() -> list[str]:
    """Makes the `.mo` file of each language whose `.po` is newer; which they were."""
    made = []
    for language in languages():
        source = po_file(language)
        target = source.with_suffix(".mo")
        if not target.exists() or target.stat().st_mtime <= source.stat().st_mtime:
            _write(target, read_texts(language))
            made.append(language)
    return made


def _write(target: Path, catalog: Catalog) -> None:
    """Put there in one go: two processes may start at once."""
    handle, name = tempfile.mkstemp(dir=target.parent, suffix=".part")
    with os.fdopen(handle, "wb") as out:
        write_mo(out, catalog)
    os.chmod(name, 0o644)
    os.replace(name, target)


def _files(patterns: tuple[str, ...]) -> Iterator[Path]:
    """The Python files and templates that match, each once, in the patterns' order."""
    seen: set[Path] = set()
    for pattern in patterns:
        place = settings.ROOT / pattern
        found = sorted(place.rglob("*")) if place.is_dir() else sorted(settings.ROOT.glob(pattern))
        for file in found:
            if (
                file.suffix in (".py", ".html", ".txt")
                and "migrations" not in file.parts
                and file not in seen
            ):
                seen.add(file)
                yield file


def _of_file(file: Path) -> Iterator[Text]:
    """The marked texts of a Python file or a template."""
    source = file.read_text(encoding="utf-8")
    if file.suffix != ".py":
        source = "\n".join(line.lstrip() for line in templatize(source).splitlines())
    name = file.relative_to(settings.ROOT).as_posix()
    content = io.BytesIO(source.encode())
    for _line, function, found, comments in extract_python(
        content, list(KEYWORDS), ["Translators:"], {"encoding": "utf-8"}
    ):
        yield from _found(function, found, name, tuple(comments))


def _found(function: str, found, name: str, about: tuple[str, ...]) -> Iterator[Text]:
    parts = list(found) if isinstance(found, tuple) else [found]
    context = parts.pop(0) if function in ("pgettext", "npgettext") else None
    if not parts or not isinstance(parts[0], str) or not parts[0]:
        return
    english = (parts[0], parts[1]) if function in ("ngettext", "npgettext") else parts[0]
    yield Text(english, name, about, context)


def _of_the_phone() -> Iterator[Text]:
    from capture.sheet_words import WORDS

    for key, english in WORDS.items():
        yield Text(english, "capture/sheet_words.py", (f"phone: {key}",))


def _of_the_fields() -> Iterator[Text]:
    from capture.sheet_fields import FIELDS, PARTS

    file = "capture/sheet_fields"
    for part in PARTS:
        yield Text(part.name, file, (f"a part of the sheet: {part.key}",))
    for field in FIELDS:
        for name in ("label", "brief", "posture", "where", "easy_mistake", "caution"):
            if getattr(field, name):
                yield Text(getattr(field, name), file, (f"field {field.key}: {name.replace('_', ' ')}",))
        for kind, ones in (("answer", field.choices), ("column", field.columns), ("row", field.rows)):
            for one in ones:
                called = getattr(one, "value", "") or getattr(one, "key", "")
                yield Text(one.label, file, (f"field {field.key}: {kind} {called}",))
                if getattr(one, "note", ""):
                    yield Text(one.note, file, (f"field {field.key}: note beside {kind} {called}",))


def _of_the_figure() -> Iterator[Text]:
    from orders.figure.data import FIGURE

    for key, english in FIGURE["words"].items():
        yield Text(english, "static/figures/leg.js", (f"lettering or title of a drawing: {key}",))


def _of_the_book() -> Iterator[Text]:
    from orders.rulebook.book import book_content

    content, _version = book_content()
    for name, part in content.items():
        for kind in ("figure", "check"):
            for one in part.get(kind, []):
                yield from _of_entry(one, f"orders/rulebook/{name}.toml", f"{kind} {one['id']}")


def _of_entry(one: dict, file: str, called: str) -> Iterator[Text]:
    for at, told in enumerate([one, *one.get("case", [])]):
        where = f"{called}, case {at}" if at else called
        for key in ("says", "do"):
            if key in told:
                yield Text(told[key], file, (f"{where}: {key}",))
