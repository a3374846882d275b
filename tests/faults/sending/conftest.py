"""What goes wrong between phone and server: real Chromium, the real server as its own process, a proxy in between.

Expected every time: nothing lost, nothing doubled, the state that is shown is true. No ORM: what the server holds is
counted in its database file.
"""

import base64
import os
import shutil
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from fixtures_demo import world
from tests import factories
from tests.browser.conftest import PHONE, ROOT, Site, free_port, wait_until_served
from tests.capture.photos.pictures import a_jpeg
from tests.faults.sending.proxy import Proxy

CLINICIAN, OTHER = "clinician@northfell.example", "lead@northfell.example"
PATIENCE_MS = 60_000  # the machine may be busy; what is waited for comes as soon as it can
# Short waits, so that a fault is got over while the test looks on.
PACE = {
    "SHANKLINE_SENDING_FIRST_WAIT_MS": "200",
    "SHANKLINE_SENDING_LONGEST_WAIT_MS": "1000",
    "SHANKLINE_SENDING_TIMEOUT_MS": "4000",
    "SHANKLINE_SENDING_SLOWEST_KB_PER_S": "20",
}


class Server:
    """The real site as its own process on a database file of its own; it can be stopped, and set back to a backup."""

    def __init__(self, var: Path) -> None:
        self.var, self.port = var, free_port()
        self.process: subprocess.Popen | None = None

    def start(self) -> None:
        surroundings = {**os.environ, **PACE, "SHANKLINE_DEMO": "1", "SHANKLINE_VAR": str(self.var)}
        command = [sys.executable, "manage.py", "demo", "--port", str(self.port)]
        with open(self.var / "log", "a") as log:
            self.process = subprocess.Popen(command, cwd=ROOT, env=surroundings, stdout=log, stderr=log)
        wait_until_served(Site(f"http://127.0.0.1:{self.port}", self.var, self.process))

    def stop(self) -> None:
        self.process.terminate()
        self.process.wait(timeout=30)

    def back_up(self, to: Path) -> None:
        """As an office would at night, with the site at rest."""
        self.stop()
        for name in ("shankline.sqlite3", "files"):
            place = self.var / name
            if place.is_dir():
                shutil.copytree(place, to / name, dirs_exist_ok=True)
            elif place.exists():
                shutil.copy2(place, to / name)
        self.start()

    def restore(self, from_: Path) -> None:
        self.stop()
        shutil.rmtree(self.var / "files", ignore_errors=True)
        for place in from_.iterdir():
            if place.is_dir():
                shutil.copytree(place, self.var / place.name)
            else:
                shutil.copy2(place, self.var / place.name)
        self.start()

    def ask(self, sql: str, *values) -> list[tuple]:
        """Rows of the server's database."""
        with sqlite3.connect(
            f"file:{self.var / 'shankline.sqlite3'}?mode=ro", uri=True, timeout=20
        ) as database:
            return database.execute(sql, values).fetchall()

    def order_of(self, sha256: str) -> list[tuple[str, int]]:
        """(order, revision) for each revision made from the seal with this hash: one, if all is well."""
        return self.ask(
            "select order_id, number from orders_revision"
            " where seal_id in (select id from capture_seal where sha256 = ?)",
            sha256,
        )


@dataclass
class Sealed:
    """What was sealed on a phone: its order, its name, and its photos' names."""

    reference: str
    order: str
    visit: str
    sha256: str
    photos: list[str] = field(default_factory=list)


_HOLD_SENDING = """() => new Promise((held) => {
  navigator.locks.request("outbox", () => new Promise((done) => { window.letSend = done; held(); }));
})"""

_SEAL = """async ({ reference, entry, photos, same_photos_as, side, parent, order, visit }) => {
  const base = new URL("../offline/", document.querySelector("script[type=module]").src).href;
  const { sha256Of } = await import(base + "seal.js");
  const { sealed } = await import(base + "sealing.js");
  const { keepPhoto, read, readAll } = await import(base + "store.js");
  const { withBytes } = await import(base + "tidy.js");
  const { phone } = await read("phone");
  const { book } = await read("book");
  const workshop = phone.workshops.find(({ name }) => name.startsWith("Tarn"));
  return withBytes(async () => {
    const old = (await readAll("seal/")).flatMap((seal) => seal.photos);
    const named = same_photos_as.map((sha256) => old.find((photo) => photo.sha256 === sha256));
    for (const text of photos) {
      const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer;
      const sha256 = await sha256Of(bytes);
      await keepPhoto(sha256, bytes);
      named.push({ sha256, bytes: bytes.byteLength, view: "free", entry: 0 });
    }
    const content = {
      schema: "shankline-seal-1", id: order ?? crypto.randomUUID(), parent_sha256: parent,
      visit: { id: visit ?? crypto.randomUUID(), reference, initials: "Q. X." }, workshop: workshop.id,
      catalogue_version: workshop.catalogue_version, book_sha256: book.sha256, sheet_build: "faults",
      need_by: null, deliver_to: null, entries: [entry], photos: named, replies: [],
    };
    const draft = {
      key: `draft/${content.id}`, id: content.id, member: phone.member.id, visit: content.visit, units: "in",
      answers: { side, photos: named }, skipped: {}, taken_up: {}, reasons: {}, at: "check",
      kept_at: new Date().toISOString(), sealed_content: content, changing: false,
    };
    const { sha256 } = await sealed(content, phone.member.id, [draft]);
    return { order: content.id, sha256, photos: named.map((photo) => photo.sha256), visit: content.visit.id };
  });
}"""


class Phone:
    """One phone: a browser context of its own, behind the proxy, signed in."""

    def __init__(self, page: Page, proxy: Proxy, server: Server) -> None:
        self.page, self.proxy, self.server = page, proxy, server
        page.set_default_timeout(PATIENCE_MS)

    def sign_in(self, mail: str = CLINICIAN) -> None:
        self.enter(mail)
        self.ready()

    def enter(self, mail: str = CLINICIAN) -> None:
        """Signs in, without waiting for what the page then learns."""
        self.page.goto(f"{self.proxy.address}/accounts/login/?next=/visits/")
        self.page.get_by_label("Mail address").fill(mail)
        self.page.get_by_label("Password").fill(world.PASSWORD)
        self.page.get_by_role("button", name="Sign in").click()
        self.page.wait_for_url("**/visits/**")

    def forget_session(self) -> None:
        """Out of the session. The page goes first: an answer on its way would bring the cookie back."""
        self.page.goto("about:blank")
        self.page.context.clear_cookies()

    def ready(self) -> None:
        """Waits until the page knows who is signed in and holds the key to send by and the rule book."""
        self.page.wait_for_selector("main[data-view]")
        signed_in = self.page.evaluate("fetch('/api/phone').then((answer) => answer.json())")["member"]["id"]
        self.stored(f"(await readAll('send_key'))[0]?.member === '{signed_in}'")
        self.stored("(await readAll('book')).length === 1")

    def seal(
        self, photos: int | list[bytes] = 0, length: str = "15 1/2", reference: str = "", **more
    ) -> Sealed:
        """Seals an entry with so many photos of its own, or these, as *Send* does, but for waking the flusher."""
        reference = reference or f"F-{next(_references)}"
        files = [a_jpeg(next(_photos)) for _ in range(photos)] if isinstance(photos, int) else photos
        made = [base64.b64encode(file).decode() for file in files]
        entry = factories.entry(reference=reference, length=[length], second_route=None)
        asked = {
            "reference": reference,
            "entry": entry,
            "photos": made,
            "side": "left",
            "parent": None,
            **more,
        }
        return Sealed(
            reference,
            **self.page.evaluate(_SEAL, {"order": None, "visit": None, "same_photos_as": [], **asked}),
        )

    def wake(self) -> None:
        self.page.evaluate("dispatchEvent(new Event('online'))")

    def hold_sending(self) -> None:
        """No round begins before `let_send`: what once met silence goes last, whatever its age."""
        self.page.evaluate(_HOLD_SENDING)

    def let_send(self) -> None:
        self.page.evaluate("letSend()")
        self.wake()

    def visits(self) -> None:
        self.page.evaluate("location.hash = '#visits'")
        self.page.wait_for_selector("main[data-view='visits']")

    def shows(self, sealed: Sealed, words: str) -> None:
        """Waits until these words stand beside the visit, in the list of what is on this phone."""
        here = "#view section[aria-labelledby='group-on_this_phone_head']"
        state = self.page.locator(f"{here} a.row:has-text('{sealed.reference}') .row-state")
        expect(state).to_contain_text(words, timeout=PATIENCE_MS)

    def records(self, beginning: str) -> list[dict]:
        return self.page.evaluate(f"async () => {{ {STORE} return readAll('{beginning}'); }}")

    def holds_bytes(self) -> set[str]:
        return set(self.page.evaluate(f"async () => {{ {STORE} return bytesKept(); }}"))

    def until(self, test: str) -> None:
        """Waits until an expression over `seals` (all of the phone's) is true."""
        self.stored(f"(await readAll('seal/').then((seals) => {test}))")

    def stored(self, test: str) -> None:
        """Waits until an expression that may await the store is true; wait_for_function takes a promise for true."""
        self.sees(lambda: self.page.evaluate(f"async () => {{ {STORE} return {test}; }}"), test)

    def sees(self, is_so: Callable[[], object], what: object) -> None:
        """Looks again and again, while the page lives on, until something is so."""
        end = time.monotonic() + PATIENCE_MS / 1000
        while not is_so():
            assert time.monotonic() < end, what
            self.page.wait_for_timeout(50)


STORE = (
    "const { readAll, keep, bytesKept } = await import("
    "new URL('../offline/store.js', document.querySelector('script[type=module]').src).href);"
)
_photos, _references = iter(range(1, 65536)), iter(range(1000, 9999))


@pytest.fixture(scope="package")
def server(demo_folder) -> Iterator[Server]:
    """One server for all of these tests."""
    one = Server(demo_folder("sending"))
    one.start()
    yield one
    one.stop()


@pytest.fixture
def proxy(server) -> Iterator[Proxy]:
    """A way to the server that goes wrong as told."""
    one = Proxy(server.port)
    yield one
    one.close()


@pytest.fixture
def phone(server, proxy, browser: Browser) -> Iterator[Callable[..., Phone]]:
    """Makes phones, each with a store of its own, signed in; a fault on a page or a word of the policy fails the test."""
    contexts, wrong = [], []

    def made(mail: str | None = CLINICIAN, way: Proxy | None = None, **options: Any) -> Phone:
        context = browser.new_context(viewport=PHONE, locale="en-GB", **options)
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda fault: wrong.append(str(fault)))
        page.on("console", lambda said: wrong.append(said.text) if "Content Security" in said.text else None)
        one = Phone(page, way or proxy, server)
        if mail:
            one.sign_in(mail)
        return one

    yield made
    for context in contexts:
        context.close()
    assert wrong == []


@pytest.fixture
def all_there(server) -> Callable[..., None]:
    """Holds the server to what was sealed: each once, made into one revision, with each of its photos once."""

    def check(*sealed: Sealed) -> None:
        for one in sealed:
            seals = server.ask("select count(*) from capture_seal where sha256 = ?", one.sha256)
            assert seals == [(1,)], (one, seals)
            orders = server.order_of(one.sha256)
            assert [order.replace("-", "") for order, _number in orders] == [one.order.replace("-", "")]
            for sha256 in one.photos:
                assert server.ask("select count(*) from capture_photo where sha256 = ?", sha256) == [(1,)]
        ids = {one.order.replace("-", "") for one in sealed}
        for order in ids:
            (revisions,) = server.ask("select count(*) from orders_revision where order_id = ?", order)[0]
            events = server.ask(
                "select count(*) from orders_event where order_id = ? and what in ('send', 'correct', 'reply')",
                order,
            )
            assert events == [(revisions,)], order

    return check
