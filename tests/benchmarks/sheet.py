"""The measuring sheet in Chromium as on a phone: 412 × 915, processor four times slower, 1.6 Mbit/s and 150 ms.

What goes over the wire is counted by the browser itself (Chrome DevTools Protocol, Network.loadingFinished: headers
and compressed body). *The page itself* is everything that it brings from the server from its first load until a plain
case is drawn, reckoned and checked; what it takes from the worker's cache is not in it. *The worker* brings the rest in
the background while the first form is filled in, drawings, rule book and reckoning among it; here the form is done once
the worker is there, after some two seconds, sooner than two names are typed. A hastier hand makes the page bring what it
needs then, and the worker takes that from the browser's cache: *in all* stays the same. Times are the browser's own
(Paint Timing, Event Timing, Long Tasks, Layout Instability). A figure is the median of three phones, each with
nothing in its cache; bytes are the most of them. The heap is that of a tab of its own, opened at a reading; of it the
machine code is told apart, which the browser makes, or drops, as it sees fit.
"""

import json
import re
import statistics
from collections.abc import Callable, Iterator
from urllib.parse import urlsplit

from playwright.sync_api import Browser, BrowserContext, Page

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
AT_LENGTH = "document.querySelector('main').dataset.field === 'length'"
SENDABLE = "Boolean(document.querySelector('.docked .button.next'))"
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
    own = (middle(phones, "heap") - middle(phones, "machine_code")) / 1e6
    yield Figure("script heap, less an empty page's", middle(phones, "heap") / 1e6, "MB")
    yield Figure("  of it what the page's script holds", own, "MB", 1.6)
    yield Figure(
        "  of it machine code, which the browser makes as it runs", middle(phones, "machine_code") / 1e6, "MB"
    )


def first_visit(chromium: Browser, address: str, state: dict) -> dict:
    """One phone, from its first load to a reading, then again with no signal."""
    context, page = served.new_phone(chromium, address, state)
    page.add_init_script(WATCH)
    wire = Wire(page)
    page.goto("/visits/#new")
    until(page, "Boolean(document.querySelector(\"main[data-view='new']\"))")  # by no selector: see `until`
    until(page, "Boolean(navigator.serviceWorker.controller)")
    told = opened(page)
    told |= measured(page)
    told["came"] = wire.came()
    told["kept"] = kept_besides(page, {path for path, _count in told["came"]})
    told["offline"] = opened_offline(page, told["reading"])
    context.set_offline(False)
    page.close()  # or it would have the visit in hand
    told |= heap_of_a_tab(context, told["reading"])
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


def tap(page: Page, selector: str, words: str = "") -> None:
    """Taps the first thing that the selector finds, of those that say these words. By no locator: see `until`."""
    found = f"[...document.querySelectorAll({selector!r})].find((one) => one.innerText.includes({words!r}))"
    until(page, f"Boolean({found})")
    where = f"""(() => {{
      const one = {found};
      one.scrollIntoView({{ block: "nearest" }});
      const {{ x, y, width, height }} = one.getBoundingClientRect();
      return [x + width / 2, y + height / 2];
    }})()"""
    page.touchscreen.tap(*page.evaluate(where))


def next_to(page: Page, field: str) -> None:
    tap(page, ".foot .next, .new-visit .next")
    until(page, f"document.querySelector('main').dataset.field === {field!r}")


def type_anew(page: Page, text: str) -> None:
    """Types a reading in the place of the one that stands there, as a hardware keyboard would."""
    page.keyboard.press("Control+A")
    page.keyboard.type(text, delay=120)


class Watched:
    """What is told while the sheet is used: of each step, once all of it is painted."""

    def __init__(self, page: Page) -> None:
        self.page, self.tasks, self.quiet = page, [0.0], 0.0

    def step(self, act: Callable[[], None]) -> dict:
        """Does something; gives what was told of it."""
        reset(self.page)
        act()
        told = settled(self.page)
        self.tasks += [task["duration"] for task in told["tasks"]]
        self.quiet += untouched(told)
        return told


PLAIN = (
    ("Left", "knee.pivots_seen"),
    ("One pin", "foot.profile"),
    ("Only the pylon", "foot.ankle"),
    ("Solid", "marks"),
)
CHOSEN_LAST = (("Tarn Street", "shell.rear"), ("Short", "photos"))


def measured(page: Page) -> dict:
    """The plain case with a length that the checks question and a part opened, to where all of it is checked."""
    watched = Watched(page)
    page.evaluate("document.querySelector('#reference').focus()")
    page.keyboard.type("NF-0990")
    page.keyboard.press("Tab")
    page.keyboard.type("Q. X.")
    watched.step(lambda: next_to(page, "side"))
    for words, then in PLAIN:
        watched.step(lambda words=words: tap(page, "label.choice", words))
        watched.step(lambda then=then: next_to(page, then))
    watched.step(lambda: next_to(page, "length"))
    reading = page.url
    taps = [watched.step(lambda key=key: tap(page, ".keypad .key", key)) for key in ("3", "9")]
    typed = watched.step(lambda: page.keyboard.type(".37", delay=120))
    # A length of 16 cm is hardly one, of 16 in it is: the key that makes it 16 raises the question which is meant.
    watched.step(lambda: type_anew(page, "1"))
    asked = watched.step(
        lambda: (page.keyboard.type("6"), until(page, "Boolean(document.querySelector('.hand .question'))"))
    )
    # One of 6 cm is none, and may be the beginning of one that is: that is told once the hand has come to rest.
    told = watched.step(
        lambda: (type_anew(page, "6"), until(page, "Boolean(document.querySelector('.field-flag'))"))
    )
    watched.step(lambda: type_anew(page, "39.37"))
    opened_part = watched.step(lambda: tap(page, ".fold summary"))
    watched.step(lambda: next_to(page, "girth"))
    watched.step(lambda: page.keyboard.type("38.5", delay=120))
    watched.step(lambda: next_to(page, "workshop"))
    for words, then in CHOSEN_LAST:
        watched.step(lambda words=words: tap(page, "label.choice", words))
        watched.step(lambda then=then: next_to(page, then))
    watched.step(lambda: (next_to(page, "check"), until(page, SENDABLE)))
    return {
        "reading": reading, "key": max(map(slowest, [*taps, typed])), "flag": slowest(asked),
        "flag_shift": shift(asked) + shift(told),
        "part_shift": shift(opened_part), "use_task": max(watched.tasks), "use_shift": watched.quiet,
    }  # fmt: skip


def opened_offline(page: Page, reading: str) -> float:
    """From navigation until a reading's field is there, with no signal. [ms]"""
    page.goto(reading)
    until(page, AT_LENGTH)
    page.wait_for_timeout(2000)
    page.context.set_offline(True)
    page.add_init_script(WATCH_TYPED)
    page.reload()
    until(page, "told.typed")
    return page.evaluate("told.typed")


def heap_of_a_tab(context: BrowserContext, reading: str) -> dict:
    """Bytes in use by the script of a tab of its own, opened at a reading, once that is typed anew and the whole is drawn
    and checked; of them, the machine code that the browser made of what was called often."""
    page = context.new_page()
    page.set_default_timeout(served.PATIENCE_MS)
    wire = Wire(page)
    page.goto("/worker.js")  # text, with no script of ours: what the browser itself takes
    until(page, "document.readyState === 'complete'")
    empty = heap(wire)
    page.goto(reading)
    until(page, AT_LENGTH)
    type_anew(page, "39.37")
    until(
        page,
        "Boolean(document.querySelector('.drawing svg')) && document.querySelector('.means').innerText.includes('393.7')",
    )
    page.evaluate("location.hash = location.hash.replace(/[^/]*$/, 'check')")
    until(page, SENDABLE)
    return {"heap": heap(wire) - empty, "machine_code": machine_code(wire)}


def heap(wire: Wire) -> float:
    """Bytes in use by the page's script, after a collection."""
    wire.session.send("HeapProfiler.collectGarbage")
    return wire.session.send("Runtime.getHeapUsage")["usedSize"]


def machine_code(wire: Wire) -> float:
    """Bytes of the heap that are machine code, by a snapshot of it."""
    parts: list[str] = []
    wire.session.on("HeapProfiler.addHeapSnapshotChunk", lambda told: parts.append(told["chunk"]))
    wire.session.send("HeapProfiler.takeHeapSnapshot")
    taken = json.loads("".join(parts))
    fields = taken["snapshot"]["meta"]["node_fields"]
    nodes, name, size = taken["nodes"], fields.index("name"), fields.index("self_size")
    named = taken["strings"].index("system / InstructionStream")
    return sum(nodes[at + size] for at in range(0, len(nodes), len(fields)) if nodes[at + name] == named)
