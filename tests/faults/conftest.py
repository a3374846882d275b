"""A site that can be stopped, started and changed under the phone's feet. The real server, as its own process."""

import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from fixtures_demo import world
from tests.browser.conftest import PHONE, ROOT, Site, free_port, wait_until_served
from tests.browser.test_plain_case import choose, new_visit, next_to
from tests.faults.handset import Handset

CLINICIAN = "clinician@northfell.example"
# What the site is made of; the rest of a clone it doesn't need.
PARTS = ("manage.py", "pyproject.toml", "project", "capture", "orders", "static", "fixtures_demo")
PATIENCE_MS = 60_000  # the machine may be busy; nothing here may depend on speed


class Served(Site):
    """The demo on one port and one database, by whichever source tree is wanted."""

    root: Path | None = None

    def start(self, root: Path = ROOT) -> None:
        """Serves from this tree, if it isn't served from there already."""
        if self.process is not None and self.process.poll() is None:
            if self.root == root:
                return
            self.stop()
        surroundings = {**os.environ, "SHANKLINE_DEMO": "1", "SHANKLINE_VAR": str(self.var)}
        port = self.address.rsplit(":", 1)[1]
        command = [sys.executable, "manage.py", "demo", "--port", port]
        with open(self.var / "log", "a") as log:
            self.process = subprocess.Popen(command, cwd=root, env=surroundings, stdout=log, stderr=log)
        self.root = root
        wait_until_served(self)

    def stop(self) -> None:
        self.process.terminate()
        self.process.wait(timeout=20)


@pytest.fixture(scope="session")
def served(demo_folder) -> Iterator[Served]:
    site = Served(f"http://127.0.0.1:{free_port()}", demo_folder("faults"), None)
    try:
        yield site
    finally:
        if site.process is not None:
            site.stop()


@pytest.fixture
def site(served) -> Served:
    """The site, running, from this very tree."""
    served.start()
    return served


@pytest.fixture(scope="session")
def newer_tree(tmp_path_factory) -> Path:
    """The site's source, one version on: the first view is headed with other words."""
    tree = tmp_path_factory.mktemp("newer")
    for part in PARTS:
        copy = shutil.copytree if (ROOT / part).is_dir() else shutil.copy
        copy(ROOT / part, tree / part)
    words = tree / "capture" / "sheet_words.py"
    text = words.read_text(encoding="utf-8")
    assert '"visits": _("Visits")' in text
    words.write_text(
        text.replace('"visits": _("Visits")', '"visits": _("All visits, newer")'), encoding="utf-8"
    )
    return tree


@pytest.fixture
def phone(site, browser) -> Iterator[Callable[..., Page]]:
    """Makes phones: a page of a context of its own, signed in and ready for a visit with no signal."""
    contexts: list[BrowserContext] = []

    def made(mail: str = CLINICIAN, **options) -> Page:
        context = browser.new_context(viewport=PHONE, base_url=site.address, **options)
        contexts.append(context)
        context.set_default_timeout(PATIENCE_MS)
        page = context.new_page()
        sign_in(page, mail)
        made_ready(page)
        return page

    yield made
    for context in contexts:
        context.close()


def until(page: Page, test: str) -> None:
    """Waits until an expression is true that may be a promise; wait_for_function takes any promise for true."""
    end = time.monotonic() + PATIENCE_MS / 1000
    while not page.evaluate(test):
        assert time.monotonic() < end, test
        page.wait_for_timeout(50)


def sign_in(page: Page, mail: str = CLINICIAN, address: str = "") -> None:
    page.goto(f"{address}/")
    page.get_by_label("Mail address").fill(mail)
    page.get_by_label("Password").fill(world.PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url("**/visits/**")


def made_ready(page: Page) -> None:
    """Waits until the phone itself says that it is ready."""
    expect(page.locator(".ready h2")).to_have_text("This phone is ready for a visit", timeout=PATIENCE_MS)


def to_length(page: Page, reference: str, typed: str) -> None:
    """A new visit, up to the length with this typed into it."""
    new_visit(page, reference)
    choose(page, "Left")
    next_to(page, "knee.pivots_seen")
    choose(page, "One pin")
    next_to(page, "foot.profile")
    choose(page, "Only the pylon")
    next_to(page, "foot.ankle")
    choose(page, "Solid")
    next_to(page, "marks")
    next_to(page, "length")
    page.locator("input.typed").press_sequentially(typed)


def to_field(page: Page, key: str) -> None:
    """Another field of the draft in hand, or "check"."""
    page.goto(re.sub(r"#(visit/[^/]+)/.*", rf"#\1/{key}", page.url))
    page.wait_for_selector(f"main[data-field='{key}']")


@pytest.fixture
def handset(site, playwright, tmp_path) -> Iterator[Handset]:
    """One phone with a disk of its own, signed in and ready."""
    one = Handset(playwright, tmp_path, site.address, PATIENCE_MS)
    one.begin()
    sign_in(one.page, address=site.address)
    made_ready(one.page)
    yield one
    one.end()
