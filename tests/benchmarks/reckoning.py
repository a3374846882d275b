"""One entry reckoned whole, scalars, outline and checks: here, and in Chromium as it is and slowed to a quarter.

Against writing the same entry and its result as JSON and reading them back, as the site does with each; and against
the limits of a phone (1 ms) and of the server (5 ms).
"""

import json
from collections.abc import Iterator

from playwright.sync_api import Page, sync_playwright

from orders.figure import draw, scene_of
from orders.reckon import catalogue_for_phone, reckon
from orders.rulebook.book import load_book
from tests.benchmarks.timing import Figure, ratio, typical_ms
from tests.orders.random_entries import QUAYSIDE, TARN, random_entries
from tests.twins import open_page

SEED, COUNT, ROUNDS = 20261125, 200, 9
SLOWED = 4

# Each round reckons every entry once; the answer is the median round, per entry.
IN_BROWSER = """async ([rows, catalogues, book, rounds]) => {
  const { reckon } = await import("/static/js/book/reckon.js");
  const one = () => {
    const begun = performance.now();
    for (const [entry, workshop] of rows) reckon(entry, catalogues[workshop], book);
    return (performance.now() - begun) / rows.length;
  };
  one();
  return Array.from({ length: rounds }, one).sort((a, b) => a - b)[Math.floor(rounds / 2)];
}"""


def figures() -> Iterator[Figure]:
    """Yields them as they are measured."""
    print(f"  seed {SEED}")
    entries = random_entries(COUNT, SEED)
    results = [reckon(entry, workshop) for entry, workshop in entries]
    yield from on_server(entries, results)
    yield from in_browser(entries)


def on_server(entries: list, results: list) -> Iterator[Figure]:
    """The server's own."""

    def whole() -> None:
        for entry, workshop in entries:
            reckon(entry, workshop)

    def as_json() -> None:
        for (entry, _), result in zip(entries, results, strict=True):
            json.loads(json.dumps([entry, result]))

    yield Figure("an entry reckoned on the server", typical_ms(whole, ROUNDS) / COUNT, "ms", 5)
    yield Figure("an entry reckoned, against its JSON written and read", ratio(whole, as_json, ROUNDS), "×")
    drawn = [
        (entry, result, shop)
        for (entry, shop), result in zip(entries, results, strict=True)
        if result["stations"]
    ]
    some = drawn[:20]

    def drawing() -> None:
        for entry, result, workshop in some:
            draw(scene_of(entry, result, workshop, dims="all", fit=(572, 700)))

    yield Figure("a drawing to scale, both views", typical_ms(drawing, 5) / len(some), "ms", 30)


def in_browser(entries: list) -> Iterator[Figure]:
    """The phone's twin."""
    catalogues = {shop["key"]: catalogue_for_phone(shop) for shop in (TARN, QUAYSIDE)}
    rows = [[entry, shop["key"]] for entry, shop in entries]
    asked = [rows, catalogues, load_book().to_json(), ROUNDS]
    with sync_playwright() as playwright:
        page = open_page(playwright)
        yield Figure("an entry reckoned in Chromium", page.evaluate(IN_BROWSER, asked), "ms", 1)
        slow_down(page)
        value = page.evaluate(IN_BROWSER, asked)
        yield Figure(f"an entry reckoned in Chromium, slowed {SLOWED} times", value, "ms", SLOWED * 1.0)


def slow_down(page: Page) -> None:
    """From now on the page's processor runs at a quarter of its speed."""
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
