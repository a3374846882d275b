"""The queue goes wrong, or right in an odd order: nothing lost, nothing doubled, the shown state true."""

from datetime import date

import pytest
from playwright.sync_api import expect

from tests.faults.sending.conftest import OTHER, PATIENCE_MS
from tests.faults.sending.proxy import answered, cut_at, dropped, repeated

KEY_DROPPED = """() => new Promise((done) => {
  const opening = indexedDB.open("shankline", 1);
  opening.onsuccess = () => {
    const transaction = opening.result.transaction("records", "readwrite");
    transaction.objectStore("records").delete("send_key");
    transaction.oncomplete = () => { opening.result.close(); done(); };
  };
})"""
REFUSAL = b'{"type": "about:blank", "status": 422, "title": "This can\'t be taken."}'


def test_two_tabs_and_eight_parallel_puts_make_one(phone, proxy, all_there):
    """4."""
    one = phone()
    second = one.page.context.new_page()
    second.goto(f"{proxy.address}/visits/")
    second.wait_for_selector("main[data-view]")
    proxy.when("PUT", "/api/entries/", repeated(8), times=2)
    sealed = one.seal(photos=1)

    for page in (one.page, second, one.page, second):
        page.evaluate("dispatchEvent(new Event('online'))")

    one.shows(sealed, "received")
    all_there(sealed)


@pytest.mark.parametrize("where", [0, 1, 0.25, -1], ids=["at 0", "at 1", "at a quarter", "before the last"])
def test_a_photo_that_is_cut_is_resumed(phone, proxy, all_there, where):
    """6."""
    one = phone()
    cut = proxy.when("PUT", "/api/photos/", cut_at(where), times=2)
    sealed = one.seal(photos=1)

    one.wake()

    one.shows(sealed, "received")
    assert cut.met == 2
    all_there(sealed)


def test_what_was_edited_after_half_a_send_is_a_second_revision(phone, proxy, all_there):
    """8: the first one's text is there and its photo is not, when the second one is sealed."""
    one = phone()
    proxy.when("PUT", "/api/photos/", dropped)
    first = one.seal(photos=1)
    one.wake()
    one.shows(first, "sending 1 of 2")

    second = one.seal(
        photos=0,
        length="15 3/4",
        reference=first.reference,
        order=first.order,
        visit=first.visit,
        parent=first.sha256,
    )
    proxy.mend()

    one.until("seals.length === 2 && seals.every(({ state }) => state === 'received')")
    one.shows(second, "received")
    all_there(first, second)


def test_one_bad_item_leaves_four_to_go(phone, proxy, all_there):
    """18: one that is refused, and one that the way never lets through."""
    one = phone()
    proxy.when("PUT", "/api/", dropped)
    sealed = [one.seal() for _ in range(5)]
    proxy.mend()
    proxy.when(
        "PUT",
        f"/api/entries/{sealed[0].order}/",
        answered("422 No", REFUSAL, Content_Type="application/problem+json"),
    )
    proxy.when("PUT", f"/api/entries/{sealed[1].order}/", dropped)

    one.wake()

    for good in sealed[2:]:
        one.shows(good, "received")
    one.shows(sealed[0], "needs attention")
    all_there(*sealed[2:])
    proxy.mend()
    one.shows(sealed[1], "received")
    one.page.get_by_role("button", name="Send it again").click()
    one.shows(sealed[0], "received")
    all_there(*sealed)


def test_a_text_that_arrived_goes_again_only_for_the_last_receipt(phone, proxy, all_there):
    """A bad link carries no text anew in each round that is made for its photos."""

    def sent(beginning: str) -> int:
        return sum(method == "PUT" and path.startswith(beginning) for method, path, _done in proxy.came)

    one = phone()
    proxy.when("PUT", "/api/photos/", dropped)
    sealed = one.seal(photos=1)
    one.wake()
    one.sees(lambda: sent("/api/photos/") > 2, "several rounds for the photo")
    assert sent("/api/entries/") == 1

    proxy.mend()
    one.shows(sealed, "received")
    assert sent("/api/entries/") == 2
    all_there(sealed)


def test_the_queue_goes_by_age(phone, proxy):
    one = phone()
    one.hold_sending()
    sealed = [one.seal() for _ in range(5)]
    proxy.came.clear()

    one.let_send()

    for each in sealed:
        one.shows(each, "received")
    came = [path.split("/")[3] for method, path, _done in proxy.came if method == "PUT"]
    assert came == [each.order for each in sealed]


def test_an_ended_session_holds_nothing_up(phone, proxy, all_there):
    """10: the cookie is gone; the key sends."""
    one = phone()
    proxy.when("PUT", "/api/", dropped)
    sealed = [one.seal(photos=1) for _ in range(3)]
    one.page.wait_for_load_state("networkidle")  # an answer on its way would bring the cookie back
    one.page.context.clear_cookies()
    proxy.mend()

    one.wake()

    for each in sealed:
        one.shows(each, "received")
    all_there(*sealed)
    told = one.page.locator(".signal")  # in the list that stands open all the while
    expect(told).to_contain_text("You are signed out; all is kept.", timeout=PATIENCE_MS)
    expect(told).to_contain_text("What is sealed still goes by itself.")
    expect(told.get_by_role("link", name="Sign in")).to_be_visible()


def test_the_phone_says_until_when_it_sends_by_itself(phone, server):
    """As the server told it, with no signal too; and that it has no key, once it has none."""
    one = phone(timezone_id="UTC")
    ((until,),) = server.ask("select expires_at from project_sendkey order by made_at desc limit 1")
    day = f"{date.fromisoformat(until[:10]):%B %-d, %Y}"
    row = one.page.locator(".ready-row", has_text="signing in again")
    expect(row).to_have_text(
        f"Until {day}, what is sealed goes without signing in again", timeout=PATIENCE_MS
    )

    one.page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    one.page.context.set_offline(True)
    one.page.reload()
    expect(row).to_have_text(
        f"Until {day}, what is sealed goes without signing in again", timeout=PATIENCE_MS
    )

    one.page.evaluate(KEY_DROPPED)
    one.page.reload()
    expect(one.page.locator(".ready-row.no")).to_contain_text(
        "nothing goes from this phone", timeout=PATIENCE_MS
    )


def test_another_person_neither_sees_nor_sends_it(phone, proxy, all_there):
    """11."""
    one = phone()
    proxy.when("PUT", "/api/", dropped)
    sealed = one.seal(photos=1)
    one.forget_session()
    one.sign_in(OTHER)
    proxy.mend()
    proxy.came.clear()

    one.wake()
    theirs = one.seal()
    one.wake()

    one.shows(theirs, "received")
    expect(one.page.locator(f"text={sealed.reference}")).to_have_count(0)
    assert proxy.count("PUT", f"/api/entries/{sealed.order}/") == 0
    one.forget_session()
    one.sign_in()
    one.shows(sealed, "received")
    all_there(sealed, theirs)


def test_another_person_sees_nothing_of_the_first_while_the_server_is_silent(phone, proxy, all_there):
    """11: signed in, but what the page asks next does not come through."""
    one = phone()
    proxy.when("PUT", "/api/", dropped)
    sealed = one.seal()
    one.forget_session()
    proxy.mend()
    proxy.came.clear()
    proxy.when("GET", "/api/phone", dropped)

    one.enter(OTHER)

    for place in (".signal", ".ready-row.no"):  # who is signed in is unknown, not nobody
        told = one.page.locator(place, has_text="to learn who is signed in")
        expect(told).to_be_visible(timeout=PATIENCE_MS)
    expect(one.page.get_by_text("Nobody is signed in")).to_have_count(0)
    expect(one.page.get_by_text(sealed.reference)).to_have_count(0)
    asked = proxy.count("GET", "/api/phone")
    one.wake()
    proxy.wait_for("GET", "/api/phone", asked + 1)
    expect(one.page.get_by_text(sealed.reference)).to_have_count(0)
    assert proxy.count("PUT", f"/api/entries/{sealed.order}/") == 0
    proxy.mend()
    one.forget_session()
    one.sign_in()
    one.shows(sealed, "received")
    all_there(sealed)


def test_two_devices_edit_one_visit_and_both_are_kept(phone, proxy, server):
    """20."""
    one, other = phone(), phone()
    first = one.seal()
    one.wake()
    one.shows(first, "received")
    again = {"reference": first.reference, "order": first.order, "visit": first.visit, "parent": first.sha256}
    other.hold_sending()
    here, there = one.seal(length="15 3/4", **again), other.seal(length="15 7/8", **again)

    one.wake()
    one.sees(lambda: server.order_of(here.sha256), here)  # its visit's row said that it was received before
    other.let_send()

    other.shows(there, "needs attention")
    kept = server.ask("select count(*) from capture_seal where order_id = ?", first.order.replace("-", ""))
    assert kept == [(3,)]
    assert len(server.order_of(here.sha256)) == 1
    assert server.order_of(there.sha256) == []
    assert server.ask("select contested from orders_order where id = ?", first.order.replace("-", "")) == [
        (1,)
    ]


def test_the_same_photo_in_two_places_is_sent_once(phone, proxy, server, all_there):
    """23."""
    one = phone()
    first = one.seal(photos=1)
    one.wake()
    one.shows(first, "received")
    before = proxy.count("PUT", "/api/photos/")
    content = {
        "reference": first.reference,
        "order": first.order,
        "visit": first.visit,
        "parent": first.sha256,
    }
    second = one.seal(same_photos_as=first.photos, length="15 3/4", **content)

    one.wake()

    one.until("seals.length === 2 && seals.every(({ state }) => state === 'received')")
    assert second.photos == first.photos
    assert proxy.count("PUT", "/api/photos/") == before
    all_there(first, second)


def test_a_thin_link_with_resets_gets_it_through(phone, proxy, all_there):
    """25: 6 kB/s, one request in five reset. The parts are small, so that it takes seconds."""
    one = phone()
    proxy.bytes_per_second = 6000
    proxy.when("*", "/api/", dropped, chance=0.2)
    sealed = [one.seal(photos=1) for _ in range(2)]

    one.wake()

    for each in sealed:
        one.shows(each, "received")
    all_there(*sealed)


def test_a_server_restored_from_an_older_backup_gets_the_rest_again(
    phone, proxy, server, all_there, tmp_path
):
    """21."""
    one = phone()
    before = one.seal(photos=1)
    one.wake()
    one.shows(before, "received")
    server.back_up(tmp_path)
    after = [one.seal(photos=1) for _ in range(2)]
    one.wake()
    for each in after:
        one.shows(each, "received")
    server.restore(tmp_path)
    assert server.order_of(after[0].sha256) == []

    one.page.reload()  # the have-list goes at the start

    one.page.wait_for_selector("main[data-view]")
    for each in after:
        one.sees(lambda each=each: server.order_of(each.sha256), each)
    one.until("seals.length === 3 && seals.every(({ state }) => state === 'received')")
    all_there(before, *after)


def test_signing_out_says_how_much_is_unsent_and_keeps_it(phone, proxy, all_there):
    """27."""
    one = phone()
    done = one.seal(photos=1)
    one.wake()
    one.shows(done, "received")
    proxy.when("PUT", "/api/", dropped)
    sealed = one.seal(photos=1)
    one.page.evaluate("location.hash = '#sign-out'")
    expect(one.page.locator("main")).to_contain_text("one isn't received yet", timeout=PATIENCE_MS)
    expect(one.page.locator("main")).to_contain_text(sealed.reference)

    with one.page.expect_download() as saved:
        one.page.get_by_role("button", name="Save as a file").click()
    one.page.get_by_role("button", name="Sign out all the same").click()
    one.page.wait_for_url("**/accounts/login/**")
    proxy.mend()

    parcel = saved.value.path().read_bytes()
    assert sealed.sha256.encode() in parcel.split(b"\n", 1)[0]
    assert saved.value.suggested_filename.endswith(".shankline")
    one.sign_in()
    one.shows(sealed, "received")
    expect(one.page.locator(f"a.row:has-text('{done.reference}')")).to_have_count(0)
    assert set(done.photos) & one.holds_bytes() == set()
    all_there(done, sealed)
