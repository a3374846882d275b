"""What is built: one folder, named by what it was made from."""

import json
import re

import pytest
from django.core.management import call_command
from django.templatetags.static import static

from project import build


@pytest.fixture
def built(settings, tmp_path):
    settings.VAR, settings.STATIC_ROOT = tmp_path, tmp_path / "site"
    call_command("build_site", verbosity=0)
    return tmp_path / "site" / build.build_id()


def test_the_folder_is_named_by_the_sources(settings, tmp_path):
    build.build_id.cache_clear()
    before = build.build_id()
    assert re.fullmatch(r"[0-9a-f]{16}", before)
    (tmp_path / "static").mkdir()
    (tmp_path / "static" / "a.css").write_text("p {}")
    settings.ROOT = tmp_path
    try:
        build.build_id.cache_clear()
        first = build.build_id()
        (tmp_path / "static" / "a.css").write_text("p { margin: 0 }")
        build.build_id.cache_clear()
        assert len({before, first, build.build_id()}) == 3
    finally:
        build.build_id.cache_clear()


def test_another_pace_of_sending_is_another_build(settings):
    """The page brings it: phones that hold the page of before take the new one only as a new build."""
    before = build.build_id()
    settings.SENDING_PACE = {**settings.SENDING_PACE, "timeout_ms": 1}
    build.build_id.cache_clear()
    try:
        assert build.build_id() != before
    finally:
        build.build_id.cache_clear()


def test_static_addresses_lie_in_the_folder():
    assert static("css/base.css") == f"/static/{build.build_id()}/css/base.css"


def test_the_build_holds_modules_books_and_page(built, settings):
    assert (built / "js" / "sheet" / "main.js").is_file()
    assert (built / "js" / "sheet" / "main.js.br").is_file()
    for language, _name in settings.LANGUAGES:
        book = json.loads((built / build.book_file(language)).read_text())
        assert book["schema"] == "shankline-book-1"
    assert b"/js/sheet/bundle.js" in build.sheet_page("en")
    for name in build.bundle_names():
        assert (built / "js" / "sheet" / f"{name}.br").is_file()


def test_a_language_that_was_not_built_gets_english(built):
    assert build.sheet_page("tlh") == build.sheet_page("en")


def test_building_again_changes_nothing(built):
    before = {file: file.stat().st_mtime_ns for file in built.rglob("*")}

    call_command("build_site", verbosity=0)

    assert {file: file.stat().st_mtime_ns for file in built.rglob("*")} == before
