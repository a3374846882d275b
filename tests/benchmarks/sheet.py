"""The measuring sheet in Chromium as on a phone: 412 × 915, processor four times slower, 1.6 Mbit/s and 150 ms.

What goes over the wire is counted by the browser itself (Chrome DevTools Protocol, Network.loadingFinished: headers
and compressed body). *At first* is everything that the page asks for until its first field is shown, its script
has taken it over and nothing more is asked for before the worker is there; what the worker and the rest bring in the
background comes *besides*. Times are the browser's own (Paint Timing, Event Timing, Long Tasks, Layout Instability).
A figure is the median of three phones, each with nothing in its cache; bytes are the most of them.
"""

import statistics
from collections.abc import Iterator
from urllib.parse import urlsplit

from playwright.sync_api import Browser, Page

from tests.benchmarks import served
from tests.benchmarks.timing import Figure

PHONES = 3
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
        yield from of_the_wire([phone["came"] for phone in phones], [phone["kept"] for phone in phones])
        yield from of_the_opening(phones)
        yield from of_the_use(phones)


def middle(phones: list[dict], name: str) -> float:
    return statistics.median(phone[name] for phone in phones)


def of_the_wire(came: list[list[tuple[str, int]]], kept: list[int]) -> Iterator[Figure]:
    """Bytes and requests."""
    at_first = max(came, key=lambda one: sum(count for _path, count in one))
    for path, count in at_first:
        print(f"    {count:7d}  {path.rsplit('/', 1)[-1] or path}")
    script = [count for path, count in at_first if path.endswith(".js")]
    first = next(count for path, count in at_first if path.endswith("/bundle.js"))
    data = [count for path, count in at_first if path.startswith("/api/")]
    yield Figure("requests at first", len(at_first), "", 10)
    yield Figure("over the wire at first", (sum(c for _p, c in at_first) - sum(data)) / 1000, "kB", 72)
    yield Figure("  of it the first script", first / 1000, "kB", 31)
    yield Figure("  of it all scripts, what draws and reckons too", sum(script) / 1000, "kB")
    yield Figure("  the clinic's own data besides", sum(data) / 1000, "kB")
    yield Figure("what the worker keeps besides, compressed", max(kept) / 1000, "kB", 145)


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
    yield Figure("what moves as a part opens under the thumb, counted too", middle(phones, "part_shift"), "")
    yield Figure("script heap, less an empty page's", middle(phones, "heap") / 1e6, "MB", 1.6)


def first_visit(chromium: Browser, address: str, state: dict) -> dict:
    """One phone, from its first load to a reading, then again with no signal."""
    context, page = served.new_phone(chromium, address, state)
    page.add_init_script(WATCH)
    wire = Wire(page)
    page.goto("/worker.js")  # text, with no script of ours: what the browser and this test themselves take
    page.wait_for_selector("body")
    empty = heap(wire)
    wire.bytes.clear()
    page.goto("/visits/#new")
    page.wait_for_selector("main[data-view='new']")
    until(page, "Boolean(navigator.serviceWorker.controller)")
    told = {"came": at_first(wire.came()), **opened(page)}
    told["kept"] = kept_besides(page, {path for path, _count in told["came"]})
    told |= measured(page)
    told["heap"] = heap(wire) - empty
    told["offline"] = opened_offline(page, wire)
    context.close()
    return told


def until(page: Page, expression: str) -> None:
    """Waits until an expression is true; Playwright's own way needs eval, which the page's policy forbids."""
    for _try in range(served.PATIENCE_MS // 100):
        if page.evaluate(expression):
            return
        page.wait_for_timeout(100)
    raise RuntimeError(f"never true: {expression}")


def at_first(came: list[tuple[str, int]]) -> list[tuple[str, int]]:
    """Up to where the worker is asked for."""
    paths = [path for path, _count in came]
    return came[: paths.index("/worker.js")] if "/worker.js" in paths else came


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


def kept_besides(page: Page, came: set[str]) -> int:
    """Compressed bytes of what the worker's cache holds and the page had not asked for by itself."""
    kept = page.evaluate("""async () => {
      const paths = [];
      for (const name of await caches.keys())
        for (const request of await (await caches.open(name)).keys()) paths.push(new URL(request.url).pathname);
      return paths;
    }""")
    total = 0
    for path in set(kept) - came:
        answer = page.context.request.get(path, headers={"Accept-Encoding": "br"})
        total += int(answer.headers.get("content-length", len(answer.body())))
    return total


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


def heap(wire: Wire) -> float:
    """Bytes in use by the page's script, after a collection."""
    wire.session.send("HeapProfiler.collectGarbage")
    return wire.session.send("Runtime.getHeapUsage")["usedSize"]


def opened_offline(page: Page, wire: Wire) -> float:
    """From navigation until the reading's field is there, with no signal. [ms]"""
    page.wait_for_timeout(2000)
    page.context.set_offline(True)
    page.add_init_script(WATCH_TYPED)
    page.reload()
    until(page, "told.typed")
    return page.evaluate("told.typed")
