"""A phone that can be killed: a Chromium of our own on a folder on the disk, driven over its debugging port."""

import os
import signal
import subprocess
import time
from pathlib import Path

from playwright.sync_api import Browser, Page, Playwright

from tests.browser.conftest import PHONE
from tests.twins import CHROMIUM, CHROMIUM_ARGS

SECONDS = 60
# No process in waiting for the next page: killed with the page's own, it would take that page with it.
ONE_RENDERER = "--disable-features=SpareRendererForSitePerProcess"


class Handset:
    """`page` is open after `begin`; what the browser keeps lies in `folder` and outlives it."""

    def __init__(self, playwright: Playwright, folder: Path, address: str, patience_ms: float) -> None:
        self.playwright, self.folder, self.address, self.patience_ms = (
            playwright,
            folder,
            address,
            patience_ms,
        )
        self.process: subprocess.Popen | None = None
        self.browser: Browser
        self.page: Page

    def begin(self) -> Page:
        """Starts the browser and gives its page, which shows nothing yet."""
        port_file = self.folder / "DevToolsActivePort"
        port_file.unlink(missing_ok=True)
        flags = [
            "--headless=new",
            "--remote-debugging-port=0",
            f"--user-data-dir={self.folder}",
            "--no-first-run",
            ONE_RENDERER,
        ]
        with open(self.folder / "log", "a") as log:
            self.process = subprocess.Popen(
                [CHROMIUM, *CHROMIUM_ARGS, *flags, "about:blank"],
                stdout=log,
                stderr=log,
                start_new_session=True,
            )
        port = self.port_in(port_file)
        self.browser = self.playwright.chromium.connect_over_cdp(f"http://127.0.0.1:{port}")
        self.page = self.browser.contexts[0].pages[0]
        self.page.set_viewport_size(PHONE)
        self.page.set_default_timeout(self.patience_ms)
        return self.page

    def port_in(self, file: Path) -> str:
        end = time.monotonic() + SECONDS
        while time.monotonic() < end and self.process.poll() is None:
            if file.exists() and (lines := file.read_text().split()):
                return lines[0]
            time.sleep(0.05)
        raise RuntimeError("the browser did not start: " + (self.folder / "log").read_text()[-500:])

    def open(self, path: str = "/visits/") -> Page:
        self.page.goto(self.address + path)
        return self.page

    def kill_page(self) -> None:
        """Kills the page's own process at once, as a phone short of memory does. The browser goes on."""
        talk = self.browser.new_browser_cdp_session()
        processes = talk.send("SystemInfo.getProcessInfo")["processInfo"]
        with self.page.expect_event("crash"):
            for process in processes:
                if process["type"] == "renderer":
                    os.kill(process["id"], signal.SIGKILL)

    def new_page(self) -> Page:
        """Another page in place of one that is gone."""
        gone = self.page
        self.page = self.browser.contexts[0].new_page()
        self.page.set_viewport_size(PHONE)
        self.page.set_default_timeout(self.patience_ms)
        gone.close()
        return self.page

    def kill(self) -> None:
        """Kills the browser with all its processes at once, as an empty battery does."""
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait(timeout=SECONDS)
        self.process = None

    def end(self) -> None:
        if self.process is not None:
            self.kill()
