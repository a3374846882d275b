"""Builds what is served as it is: the static files in one folder named by their hash, the rule book, the phone's page.

One folder per build, and old ones stay: a phone that still runs the last build finds its modules.
"""

import hashlib
import json
from functools import lru_cache
from pathlib import Path

import brotli
import minify
from django.conf import settings
from django.contrib.staticfiles.storage import StaticFilesStorage
from django.utils import translation

from project.bundle import FIRST, bundled, split

# What the built files are made from. A change in any of them is a new build.
SOURCES = (
    "static",
    "capture/line_marks.py",
    "capture/templates",
    "capture/sheet.py",
    "capture/sheet_fields",
    "capture/sheet_words.py",
    "orders/reckoning/typed_sentences.py",
    "orders/rulebook",
    "project/pwa.py",
    "project/templates/base.html",
    "project/templates/offline.html",
    "project/locale",
)
BUNDLE = FIRST
STYLE = "page.css"
# Nearly all of these is called while the first fields are answered.
ALL_CALLED = (FIRST, "bundle-pictures.js", "bundle-reckoning.js")


@lru_cache(maxsize=1)
def build_id() -> str:
    """Sixteen hex digits that name this build, from the bytes of its sources and the settings that the page brings."""
    digest = hashlib.sha256(json.dumps(settings.SENDING_PACE, sort_keys=True).encode())
    for source in SOURCES:
        for file in source_files(settings.ROOT / source):
            digest.update(str(file.relative_to(settings.ROOT)).encode() + b"\0" + file.read_bytes() + b"\0")
    return digest.hexdigest()[:16]


def source_files(place: Path) -> list[Path]:
    """The files of a source, in an order that every machine agrees on."""
    if place.is_file():
        return [place]
    files = [
        file
        for file in place.rglob("*")
        if file.is_file() and "__pycache__" not in file.parts and file.suffix != ".mo"
    ]
    return sorted(files, key=lambda file: file.relative_to(place).as_posix())


class BuildStorage(StaticFilesStorage):
    """Static files below the folder of this build."""

    def __init__(self, *args, **kwargs) -> None:
        location = Path(settings.STATIC_ROOT) / build_id()
        super().__init__(location=location, base_url=f"{settings.STATIC_URL}{build_id()}/")


def static_prefix() -> str:
    """The address of this build's folder, with a slash at the end."""
    return f"{settings.STATIC_URL}{build_id()}/"


def page_file(language: str) -> Path:
    """Where the phone's page in this language is kept. It is no static file: it is only shown to members."""
    return Path(settings.VAR) / "pages" / build_id() / f"visits-{language}.html"


def brotli_file(file: Path) -> Path:
    """Where the same is kept compressed."""
    return file.with_name(f"{file.name}.br")


def write_pages() -> None:
    """Renders the phone's page in every language."""
    from capture.sheet import render_sheet  # only the build needs it, and it reads the whole sheet

    for language, _name in settings.LANGUAGES:
        file = page_file(language)
        file.parent.mkdir(parents=True, exist_ok=True)
        page = render_sheet(language, static_prefix(), BUNDLE, (STYLE,)).encode()
        file.write_bytes(page)
        brotli_file(file).write_bytes(brotli.compress(page))


def write_styles() -> None:
    """Writes the page's style sheets as one, with fewer letters."""
    from capture.sheet import STYLES  # only the build needs it

    sheets = [(settings.ROOT / "static" / "css" / name).read_text(encoding="utf-8") for name in STYLES]
    file = Path(settings.STATIC_ROOT) / build_id() / "css" / STYLE
    file.write_text(minify.string("text/css", "\n".join(sheets)), encoding="utf-8")


def write_bundles() -> None:
    """Writes the phone's modules as a few scripts beside them, where the addresses in them count from."""
    folder = Path(settings.STATIC_ROOT) / build_id() / "js" / "sheet"
    for name, script in bundled(*phone_modules(), at_once=ALL_CALLED).items():
        (folder / name).write_text(script, encoding="utf-8")


@lru_cache(maxsize=1)
def bundle_names() -> tuple[str, ...]:
    """The phone's scripts, the first one first, below js/sheet/."""
    return tuple(split(*phone_modules()).scripts)


def phone_modules() -> tuple[Path, Path]:
    """The folder that all of the phone's modules lie in, and the first of them."""
    root = settings.ROOT / "static"
    return root, root / "js" / "sheet" / "main.js"


def book_file(language: str) -> str:
    """The rule book with its sentences in this language, below the build's folder."""
    return f"book-{language}.json"


def write_books() -> None:
    """Writes the rule book as phones read it, in every language."""
    from orders.rulebook.book import load_book  # only the build needs it

    folder = Path(settings.STATIC_ROOT) / build_id()
    folder.mkdir(parents=True, exist_ok=True)
    for language, _name in settings.LANGUAGES:
        with translation.override(language):
            told = load_book().to_json(look_up=translation.gettext)
        book = json.dumps(told, ensure_ascii=False, separators=(",", ":"))
        (folder / book_file(language)).write_text(book, encoding="utf-8")


def sheet_page(language: str, compressed: bool = False) -> bytes:
    """The phone's page in this language, or in English, by brotli (RFC 7932) if so wanted.

    Raises FileNotFoundError before the site is built.
    """
    languages = [code for code, _name in settings.LANGUAGES]
    file = page_file(language if language in languages else "en")
    return (brotli_file(file) if compressed else file).read_bytes()
