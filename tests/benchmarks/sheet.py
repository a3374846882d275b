"""The measuring sheet in Chromium as on a phone: 412 × 915, processor four times slower, 1.6 Mbit/s and 150 ms.

What goes over the wire is counted by the browser itself (Chrome DevTools Protocol, Network.loadingFinished: headers
and compressed body). *The page itself* is everything that it brings from the server from its first load until a plain
case is drawn, reckoned and checked; what it takes from the worker's cache is not in it. *The worker* brings the rest in
the background while the first form is filled in, drawings, rule book and reckoning among it; here the form is done once
the worker is there, after some two seconds, sooner than two names are typed. A hastier hand makes the page bring what it
needs then, and the worker takes that from the browser's cache: *in all* stays the same. Times are the browser's own
(Paint Timing, Event Timing, Long Tasks, Layout Instability). A figure is the median of three phones, each with
nothing in its cache; bytes are the most of them.
"""

import re
import statistics
from collections.abc import Iterator
from urllib.parse import urlsplit

from playwright.sync_api import Browser, Page

from tests.benchmarks import served
from tests.benchmarks.timing import Figure

PHONES = 3
# Of the files those without which no plain case gets to the check; check and send is in bundle-save_file.js.
NEEDED = re.compile(r"/(page\.css|book-en\.json|bundle(-(pictures|reckoning|save_file))?\.js)$")
SLOWED = 4
LINK = {"offline": False, "latency": 150, "downloadThroughput": 1.6e6 / 8, "uploadThroughput": 0.75e6 / 8}

# Told of in the page. `field` is the first frame at which the first field is there to type into; `taken`, when the
# script had it. A layout shift counts whether or not a tap or key came before it.
WATCH = """
globalThis.told = { shifts: [], tasks: [], events: [], paint: 0, field: 0, taken: 0 };
const note = (type, act, more) =>
  new PerformanceObserver((list) => list.getEntries().forEach(act)).observe({ type, buffered: true, ...more });
note("layout-shift", ({ value, startTime, hadRecentInput, sources }) => {
  const of = sources.map(({ node }) => node?.className ?? node?.nodeName);
  told.shifts.push({ value, startTime, hadRecentInput, of });
});
note("longtask", ({ duration, startTime }) => told.tasks.push({ duration, startTime }));
note("event", ({ name, duration }) => told.events.push({ name, duration }), { durationThreshold: 16 });
note("paint", ({ name, startTime }) => {
  if (name === "first-contentful-paint") told.paint = startTime;
});
const look = () => {
  const field = document.querySelector("#reference");
  if (!told.field && told.paint && field?.checkVisibility()) told.field = performance.now();
  if (!told.taken && document.querySelector("main[data-view]")) told.taken = performance.now();
  if (!told.taken) requestAnimationFrame(look);
};
requestAnimationFrame(look);
"""
# When a reading's field is there, on a page that is opened anew.
WATCH_TYPED = """
const seen = () => {
  if (document.querySelector("input.typed")) told.typed = performance.now();
  else requestAnimationFrame(seen);
};
requestAnimationFrame(seen);
"""


class Wire:
    """What the page asked for, by address, with the bytes that came over the wire."""

    def __init__(self, page: Page) -> None:
        self.session = page.context.new_cdp_session(page)
        self.urls: dict[str, str] = {}
        self.bytes: dict[str, int] = {}
        self.session.on("Network.requestWillBeSent", self.sent)
        self.session.on("Network.loadingFinished", self.finished)
        self.session.on("Network.requestServedFromCache", lambda told: self.urls.pop(told["requestId"], None))
        self.session.send("Network.enable")
        self.session.send("Network.emulateNetworkConditions", LINK)
        self.session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})

    def sent(self, told: dict) -> None:
        self.urls[told["requestId"]] = urlsplit(told["request"]["url"]).path

    def finished(self, told: dict) -> None:
        if told["requestId"] in self.urls and told["encodedDataLength"]:
            self.bytes[told["requestId"]] = int(told["encodedDataLength"])

    def came(self) -> list[tuple[str, int]]:
        """(path, bytes) of each, in their order."""
        return [(self.urls[key], count) for key, count in self.bytes.items()]


def figures() -> Iterator[Figure]:
    """Yields them as they are measured."""
    with served.demo() as address, served.browser() as chromium:
        state = served.cookies(chromium, address)
        phones = [first_visit(chromium, address, state) for _ in range(PHONES)]
        yield from of_the_wire(phones)
        yield from of_the_opening(phones)
        yield from of_the_use(phones)


def middle(phones: list[dict], name: str) -> float:
    return statistics.median(phone[name] for phone in phones)


def of_the_wire(phones: list[dict]) -> Iterator[Figure]:
    """Bytes and requests, of the phone that brought most."""
    most = max(phones, key=lambda one: sum(count for _path, count in one["came"]))
    came, kept = most["came"], most["kept"]
    for by, files in (("page", came), ("worker", sorted(kept.items(), key=lambda one: -one[1]))):
        for path, count in files:
            print(f"    {by:6} {count:7d}  {path.rsplit('/', 1)[-1] or path}")
    own = [(path, count) for path, count in came if not path.startswith("/api/")]
    data = sum(count for path, count in came if path.startswith("/api/"))
    itself, besides = sum(count for _path, count in own), sum(kept.values())
    every = dict(own) | kept
    needed = sum(count for path, count in every.items() if path == "/visits/" or NEEDED.search(path))
    yield Figure("requests of the page itself, until a plain case is checked", len(came), "", 10)
    yield Figure("over the wire by the page itself, until then", itself / 1000, "kB", 72)
    yield Figure("  of it the first script", size_ending(every, "/bundle.js") / 1000, "kB", 31)
    yield Figure("what the worker brings besides and keeps, compressed", besides / 1000, "kB", 145)
    yield Figure("in all, page and worker", (itself + besides) / 1000, "kB")
    yield Figure("  of it what a plain case is drawn, reckoned and checked with", needed / 1000, "kB")
    yield Figure("the clinic's own data besides", data / 1000, "kB")


def size_ending(files: dict[str, int], ending: str) -> int:
    """Bytes of the files whose path ends so."""
    return sum(count for path, count in files.items() if path.endswith(ending))


def of_the_opening(phones: list[dict]) -> Iterator[Figure]:
    """From navigation."""
    yield Figure("first field shown and taking keys", middle(phones, "field"), "ms", 700)
    yield Figure("its script has taken it over", middle(phones, "taken"), "ms")
    yield Figure("longest task after the first paint", middle(phones, "task"), "ms", 50)
    yield Figure("layout shift until then", middle(phones, "opening_shift"), "", 0)
    yield Figure("opened again with no signal, at a reading", middle(phones, "offline"), "ms", 300)


def of_the_use(phones: list[dict]) -> Iterator[Figure]:
    """While measuring."""
    yield Figure("a key of a reading until it is painted, the slowest", middle(phones, "key"), "ms", 50)
    yield Figure(
        "the key that raises what the checks say, until it is painted", middle(phones, "flag"), "ms", 50
    )
    yield Figure("longest task while measuring", middle(phones, "use_task"), "ms", 50)
    yield Figure(
        "layout shift while measuring, as Layout Instability counts it", middle(phones, "use_shift"), "", 0
    )
    yield Figure(
        "what moves as a flag appears, half a second after a key counted too",
        middle(phones, "flag_shift"),
        "",
    )
    yield Figure(
        "what moves as a part opens under the thumb, counted too", middle(phones, "part_shift"), "", 0
    )
    yield Figure("script heap, less an empty page's", middle(phones, "heap") / 1e6, "MB", 1.6)


def first_visit(chromium: Browser, address: str, state: dict) -> dict:
    """One phone, from its first load to a reading, then again with no signal."""
    context, page = served.new_phone(chromium, address, state)
    page.add_init_script(WATCH)
    wire = Wire(page)
    page.goto("/worker.js")  # text, with no script of ours: what the browser itself takes
    until(page, "document.readyState === 'complete'")
    empty = heap(wire)
    wire.bytes.clear()
    page.goto("/visits/#new")
    until(page, "Boolean(document.querySelector(\"main[data-view='new']\"))")  # by no selector: see `until`
    until(page, "Boolean(navigator.serviceWorker.controller)")
    told = opened(page)
    told |= measured(page)
    reading = page.url
    to_check(page)
    told["came"] = wire.came()
    told["kept"] = kept_besides(page, {path for path, _count in told["came"]})
    page.goto(reading)
    page.wait_for_selector("main[data-field='length']")
    told["offline"] = opened_offline(page)
    told["heap"] = measured_by_keys(page, wire) - empty
    context.close()
    return told


def until(page: Page, expression: str) -> None:
    """Waits until an expression is true. Playwright's own ways need eval, which the page's policy forbids, or put a
    third of a megabyte of its script into the page, which takes as long as our own."""
    for _try in range(served.PATIENCE_MS // 100):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(100)
    raise RuntimeError(f"never true: {expression}")


def opened(page: Page) -> dict:
    """Times of the first load, in ms from navigation."""
    told = page.evaluate("told")
    after = [task["duration"] for task in told["tasks"] if task["startTime"] > told["paint"]]
    return {
        "field": told["field"],
        "taken": told["taken"],
        "task": max(after, default=0),
        "opening_shift": sum(shift["value"] for shift in told["shifts"]),
    }


def kept_besides(page: Page, came: set[str]) -> dict[str, int]:
    """Compressed bytes of what the worker's cache holds and the page has not brought itself, headers too, by path."""
    kept = page.evaluate("""async () => {
      const paths = [];
      for (const name of await caches.keys())
        for (const request of await (await caches.open(name)).keys()) paths.push(new URL(request.url).pathname);
      return paths;
    }""")
    return {path: size_of(page, path) for path in set(kept) - came}


def size_of(page: Page, path: str) -> int:
    """Bytes of one answer, as HTTP/1.1 sends it."""
    answer = page.context.request.get(path, headers={"Accept-Encoding": "br"})
    headers = sum(len(one["name"]) + len(one["value"]) + 4 for one in answer.headers_array)
    return headers + int(answer.headers.get("content-length", len(answer.body())))


def reset(page: Page) -> None:
    page.evaluate("for (const list of [told.shifts, told.tasks, told.events]) list.length = 0")


def settled(page: Page) -> dict:
    """What was told since the last reset, once all of it is painted."""
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 400)))")
    return page.evaluate("told")


def slowest(told: dict) -> float:
    return max((event["duration"] for event in told["events"]), default=0)


def shift(told: dict) -> float:
    for one in told["shifts"]:
        print(f"    shifted {one['value']:.4f}: {one['of']}")
    return sum(one["value"] for one in told["shifts"])


def untouched(told: dict) -> float:
    """What moved without a tap or a key in the half second before, as the Layout Instability API counts."""
    return sum(one["value"] for one in told["shifts"] if not one["hadRecentInput"])


def next_to(page: Page, field: str) -> None:
    page.locator(".foot .next, .new-visit .next").first.tap()
    page.wait_for_selector(f"main[data-field='{field}']")


def measured(page: Page) -> dict:
    """The plain case up to the length, a length that the checks question, a part opened."""
    page.fill("#reference", "NF-0990")
    page.fill("#initials", "Q. X.")
    next_to(page, "side")
    page.wait_for_selector(".drawing svg")
    tasks, quiet = [], 0.0
    for words, then in (
        ("Left", "knee.pivots_seen"),
        ("One pin", "foot.profile"),
        ("Only the pylon", "foot.ankle"),
        ("Solid", "marks"),
    ):
        reset(page)
        page.locator("label.choice", has_text=words).first.tap()
        next_to(page, then)
        told = settled(page)
        tasks += [task["duration"] for task in told["tasks"]]
        quiet += untouched(told)
    next_to(page, "length")
    reset(page)
    for key in ("3", "9"):
        page.locator(".keypad .key", has_text=key).first.tap()
    page.locator("input.typed").press_sequentially(".37", delay=120)
    told = settled(page)
    keys, tasks = slowest(told), tasks + [task["duration"] for task in told["tasks"]]
    quiet += untouched(told)
    # A length of 16 cm is hardly one, of 16 in it is: the key that makes it 16 raises the question which is meant.
    page.locator("input.typed").fill("1")
    settled(page)
    reset(page)
    page.locator("input.typed").press_sequentially("6")
    page.wait_for_selector(".hand .question")
    told = settled(page)
    flag, flag_shift = slowest(told), shift(told)
    quiet += untouched(told)
    page.locator("input.typed").fill("39.37")
    settled(page)
    reset(page)
    page.locator(".fold summary").tap()
    told = settled(page)
    part = shift(told)
    quiet += untouched(told)
    return {
        "key": keys, "flag": flag, "flag_shift": flag_shift, "part_shift": part,
        "use_task": max(tasks, default=0), "use_shift": quiet,
    }  # fmt: skip


def to_check(page: Page) -> None:
    """From the length to the end of the plain case, where the checks are shown."""
    next_to(page, "girth")
    page.locator("input.typed").press_sequentially("38.5")
    next_to(page, "workshop")
    page.locator("label.choice", has_text="Tarn Street").first.tap()
    next_to(page, "shell.rear")
    page.locator("label.choice", has_text="Short").first.tap()
    next_to(page, "photos")
    next_to(page, "check")
    page.wait_for_selector(".docked .button.next")


def heap(wire: Wire) -> float:
    """Bytes in use by the page's script, after a collection."""
    wire.session.send("HeapProfiler.collectGarbage")
    return wire.session.send("Runtime.getHeapUsage")["usedSize"]


def opened_offline(page: Page) -> float:
    """From navigation until the reading's field is there, with no signal. [ms]"""
    page.wait_for_timeout(2000)
    page.context.set_offline(True)
    page.add_init_script(WATCH_TYPED)
    page.reload()
    until(page, "told.typed")
    return page.evaluate("told.typed")


def measured_by_keys(page: Page, wire: Wire) -> float:
    """Bytes in use once a reading is typed anew and the whole is drawn and checked, with none of Playwright's script."""
    page.keyboard.press("Control+A")
    page.keyboard.type("39.37")
    until(
        page,
        "document.querySelector('.drawing svg') && document.querySelector('.means')?.innerText.includes('393.7')",
    )
    page.evaluate("location.hash = location.hash.replace(/[^/]*$/, 'check')")
    until(page, "Boolean(document.querySelector('.docked .button.next'))")
    return heap(wire)
