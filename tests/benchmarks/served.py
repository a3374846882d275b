"""The demo served as a process of its own, and a phone in Chromium that is signed in at it."""

import os
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from fixtures_demo import world
from tests.browser.conftest import PHONE, free_port
from tests.twins import CHROMIUM, CHROMIUM_ARGS

ROOT = Path(__file__).resolve().parents[2]
CLINICIAN = "clinician@northfell.example"
PATIENCE_MS = 60_000


@contextmanager
def demo() -> Iterator[str]:
    """The address of a demo that is being served."""
    with tempfile.TemporaryDirectory() as var:
        port = free_port()
        surroundings = {**os.environ, "SHANKLINE_DEMO": "1", "SHANKLINE_VAR": var}
        command = [sys.executable, "manage.py", "demo", "--port", str(port)]
        process = subprocess.Popen(
            command, cwd=ROOT, env=surroundings, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        try:
            wait_until_served(f"http://127.0.0.1:{port}", process)
            yield f"http://127.0.0.1:{port}"
        finally:
            process.terminate()
            process.wait(timeout=30)


def wait_until_served(address: str, process: subprocess.Popen, seconds: float = 600) -> None:
    """Returns once the sign-in page is served."""
    end = time.monotonic() + seconds
    while time.monotonic() < end and process.poll() is None:
        try:
            urllib.request.urlopen(f"{address}/accounts/login/", timeout=5).close()
            return
        except OSError:
            time.sleep(0.2)
    raise RuntimeError("the demo did not start")


@contextmanager
def browser() -> Iterator[Browser]:
    """Debian's Chromium."""
    with sync_playwright() as playwright:
        yield playwright.chromium.launch(executable_path=CHROMIUM, args=list(CHROMIUM_ARGS))


def cookies(chromium: Browser, address: str) -> dict:
    """What shows that the clinician is signed in, for phones that have loaded nothing yet."""
    context = chromium.new_context(base_url=address, viewport=PHONE)
    page = context.new_page()
    page.set_default_timeout(PATIENCE_MS)
    page.goto("/accounts/login/")
    page.get_by_label("Mail address").fill(CLINICIAN)
    page.get_by_label("Password").fill(world.PASSWORD)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(lambda url: "/accounts/" not in url)
    state = context.storage_state()
    context.close()
    return state


def new_phone(chromium: Browser, address: str, state: dict) -> tuple[BrowserContext, Page]:
    """A phone with nothing in its cache or its store, signed in."""
    context = chromium.new_context(
        base_url=address, viewport=PHONE, storage_state=state, has_touch=True, is_mobile=True
    )
    page = context.new_page()
    page.set_default_timeout(PATIENCE_MS)
    return context, page
