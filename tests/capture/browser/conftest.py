"""The phone's page in Chromium, with a made-up server: its API is answered as the test wants."""

import hashlib
import json
import mimetypes
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

import pytest
from django.utils import translation
from playwright.sync_api import Page, Request, Route

from capture.design import render_design
from capture.sheet import render_sheet
from orders.rulebook.book import load_book
from project.build import ALL_CALLED, book_file
from project.bundle import FIRST, bundled
from tests.twins import POLICY, STATIC

CATALOGUES = Path(__file__).resolve().parents[3] / "fixtures_demo" / "catalogues"
ORIGIN = "https://phone.invalid"
PREFIX = "/static/testbuild/"
PLANNED = {"id": "7c9e6679-7425-40de-944b-e07fc1f90ae7", "reference": "NF-0152", "initials": "S. B."}
# Answers at once, or something is wrong; the machine may be busy.
PATIENCE_MS = 30_000
# Two frames and the tasks after each, behind whatever the page has asked of them before.
FRAMES = """async (patience_ms) => {
  const frame = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  const tooLong = new Promise((_done, fail) => setTimeout(() => fail(new Error("no frame was painted")), patience_ms));
  await Promise.race([frame().then(frame), tooLong]);
}"""


@cache
def scripts() -> dict[str, str]:
    """The phone's scripts as a build makes them: what a phone runs, in a few requests."""
    return bundled(STATIC, STATIC / "js" / "sheet" / "main.js", at_once=ALL_CALLED)


def workshop(stem: str, number: int) -> dict:
    catalogue = json.loads((CATALOGUES / f"{stem}.json").read_text(encoding="utf-8"))
    return {
        "id": f"16fd2706-8baf-433b-82eb-8c7fada847d{number}",
        "name": catalogue["name"],
        "catalogue_version": number + 1,
        "catalogue": catalogue,
    }


def receipt_for(request: Request) -> tuple[int, str, str]:
    """What the server answers to a seal: status, type, body."""
    parts = urlsplit(request.url).path.split("/")
    raw = request.post_data_buffer or b""
    receipt = {
        "schema": "shankline-receipt-1",
        "id": parts[3],
        "sha256": hashlib.sha256(raw).hexdigest(),
        "bytes": len(raw),
        "received_at": "2026-11-25T12:58:00+00:00",
        "outcome": "ordered",
        "order": {"id": parts[3], "state": "sent", "revision": 1},
        "says": None,
        "photos": [],
    }
    return 200, "application/json", json.dumps(receipt)


@dataclass
class MadeUpPhotos:
    """Takes photos in parts and holds each whole against its hash, as the server does."""

    have: dict[str, bytes] = field(default_factory=dict)
    whole: dict[str, str] = field(default_factory=dict)  # hash: kept or set_aside
    parts: list[tuple[str, int]] = field(default_factory=list)  # every part that was asked to be taken
    cut: Callable[[str, int], bool] = lambda _sha256, _offset: False
    unreadable: Callable[[str], bool] = lambda _sha256: False

    def state(self, sha256: str) -> str:
        return self.whole.get(sha256, "missing")

    def route(self, route: Route, path: str) -> None:
        sha256 = path.split("/")[3]
        if route.request.method == "PUT":
            offset = int(path.rsplit("/", 1)[1])
            self.parts.append((sha256, offset))
            if self.cut(sha256, offset):
                route.abort()
                return
            self.take(sha256, offset, route.request)
        state = self.whole.get(sha256, "partial" if self.have.get(sha256) else "unknown")
        route.fulfill(json={"sha256": sha256, "have": len(self.have.get(sha256, b"")), "state": state})

    def take(self, sha256: str, offset: int, request: Request) -> None:
        total = int(urlsplit(request.url).query.removeprefix("bytes="))
        before = self.have.get(sha256, b"")
        assert offset == len(before), "it went on from where the server said"
        self.have[sha256] = before + (request.post_data_buffer or b"")
        if len(self.have[sha256]) == total:
            assert hashlib.sha256(self.have[sha256]).hexdigest() == sha256
            self.whole[sha256] = "set_aside" if self.unreadable(sha256) else "kept"


@dataclass
class MadeUpServer:
    """Answers the page's calls and keeps what it was sent, in the order in which it came."""

    seals: list[tuple[str, bytes]] = field(default_factory=list)
    visits: list[dict] = field(default_factory=list)
    orders: list[dict] = field(default_factory=list)
    cards: list[dict] = field(default_factory=list)
    photos: MadeUpPhotos = field(default_factory=MadeUpPhotos)
    came: list[str] = field(default_factory=list)  # "seal" or "photo"
    to_seal: Callable[[Request], tuple[int, str, str]] | None = None
    signed_in: bool = True
    reachable: bool = True
    member: str = "m-1"
    cut: set[str] = field(default_factory=set)  # modules below js/ that the link brings no more, one by one
    language: str = "en"  # the member's own settings
    units: str = ""
    forgotten: set[str] = field(default_factory=set)  # hashes of seals that a restored server lacks
    now: str = "2026-11-25T13:00:00+00:00"

    def route(self, route: Route) -> None:
        path = unquote(urlsplit(route.request.url).path)
        if path.startswith("/api/"):
            self.api(route, path)
        elif path == "/visits/":
            html = render_sheet(self.language, PREFIX, *([] if self.cut else [FIRST]))
            headers = {"Content-Security-Policy": POLICY}
            route.fulfill(body=html, content_type="text/html; charset=utf-8", headers=headers)
        elif path.removeprefix(f"{PREFIX}js/") in self.cut:
            route.abort()
        elif path == "/design/":
            headers = {"Content-Security-Policy": POLICY}
            route.fulfill(
                body=render_design(PREFIX), content_type="text/html; charset=utf-8", headers=headers
            )
        elif path == f"{PREFIX}{book_file(self.language)}":
            with translation.override(self.language):
                route.fulfill(json=load_book().to_json(look_up=translation.gettext))
        elif (name := path.removeprefix(f"{PREFIX}js/sheet/")) in scripts():
            route.fulfill(body=scripts()[name], content_type="text/javascript")
        else:
            self.file(route, STATIC / path.removeprefix(PREFIX))

    def file(self, route: Route, file: Path) -> None:
        if not file.is_file():
            route.fulfill(status=404, body="")
            return
        kind = "text/javascript" if file.suffix == ".js" else mimetypes.guess_type(file.name)[0]
        route.fulfill(body=file.read_bytes(), content_type=kind or "application/octet-stream")

    def api(self, route: Route, path: str) -> None:
        if not self.reachable:
            route.abort()
        elif not self.signed_in:
            problem = json.dumps({"type": "about:blank", "title": "Signed out", "status": 401})
            route.fulfill(status=401, content_type="application/problem+json", body=problem)
        elif path == "/api/phone":
            route.fulfill(json=self.phone())
        elif path == "/api/phone/key":
            key = {"member": self.member, "key": f"key of {self.member}", "until": "2026-12-24T12:00:00Z"}
            route.fulfill(json=key)
        elif path == "/api/phone/have":
            route.fulfill(json=self.have(route.request.post_data_json))
        elif path == "/api/visits":
            self.visits.append(route.request.post_data_json)
            route.fulfill(status=201, json=route.request.post_data_json)
        elif path.startswith("/api/photos/"):
            self.came.append("photo")
            self.photos.route(route, path)
        else:
            self.came.append("seal")
            self.seals.append((path, route.request.post_data_buffer or b""))
            status, kind, body = (self.to_seal or self.receipt)(route.request)
            route.fulfill(status=status, content_type=kind, body=body)

    def receipt(self, request: Request) -> tuple[int, str, str]:
        """The receipt of a seal with its photos: it waits while one of them is missing."""
        status, kind, body = receipt_for(request)
        named = [photo["sha256"] for photo in json.loads(request.post_data_buffer)["photos"]]
        states = {sha256: self.photos.state(sha256) for sha256 in named}
        photos = [{"sha256": sha256, "state": state} for sha256, state in states.items()]
        waits = {"outcome": "waiting", "order": None} if "missing" in states.values() else {}
        return status, kind, json.dumps(json.loads(body) | {"photos": photos} | waits)

    def have(self, asked: dict) -> dict:
        """Everything it is asked about, unless it has forgotten it."""
        here = [seal["sha256"] for seal in asked["seals"] if seal["sha256"] not in self.forgotten]
        return {"seals": here, "photos": asked["photos"], "now": self.now}

    def phone(self) -> dict:
        return {
            "csrf": "token",
            "member": {
                "id": self.member,
                "name": "Demo",
                "initials": "DC",
                "role": "clinician",
                "language": self.language,
                "units": self.units,
            },
            "organisation": {"id": "o-1", "name": "Northfell Mobile Limb Clinic"},
            "workshops": [workshop("tarn-street-moulding-room", 0), workshop("quayside-forming", 1)],
            "visits": [{**PLANNED, "planned_for": "2026-11-25T15:30:00+00:00"}],
            "orders": self.orders,
            "cards": self.cards,
        }


class Phone:
    """One phone: a browser context of its own, the made-up server, and the taps that several tests share."""

    def __init__(self, page: Page, server: MadeUpServer) -> None:
        self.page, self.server = page, server
        self.faults: list[str] = []
        self.pressed: list[tuple[str, str]] = []  # the field, and what its Next said
        page.set_default_timeout(PATIENCE_MS)
        page.on("pageerror", lambda fault: self.faults.append(str(fault)))
        page.on("console", self.listen)
        page.route("**/*", server.route)

    def listen(self, message) -> None:
        if "Content Security Policy" in message.text:
            self.faults.append(message.text)

    def open(self, place: str = "") -> None:
        self.page.goto(f"{ORIGIN}/visits/{place}")
        self.page.wait_for_selector("main[data-view]")

    def next(self) -> None:
        self.painted()
        words = self.page.inner_text(".foot .next, .new-visit .next").strip()
        self.pressed.append((self.page.get_attribute("main", "data-field") or "", words))
        self.page.click(".foot .next, .new-visit .next")

    def at(self, key: str) -> None:
        """Waits until the field with this key, or "check", is shown."""
        self.page.wait_for_selector(f"main[data-field='{key}']")

    def choose(self, label: str) -> None:
        self.page.click(f"label.choice:has-text('{label}')")
        self.painted()

    def begin(self, reference: str = "NF-0147") -> None:
        self.open("#new")
        self.page.fill("#reference", reference)
        self.page.fill("#initials", "L. H.")
        self.next()
        self.at("side")

    def to_length(self, reference: str = "NF-0147") -> None:
        """A new visit, answered as far as the length; units are cm."""
        self.begin(reference)
        for key, label in (
            ("side", "Left"),
            ("knee.pivots_seen", "One pin"),
            ("foot.profile", "Only the pylon"),
        ):
            self.at(key)
            self.choose(label)
            self.next()
        self.at("foot.ankle")
        self.choose("Solid")
        self.next()
        self.past_marks()
        self.at("length")

    def until(self, expression: str, argument: Any = None) -> None:
        """Waits until an expression is true. Playwright's own way needs eval, which the page's policy forbids."""
        for _try in range(PATIENCE_MS // 50):
            if self.page.evaluate(expression, argument):
                return
            self.page.wait_for_timeout(50)
        raise AssertionError(f"never true: {expression}")

    def type(self, text: str) -> None:
        """Types as a hardware keyboard would, after emptying the field."""
        self.page.fill("input.typed", "")
        self.page.type("input.typed", text)
        self.painted()

    def painted(self) -> None:
        """Waits until what a key leaves for after the next two frames is shown: what follows from it, and the drawing."""
        self.page.evaluate(FRAMES, PATIENCE_MS)

    def to_check(self, length: str = "39.4", girth: str = "38.5", reference: str = "NF-0147") -> None:
        """The plain case, up to check and send."""
        self.to_length(reference)
        self.type(length)
        self.next()
        self.at("girth")
        self.type(girth)
        self.next()
        self.at("workshop")
        self.choose("Tarn Street")
        self.next()
        self.at("shell.rear")
        self.choose("Short")
        self.next()
        self.past_photos()

    def take_up(self, part: str, label: str, key: str) -> None:
        """From any field to another, by the ruler."""
        self.page.click(f".ruler button:has-text('{part}')")
        self.page.click(f".part-row:has-text('{label}')")
        self.at(key)

    def past_marks(self) -> None:
        """Over the step in which the places are marked."""
        self.at("marks")
        self.next()

    def past_photos(self) -> None:
        """From the last field of the shell over the photos, none taken, to the check."""
        self.at("photos")
        self.next()
        self.at("check")

    def send(self) -> None:
        self.page.click(".docked .button.next")


@pytest.fixture
def phone(twins_page) -> Iterator[Callable[..., Any]]:
    """Runs a function with a fresh `Phone`, 412 x 915 unless told otherwise, and wants no fault on its page."""
    contexts = []

    def run(walk: Callable[[Phone], Any], width: int = 412, height: int = 915, **server) -> Any:
        def on_thread(shared: Page) -> Any:
            context = shared.context.browser.new_context(
                viewport={"width": width, "height": height}, locale="en-GB", timezone_id="Europe/London"
            )
            contexts.append(context)
            one = Phone(context.new_page(), MadeUpServer(**server))
            answer = walk(one)
            assert one.faults == []
            return answer

        return twins_page(on_thread)

    yield run
    for context in contexts:
        twins_page(lambda _shared, context=context: context.close())
