"""The phone's store is full, is closed under the page, or is cleared: text is kept, and what is missing is said."""

import json
import random
from pathlib import Path

from PIL import Image
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE
from tests.faults.conftest import PATIENCE_MS, made_ready, sign_in, to_field, to_length, until
from tests.faults.test_killed import to_photos
from tests.faults.test_versions import at_length, finish_and_send

# The records in the store; where there is none, none is made.
RECORDS = """() => new Promise((done) => {
  const opening = indexedDB.open("shankline");
  opening.onupgradeneeded = () => opening.transaction.abort();
  opening.onerror = () => done([]);
  opening.onsuccess = () => {
    const all = opening.result.transaction("records").objectStore("records").getAll();
    all.onsuccess = () => { opening.result.close(); done(all.result); };
  };
})"""
# What a browser clears of a site when the phone runs short of space: all that is counted as its storage.
EVICTED = "indexeddb,cache_storage,service_workers"


# Another page has the database to itself, for a version that comes to nothing: until it is told that it is enough.
SEIZED = """() => new Promise((seized) => {
  const opening = indexedDB.open("shankline", 2);
  const hold = () => {
    if (globalThis.enough) opening.transaction.abort();
    else opening.transaction.objectStore("records").get("phone").onsuccess = hold;
  };
  opening.onupgradeneeded = () => { hold(); seized(); };
})"""


# Something else of the site's takes all the room that is left, but for a thousand bytes. Gives how often it found some.
FILLED = """async () => {
  const opened = () => new Promise((done) => {
    const opening = indexedDB.open("other");
    opening.onupgradeneeded = () => opening.result.createObjectStore("any", { autoIncrement: true });
    opening.onsuccess = () => done(opening.result);
  });
  const database = await opened();
  const put = (size) => new Promise((done) => {
    const transaction = database.transaction("any", "readwrite");
    const bytes = new Uint8Array(size);
    for (let at = 0; at < size; at += 65536) crypto.getRandomValues(bytes.subarray(at, at + 65536));
    transaction.objectStore("any").put(bytes);
    transaction.oncomplete = () => done(true);
    transaction.onabort = () => done(false);
  });
  let count = 0;
  for (const size of [200_000, 20_000, 1000]) while (await put(size)) count += 1;
  database.close();
  return count;
}"""


def noise(folder: Path, seed: int) -> Path:
    """A photo of some hundred kilobytes, also once it is made smaller: noise can't be."""
    file = folder / f"{seed}.jpg"
    Image.frombytes("RGB", (800, 600), random.Random(seed).randbytes(800 * 600 * 3)).save(file, quality=90)
    return file


def clear(page: Page, what: str = EVICTED) -> None:
    talk = page.context.new_cdp_session(page)
    origin = page.evaluate("location.origin")
    talk.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": what})
    talk.detach()


def is_kept(page: Page, length: str) -> str:
    """An expression: whether the store has a draft with this length."""
    return (
        f"({RECORDS})().then((all) => all.some((one) => one.answers?.length?.[0] === {json.dumps(length)}))"
    )


def type_on(page: Page, more: str) -> None:
    page.locator("input.typed").press("End")
    page.locator("input.typed").press_sequentially(more)


def test_a_full_phone_refuses_photos_and_keeps_text(site, browser, tmp_path):
    """9: the site has four megabytes. Photos take them but for the reserve; then something else takes what is left."""
    context = browser.new_context(viewport=PHONE, base_url=site.address)
    context.set_default_timeout(PATIENCE_MS)
    page = context.new_page()
    talk = context.new_cdp_session(page)
    talk.send("Storage.overrideQuotaForOrigin", {"origin": site.address, "quotaSize": 5_000_000})
    sign_in(page)
    made_ready(page)
    to_photos(page, "NF-0580")

    while page.locator("#photo-says").inner_text() == "":
        before = page.locator(".has-photo").count()
        page.locator("#photo-free").set_input_files(noise(tmp_path, before))
        page.wait_for_function(
            "(before) => document.querySelectorAll('.has-photo').length > before"
            " || document.querySelector('#photo-says').textContent",
            arg=before,
        )
    expect(page.locator("#photo-says")).to_contain_text("no room for the photo")
    assert page.locator(".has-photo").count() == before > 1
    other = context.new_page()
    other.goto("/offline/")
    other.evaluate(FILLED)

    long = "39.4 cm" + " ." * 10_000
    to_field(page, "length")
    page.locator("input.typed").fill(long)
    until(page, is_kept(page, long))
    assert page.locator(".kept.fault").count() == 0
    assert other.evaluate(FILLED) > 0, "text was kept in the room of the reserve"
    page.reload()
    at_length(page, long)

    longer = "39.4 cm" + " ." * 1_500_000  # more than there ever was
    page.locator("input.typed").fill(longer)
    expect(page.locator(".kept.fault")).to_have_text(
        "not kept: this phone's store is full", timeout=PATIENCE_MS
    )
    assert not page.evaluate(is_kept(page, longer))
    talk.send("Storage.overrideQuotaForOrigin", {"origin": site.address, "quotaSize": 30_000_000})
    expect(page.locator(".kept.fault")).to_have_count(0, timeout=PATIENCE_MS)
    until(page, is_kept(page, longer))

    to_field(page, "photos")
    assert page.locator(".has-photo").count() == before
    page.locator("#photo-side").set_input_files(noise(tmp_path, before))
    expect(page.get_by_alt_text("Photo, from the side")).to_be_visible(timeout=PATIENCE_MS)
    context.close()


def test_a_connection_that_is_closed_under_the_page_is_opened_anew(phone):
    page = phone()
    to_length(page, "NF-0583", "39.3")
    other = page.context.new_page()
    other.goto("/offline/")
    other.evaluate(SEIZED)

    type_on(page, "7 cm")
    other.evaluate("globalThis.enough = true")

    until(page, is_kept(page, "39.37 cm"))
    page.reload()
    at_length(page, "39.37 cm")


def test_a_store_cleared_under_the_page_gets_what_the_page_has_in_hand(phone):
    """The browser clears all it keeps of the site. What is open is written anew by itself; what isn't is told."""
    page = phone()
    to_length(page, "NF-0584", "41")
    page.goto("/visits/")
    to_length(page, "NF-0585", "39.3")

    clear(page)

    until(page, is_kept(page, "39.3"))
    page.context.set_offline(True)
    type_on(page, "7 cm")
    page.locator(".whose a").click()
    gone = page.locator(".gone")
    expect(gone).to_contain_text("NF-0584", timeout=PATIENCE_MS)
    expect(gone).not_to_contain_text("NF-0585")
    expect(page.locator("a.row", has_text="NF-0585")).to_be_visible()
    page.context.set_offline(False)
    page.reload()
    expect(gone).to_contain_text("The server has nothing of it", timeout=PATIENCE_MS)
    made_ready(page)
    page.locator("a.row", has_text="NF-0585").click()
    at_length(page, "39.37 cm")
    finish_and_send(page, "NF-0585")


def test_a_store_cleared_while_nothing_is_open_is_told_and_nothing_is_called_received(phone):
    page = phone()
    to_length(page, "NF-0586", "39.4 cm")
    finish_and_send(page, "NF-0586")
    page.get_by_role("button", name="Change and send again").click()
    to_field(page, "length")
    page.locator("input.typed").fill("40 cm")
    until(page, is_kept(page, "40 cm"))
    page.goto("/visits/")
    to_length(page, "NF-0587", "41")
    page.goto("/offline/")

    clear(page)

    page.goto("/visits/")
    told = page.locator(".gone li")
    expect(told).to_have_count(2, timeout=PATIENCE_MS)
    expect(told.filter(has_text="NF-0586")).to_contain_text("The server has it as it was last received")
    expect(told.filter(has_text="NF-0587")).to_contain_text("The server has nothing of it")
    assert page.locator(".row-state.received").count() == 0
    page.get_by_role("button", name="I have read it").click()
    expect(told).to_have_count(0)
    page.goto("/offline/")

    clear(page, "all")

    sign_in(page)
    made_ready(page)
    assert page.locator(".row-state.received").count() == 0
    assert page.locator("a.row", has_text="NF-0587").count() == 0
