"""The phone's page in Chromium against the real server: with no signal, while typing, and while it sends a day's visits.

The page's processor is slowed four times where it says so, or the processor time of its tasks is taken four times; the
worker and the store run beside it at full speed.
"""

import io
import json
import statistics
import time
from collections.abc import Iterator
from typing import TYPE_CHECKING

from PIL import Image
from playwright.sync_api import Browser, CDPSession, Page, sync_playwright

from fixtures_demo.pictures import photo
from tests.benchmarks.own_site import own_site
from tests.benchmarks.timing import Figure
from tests.browser.conftest import PHONE
from tests.browser.test_plain_case import new_visit
from tests.capture.photos.pictures import encoded, noise_jpeg
from tests.faults.conftest import made_ready, to_field, to_length
from tests.faults.sending.proxy import Act, Proxy, Request, Way, cut_at, dropped, response
from tests.twins import CHROMIUM, CHROMIUM_ARGS

if TYPE_CHECKING:  # its factories need Django's settings, which are chosen first
    from tests.faults.sending.conftest import Phone, Sealed

SLOWED = 4
OPENINGS, KEYS = 15, 40
VISITS, PHOTOS, PHOTO_PX, CUTS = 20, 4, 430, 4
PART_KB, MOST_KB = 256 * 1024 / 1000, 300

# When the first field was there: its place in the page is named, and its first choice can be tapped. It tells by itself:
# asking by a selector puts a third of a megabyte of Playwright's script into the page, which takes as long as our own.
FIRST_FIELD = """
document.addEventListener("DOMContentLoaded", () => {
  const look = () => {
    const there = document.querySelector("main[data-field] .choice, main[data-field] input");
    if (!there) return;
    looking.disconnect();
    requestAnimationFrame(() => setTimeout(() => {
      window.firstField = performance.now();
      console.debug("the first field is there");
    }));
  };
  const looking = new MutationObserver(look);
  looking.observe(document, { subtree: true, childList: true, attributes: true });
  look();
});
"""
# From each key until the frame after it is drawn, by the page's own clock.
KEY_TIMES = """() => {
  window.keyTimes = [];
  addEventListener("keydown", ({ timeStamp }) => {
    requestAnimationFrame(() => setTimeout(() => keyTimes.push(performance.now() - timeStamp)));
  }, true);
}"""
# Tasks of more than 50 ms (Long Tasks API, W3C).
LONG_TASKS = """() => {
  window.longTasks = [];
  new PerformanceObserver((list) => list.getEntries().forEach(({ duration }) => longTasks.push(duration)))
    .observe({ type: "longtask" });
}"""
# Holds the store's records in one long transaction, so that whoever wants to write waits. Each step asks the site and
# waits for it, which takes time and no processor.
HOLD_STORE = """() => new Promise((done, fail) => {
  const opening = indexedDB.open("shankline", 1);
  opening.onerror = () => fail(opening.error);
  opening.onsuccess = () => {
    const store = opening.result.transaction("records", "readwrite").objectStore("records");
    const again = () => {
      if (window.released) return opening.result.close();
      const call = new XMLHttpRequest();
      call.open("GET", "/api/slow", false);
      call.send();
      store.get("none").onsuccess = again;
    };
    window.released = false;
    store.get("none").onsuccess = () => { again(); done(); };
  };
})"""


def late(way: Way, request: Request) -> None:
    """An answer that takes its time."""
    time.sleep(0.1)
    way.answer(response("204 Nothing", b"", {}))


class Counting(Proxy):
    """A way that also notes the size of each body: (method, path, bytes)."""

    def __post_init__(self) -> None:
        self.sizes: list[tuple[str, str, int]] = []
        super().__post_init__()

    def act_for(self, request: Request) -> Act:
        self.sizes.append((request.method, request.path, len(request.body)))
        return super().act_for(request)


def figures() -> Iterator[Figure]:
    """Yields them as they are measured, with a site and a browser of their own."""
    with own_site(tables=False) as folder, sync_playwright() as playwright:
        from tests.faults.sending.conftest import Phone, Server

        server = Server(folder)
        server.start()
        proxy = Counting(server.port)
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=list(CHROMIUM_ARGS))
        try:
            context = browser.new_context(viewport=PHONE, locale="en-GB")
            phone = Phone(context.new_page(), proxy, server)
            phone.sign_in()
            made_ready(phone.page)
            yield from opening(phone.page)
            proxy.when("GET", "/api/slow", late)
            yield from typing(phone.page)
            proxy.mend()
            yield photo_figure(phone)
            yield from sending(phone, proxy, browser)
        finally:
            browser.close()
            proxy.close()
            server.stop()


def slow(page: Page, times: float) -> CDPSession:
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": times})
    return session


def opening(page: Page) -> Iterator[Figure]:
    """A visit begun, then the page is opened anew with no signal."""
    new_visit(page, "NF-0590")
    page.add_init_script(FIRST_FIELD)
    page.context.set_offline(True)
    took: dict[int, list[float]] = {1: [], SLOWED: []}
    worked = []
    for _ in range(OPENINGS):
        for times, values in took.items():
            session = slow(page, times)
            before = processor_ms(session)
            with page.expect_console_message(lambda message: "first field" in message.text):
                page.reload(wait_until="commit")
            values.append(page.evaluate("() => window.firstField"))
            if times == 1:
                worked.append(processor_ms(session) - before)
            session.detach()
    page.context.set_offline(False)
    what = "with no signal, until the first field is there"
    yield Figure(f"{what}, slowed {SLOWED} times", statistics.median(took[SLOWED]), "ms", 300)
    yield Figure(f"{what}, at full speed", statistics.median(took[1]), "ms")
    yield Figure("the page's processor time for that, at full speed", statistics.median(worked), "ms")


def processor_ms(session: CDPSession) -> float:
    """What the page's main thread has worked so far. [ms]"""
    session.send("Performance.enable")
    metrics = {one["name"]: one["value"] for one in session.send("Performance.getMetrics")["metrics"]}
    return metrics["ThreadTime"] * 1000


def typing(page: Page) -> Iterator[Figure]:
    """Keys with the store free and held up by turns, by another page, for as long as that lasts."""
    page.evaluate("location.hash = '#visits'")
    to_length(page, "NF-0591", "")
    other = page.context.new_page()
    other.goto(page.url.split("#")[0])
    other.wait_for_selector("main[data-view]")
    page.bring_to_front()
    slow(page, SLOWED)
    page.evaluate(KEY_TIMES)
    took: dict[str, list[float]] = {"free": [], "held": []}
    for _ in range(5):
        for store, values in took.items():
            if store == "held":
                other.evaluate(HOLD_STORE)
            page.evaluate("() => { keyTimes.length = 0; }")
            for key in "39.4 cm"[: KEYS // 5]:
                page.keyboard.press(key)
            page.wait_for_function("() => keyTimes.length >= 7")
            values += page.evaluate("() => keyTimes")
            other.evaluate("() => { window.released = true; }")
            page.locator("input.typed").fill("")
    slow(page, 1)
    other.close()
    free, held = statistics.median(took["free"]), statistics.median(took["held"])
    yield Figure(f"a key answered, slowed {SLOWED} times", free, "ms", 50)
    yield Figure("the same while nothing can be saved, against that", held / free, "×", 1.25)


def sending(phone: "Phone", proxy: Counting, browser: Browser) -> Iterator[Figure]:
    """A day's visits, sealed with no way out; then there is one."""
    page = phone.page
    phone.visits()
    proxy.when("PUT", "/api/", dropped)
    sealed = [phone.seal(photos=[noise_jpeg(PHOTO_PX) for _ in range(PHOTOS)]) for _ in range(VISITS)]
    proxy.mend()
    proxy.sizes.clear()
    browser.start_tracing(page=page, categories=["toplevel"])
    phone.wake()
    all_received(phone, sealed)
    tasks = task_ms(json.loads(browser.stop_tracing()))

    what = f"of the page while {VISITS} visits with {PHOTOS} photos each are sent, times {SLOWED}"
    yield Figure(f"longest task {what}", SLOWED * max(tasks), "ms", 50)
    yield Figure(f"tasks of more than 50 ms {what}", sum(SLOWED * ms > 50 for ms in tasks), "", 0)
    puts = [(path.split("/")[2:4], size) for method, path, size in proxy.sizes if method == "PUT"]
    first = [order for (kind, order), _size in puts[:VISITS] if kind == "entries"]
    yield Figure("texts sent out of their order of age, or after a photo", out_of_order(first, sealed), "", 0)
    largest = max(size for (kind, _id), size in puts if kind == "photos")
    yield Figure("the largest call with a part of a photo", largest / 1000, "kB", MOST_KB)
    yield from cutting(phone, proxy)


def cutting(phone: "Phone", proxy: Counting) -> Iterator[Figure]:
    """A photo as large as they come, sent as it was taken, on a link that is cut in the middle of a part."""
    large = noise_jpeg(1300)
    proxy.sizes.clear()
    proxy.when("PUT", "/api/photos/", cut_at(0.5), times=CUTS)
    all_received(phone, [sealed_and_sent(phone, large)])
    sent = sum(size for method, path, size in proxy.sizes if method == "PUT" and "/photos/" in path)
    what = f"sent anew for each of {CUTS} cuts in a photo of {len(large) / 1000:.0f} kB"
    yield Figure(what, (sent - len(large)) / CUTS / 1000, "kB", PART_KB)


def sealed_and_sent(phone: "Phone", file: bytes) -> "Sealed":
    sealed = phone.seal(photos=[file])
    phone.wake()
    return sealed


def all_received(phone: "Phone", sealed: list["Sealed"]) -> None:
    """Waits by asking the server, which leaves the page alone, then the page."""
    end = time.monotonic() + 1800
    while any(not phone.server.order_of(one.sha256) for one in sealed):
        if time.monotonic() > end:
            raise AssertionError("not everything was sent")
        phone.page.wait_for_timeout(500)
    phone.until("seals.every(({ state }) => state === 'received')")


def out_of_order(came: list[str], sealed: list["Sealed"]) -> int:
    wanted = [one.order for one in sealed]
    return sum(one != other for one, other in zip(came, wanted, strict=False)) + len(wanted) - len(came)


def task_ms(trace: dict) -> list[float]:
    """Processor time of each task on the main thread of the page's process, from a trace of Chromium's. [ms]"""
    events = trace["traceEvents"]
    names = {
        (event["pid"], event["tid"]): event["args"]["name"]
        for event in events
        if event["name"] == "thread_name"
    }
    tasks = [event for event in events if "RunTask" in event["name"] and "tdur" in event]
    return [
        event["tdur"] / 1000 for event in tasks if names.get((event["pid"], event["tid"])) == "CrRendererMain"
    ]


def photo_figure(phone: "Phone") -> Figure:
    """A detailed picture of 12 megapixels with a sensor's noise, taken into a visit."""
    drawn = Image.open(io.BytesIO(photo("B-1", "side", length_mm=381))).convert("RGB").resize((4000, 3000))
    noisy = Image.blend(drawn, Image.effect_noise((4000, 3000), 60).convert("RGB"), 0.2)
    page = phone.page
    phone.visits()
    to_length(page, "NF-0592", "39.4 cm")
    to_field(page, "photos")
    file = {"name": "side.jpg", "mimeType": "image/jpeg", "buffer": encoded(noisy, quality=90, subsampling=2)}
    page.locator("#photo-side").set_input_files(file)
    page.wait_for_selector(".has-photo")
    kept = phone.records("draft/")
    (bytes_,) = [one["bytes"] for draft in kept for one in draft["answers"].get("photos", [])]
    return Figure(f"a photo of {len(file['buffer']) // 1000} kB as it is sent", bytes_ / 1000, "kB", MOST_KB)
