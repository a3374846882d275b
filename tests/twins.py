"""Run the front end's modules in a real Chromium, so that their twins in Python can be held to them.

    def test_twins_agree(js):
        typed = js("reading/typed.js")              # static/js/reading/typed.js
        assert typed.call("inchesText", 419.1) == "16 1/2"
        assert typed.map("inchesText", [[419.1], [25.4]]) == ["16 1/2", "1"]

One browser serves the whole test session. It lives on a thread of its own: Playwright's event loop would
otherwise sit on the tests' thread, where Django takes it for an async context and refuses every query.
Files come straight from static/ under the policy that the site itself sends, so eval or an inline script
fails here as it would there. Nothing else can be reached.
"""

import mimetypes
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Browser, Page, Route, expect, sync_playwright

STATIC = Path(__file__).resolve().parent.parent / "static"
ORIGIN = "http://twins.invalid"
POLICY = "default-src 'none'; script-src 'self'; connect-src 'self'; style-src 'self'; img-src 'self' blob:"
CHROMIUM = "/usr/bin/chromium-headless-shell"
CHROMIUM_ARGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)

# How long what is expected of a page is waited for: the machine may be busy, and what never comes fails all the same.
expect.set_options(timeout=30_000)

# BigInt has no JSON form: it comes back as its digits.
_CALL = """async ([path, name, rows]) => {
  const module = await import(path);
  if (typeof module[name] !== "function") throw new Error(`${path} exports no function ${name}`);
  const plain = (value) => {
    if (typeof value === "bigint") return value.toString();
    if (Array.isArray(value)) return value.map(plain);
    if (value === null || typeof value !== "object") return value;
    return Object.fromEntries(Object.entries(value).map(([key, part]) => [key, plain(part)]));
  };
  const answers = [];
  for (const row of rows) answers.push(plain(await module[name](...row)));
  return answers;
}"""


@dataclass(frozen=True)
class Module:
    """One module of static/js/, loaded in the browser."""

    path: str
    _on_page: Callable[[Callable[[Page], Any]], Any]

    def map(self, name: str, rows: Sequence[Sequence[Any]]) -> list[Any]:
        """Answers of the exported function `name` to each row of arguments, in one round trip.

        What the function throws is raised here as a playwright Error.
        """
        asked = [f"/static/js/{self.path}", name, [list(row) for row in rows]]
        return self._on_page(lambda page: page.evaluate(_CALL, asked))

    def call(self, name: str, *arguments: Any) -> Any:
        """The exported function's answer to these arguments. BigInt comes back as its digits."""
        return self.map(name, [arguments])[0]

    def evaluate(self, expression: str, argument: Any = None) -> Any:
        """A function expression's answer; it is called with the module and `argument`.

        >>> typed.evaluate("(module, text) => module.strings[text]", "empty")  # doctest: +SKIP
        """
        source = f"async ([path, argument]) => ({expression})(await import(path), argument)"
        asked = [f"/static/js/{self.path}", argument]
        return self._on_page(lambda page: page.evaluate(source, asked))


def _serve(route: Route) -> None:
    path = unquote(urlsplit(route.request.url).path)
    if path == "/":
        html = "<!doctype html><meta charset=utf-8><title>twins</title>"
        route.fulfill(body=html, content_type="text/html", headers={"Content-Security-Policy": POLICY})
        return
    file = (STATIC / path.removeprefix("/static/")).resolve()
    if not (path.startswith("/static/") and file.is_relative_to(STATIC) and file.is_file()):
        route.fulfill(status=404, body=f"no such file: {path}")
        return
    kind = "text/javascript" if file.suffix == ".js" else mimetypes.guess_type(file.name)[0]
    route.fulfill(body=file.read_bytes(), content_type=kind or "application/octet-stream")


@pytest.fixture(scope="session")
def twins_page() -> Iterator[Callable[[Callable[[Page], Any]], Any]]:
    """Runs a function of the one page on the browser's own thread and gives back its answer."""
    with ThreadPoolExecutor(max_workers=1, thread_name_prefix="twins") as thread:
        playwright = thread.submit(lambda: sync_playwright().start()).result()
        try:
            page = thread.submit(open_page, playwright).result()
            yield lambda act: thread.submit(act, page).result()
        finally:
            thread.submit(playwright.stop).result()


def open_page(playwright) -> Page:
    """An empty page in a new browser that reaches nothing but static/, under the site's own policy."""
    return page_of(playwright.chromium.launch(executable_path=CHROMIUM, args=list(CHROMIUM_ARGS)))


def page_of(browser: Browser, **options) -> Page:
    """The same in a browser that there is; `options` as for its new_page, such as ``locale``."""
    page = browser.new_page(**options)
    page.route("**/*", _serve)
    page.goto(f"{ORIGIN}/")
    return page


@pytest.fixture(scope="session")
def js(twins_page) -> Callable[[str], Module]:
    """Loads a module by its path under static/js/: `js("reading/typed.js").call("combine", ...)`."""

    def load(path: str) -> Module:
        if not (STATIC / "js" / path).is_file():
            pytest.fail(f"static/js/{path} does not exist")
        return Module(path, twins_page)

    return load
