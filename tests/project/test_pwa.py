"""What the phone keeps for when there is no signal: all that its page needs, and nobody's data."""

import re
from urllib.parse import urljoin

import pytest
from django.core.management import call_command
from django.templatetags.static import static
from PIL import Image

from project import build, pwa


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """The built site's folder."""
    from django.test import override_settings

    var = tmp_path_factory.mktemp("var")
    with override_settings(VAR=var, STATIC_ROOT=var / "site"):
        call_command("build_site", verbosity=0)
        yield var / "site" / build.build_id()


def named_by_the_page(folder) -> set[str]:
    """What the page links to, what its script loads later, and what its style sheets name; below the build's folder."""
    page = build.sheet_page("en").decode()
    linked = set(re.findall(rf'(?:href|src)="{build.static_prefix()}([^"]+)"', page))
    scripts = [(folder / "js" / "sheet" / name).read_text() for name in build.bundle_names()]
    later = {
        urljoin("js/sheet/", path)
        for script in scripts
        for path in re.findall(r'(?:new URL|import)\("([^"]+)"', script)
    }
    styles = [file for file in linked if file.endswith(".css")]
    pictures = {
        path for file in styles for path in re.findall(r"url\(([^)]+)\)", (folder / file).read_text())
    }
    assert linked
    assert {"js/sheet/shrink_worker.js", "js/sheet/bundle-photos.js"} <= later
    return linked | later | pictures


def test_every_file_that_the_page_needs_is_kept(folder):
    # the home screen's picture is taken by the phone itself, once, when the app is put there
    assert named_by_the_page(folder) - set(pwa.files()) == {"icons/180.png"}


def test_every_file_that_is_kept_was_built(folder):
    assert [name for name in pwa.files() if not (folder / name).is_file()] == []


def test_the_worker_names_files_of_its_build_and_two_pages_and_nothing_else(settings):
    told = re.match(r"const BUILD = (\{.*?\});\n", pwa.worker_script())[1]

    addresses = re.findall(r'"(/[^"]*)"', told)

    prefix = build.static_prefix()
    assert {address for address in addresses if not address.startswith(prefix)} == {"/visits/", "/offline/"}
    books = {build.book_file(language) for language, _name in settings.LANGUAGES}
    assert set(pwa.files()) | books == {
        address.removeprefix(prefix) for address in addresses if address.startswith(prefix)
    } - {""}


def test_the_worker_reads_on_one_screen(settings):
    source = (settings.ROOT / "static" / "js" / "offline" / "worker.js").read_text()

    assert len(source.splitlines()) < 100


def test_the_manifest_has_what_makes_an_app_installable():
    """Members as in the W3C's Web Application Manifest; 192 and 512 px are what Chromium asks for an installation."""
    told = pwa.manifest()

    assert told["start_url"] == told["id"] == "/visits/"
    assert (told["scope"], told["display"]) == ("/", "standalone")
    assert {icon["sizes"] for icon in told["icons"]} == {"192x192", "512x512"}
    assert [icon["purpose"] for icon in told["icons"] if "purpose" in icon] == ["maskable"]


@pytest.mark.parametrize("icon", pwa.ICONS, ids=lambda icon: icon["src"])
def test_an_icon_is_as_large_as_the_manifest_says(icon, settings):
    assert static(icon["src"]).startswith(build.static_prefix())
    with Image.open(settings.ROOT / "static" / icon["src"]) as picture:
        assert f"{picture.width}x{picture.height}" == icon["sizes"]


def test_colours_are_the_papers_of_the_look(settings):
    tokens = (settings.ROOT / "static" / "css" / "tokens.css").read_text()
    paper = re.search(r"--paper: (#\w+)", tokens)[1]

    told = pwa.manifest()

    assert told["theme_color"] == told["background_color"] == paper
