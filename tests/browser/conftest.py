"""The real site for browser journeys: its own process, on a SQLite file of its own. No ORM in these tests."""

import os
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from fixtures_demo import world

ROOT = Path(__file__).resolve().parent.parent.parent
PHONE = {"width": 412, "height": 915}
DESK = {"width": 1280, "height": 800}


@dataclass
class Site:
    """A running site: where, and as which process."""

    address: str
    var: Path
    process: subprocess.Popen


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


@pytest.fixture(scope="session")
def site(demo_folder) -> Iterator[Site]:
    """The demo, served as `python3 -m project demo` serves it."""
    var, port = demo_folder("site"), free_port()
    surroundings = {**os.environ, "SHANKLINE_DEMO": "1", "SHANKLINE_VAR": str(var)}
    command = [sys.executable, "manage.py", "demo", "--port", str(port)]
    with open(var / "log", "w") as log:
        process = subprocess.Popen(command, cwd=ROOT, env=surroundings, stdout=log, stderr=log)
    running = Site(f"http://127.0.0.1:{port}", var, process)
    try:
        wait_until_served(running)
        yield running
    finally:
        process.terminate()
        process.wait(timeout=20)


def wait_until_served(site: Site, seconds: float = 240) -> None:
    """Returns once the sign-in page is served; fails with the site's own words."""
    end = time.monotonic() + seconds
    while time.monotonic() < end and site.process.poll() is None:
        try:
            urllib.request.urlopen(f"{site.address}/accounts/login/", timeout=5).close()
            return
        except OSError:
            time.sleep(0.2)
    pytest.fail("the site did not start: " + (site.var / "log").read_text()[-2000:])


@pytest.fixture
def sign_in(site, browser):
    """Opens a page at a given size, signed in; a page error or a message from the policy fails the test at its end."""
    contexts, wrong = [], []

    def signed_in(mail: str, size: dict = PHONE, **options):
        context = browser.new_context(viewport=size, base_url=site.address, **options)
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on(
            "console",
            lambda said: wrong.append(said.text) if "Content Security Policy" in said.text else None,
        )
        page.goto("/")
        page.get_by_label("Mail address").fill(mail)
        page.get_by_label("Password").fill(world.PASSWORD)
        page.get_by_role("button", name="Sign in").click()
        page.wait_for_url(lambda address: "/accounts/" not in address)
        return page

    yield signed_in
    for context in contexts:
        context.close()
    assert wrong == []
