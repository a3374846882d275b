"""One entry reckoned whole, scalars, outline and checks: here, and in Chromium as it is and slowed to a quarter.

Against writing the same entry and its result as JSON and reading them back, as the site does with each; and against
the limits of a phone (1 ms) and of the server (5 ms) on a machine that does nothing else.
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

# Each round reckons every entry once, then writes and reads each with its result; the answer is the median round, per
# entry, and how many times as long as the JSON that took.
IN_BROWSER = """async ([rows, catalogues, book, rounds]) => {
  const { reckon } = await import("/static/js/book/reckon.js");
  const timed = (act) => {
    const begun = performance.now();
    for (const row of rows) act(row);
    return (performance.now() - begun) / rows.length;
  };
  const results = new Map(rows.map((row) => [row, reckon(row[0], catalogues[row[1]], book)]));
  const one = () => {
    const reckoned = timed(([entry, workshop]) => reckon(entry, catalogues[workshop], book));
    return [reckoned, reckoned / timed((row) => JSON.parse(JSON.stringify([row[0], results.get(row)])))];
  };
  one();
  const made = Array.from({ length: rounds }, one);
  return [0, 1].map((n) => made.map((round) => round[n]).sort((a, b) => a - b)[Math.floor(rounds / 2)]);
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
    yield Figure(
        "an entry reckoned, against its JSON written and read", ratio(whole, as_json, ROUNDS), "×", 40
    )
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
        yield from of_page(page, asked, "in Chromium", 1)
        slow_down(page)
        yield from of_page(page, asked, f"in Chromium, slowed {SLOWED} times", SLOWED * 1.0)


def of_page(page: Page, asked: list, where: str, most_ms: float) -> Iterator[Figure]:
    """What a page takes for an entry."""
    ms, times = page.evaluate(IN_BROWSER, asked)
    yield Figure(f"an entry reckoned {where}", ms, "ms", most_ms)
    yield Figure(f"an entry reckoned {where}, against its JSON written and read there", times, "×", 40)


def slow_down(page: Page) -> None:
    """From now on the page's processor runs at a quarter of its speed."""
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
