"""What happens at the server meanwhile: no room, a locked database, an order cancelled or deleted."""

import resource
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager

import pytest
from playwright.sync_api import expect

from tests.faults.sending.conftest import OTHER, PATIENCE_MS, STORE, Phone, Sealed, Server
from tests.faults.sending.proxy import dropped

MADE_OF_A_SEAL = ("orders_photouse", "orders_rival", "orders_revision")
WRITTEN_FOR_GOOD = ("orders_event", "orders_look")


@contextmanager
def no_room(server: Server) -> Iterator[None]:
    """No file of the server's can grow: as on a full disk, every write fails (setrlimit(2), RLIMIT_FSIZE)."""
    before = resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE)
    resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE, (0, before[1]))
    try:
        yield
    finally:
        resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE, before)


@contextmanager
def locked(server: Server) -> Iterator[None]:
    """Somebody else is writing, and doesn't come to an end."""
    with closing(sqlite3.connect(server.var / "shankline.sqlite3", timeout=60)) as database:
        database.execute("begin immediate")
        yield
        database.rollback()


@pytest.mark.skipif(not hasattr(resource, "prlimit"), reason="only Linux limits another process's files")
def test_what_finds_no_room_at_the_server_waits(phone, server, all_there):
    """26, disk full."""
    one = phone()
    sealed = one.seal(photos=1)

    with no_room(server):
        one.wake()
        one.page.wait_for_selector("text=Waits for a signal, then goes by itself")
        one.shows(sealed, "on this phone")
        assert not_stored(server, sealed)

    one.shows(sealed, "received")
    all_there(sealed)


def test_what_finds_the_database_locked_waits(phone, proxy, server, all_there):
    """26, database locked: for longer than the phone has patience."""
    one = phone()
    sealed = one.seal(photos=1)

    with locked(server):
        one.wake()
        one.sees(
            lambda: proxy.count("PUT", f"/api/entries/{sealed.order}/") > 1, "given up once, and sent again"
        )
        assert [seal["state"] for seal in one.records("seal/")] == ["waiting"]
        assert not_stored(server, sealed)

    one.shows(sealed, "received")
    all_there(sealed)


def not_stored(server: Server, sealed: Sealed) -> bool:
    return server.ask("select 1 from capture_seal where sha256 = ?", sealed.sha256) == []


def make_wait_again(one: Phone) -> None:
    """As if the phone had never heard that its seal was received."""
    again = "await keep({ ...seal, state: 'waiting', receipt: null })"
    one.page.evaluate(f"async () => {{ {STORE} for (const seal of await readAll('seal/')) {again}; }}")


def test_an_order_cancelled_at_the_office_stays_so_when_it_comes_again(phone, proxy, server, all_there):
    """22."""
    one = phone()
    sealed = one.seal(photos=1)
    one.wake()
    one.shows(sealed, "received")
    lead = phone(OTHER).page
    lead.goto(f"{proxy.address}/orders/{sealed.order}/cancel")
    lead.get_by_role("button", name="Cancel the order").click()
    lead.wait_for_url(lambda url: not url.endswith("/cancel"))

    make_wait_again(one)
    one.wake()

    one.until("seals.length === 1 && seals[0].state === 'received'")
    all_there(sealed)
    assert server.ask("select state from orders_order where id = ?", bare(sealed)) == [("cancelled",)]


def test_an_order_deleted_at_the_office_is_not_taken_again(phone, server):
    """22: the phone keeps it, and says what the office did."""
    one = phone()
    sealed = one.seal(photos=1)
    one.wake()
    one.shows(sealed, "received")
    delete_at_the_office(server, sealed)

    make_wait_again(one)
    one.wake()

    one.shows(sealed, "needs attention")
    expect(one.page.locator("#view")).to_contain_text(
        "This order was deleted at the office. It is not taken again.", timeout=PATIENCE_MS
    )
    assert server.ask("select 1 from orders_order where id = ?", bare(sealed)) == []
    assert server.ask("select 1 from capture_seal where order_id = ?", bare(sealed)) == []
    assert {sealed.sha256, *sealed.photos} <= one.holds_bytes()


def test_what_could_not_be_sent_is_taken_in_from_a_file_and_still_only_once(phone, proxy, server, all_there):
    """From the phone to the office's page; the phone, which has not heard of it, sends it once more later."""
    one = phone()
    proxy.when("PUT", "/api/", dropped)
    sealed = [one.seal(photos=2), one.seal(photos=1)]
    one.page.evaluate("location.hash = '#sign-out'")
    with one.page.expect_download() as saved:
        one.page.get_by_role("button", name="Save as a file").click()

    desk = phone(OTHER).page
    desk.goto(f"{proxy.address}/take-in/")
    desk.locator("main input[type=file]").set_input_files(saved.value.path())
    desk.get_by_role("button", name="Take it in").click()

    for each in sealed:
        row = desk.locator("main li", has_text=each.reference)
        expect(row).to_contain_text("Received, and with the workshop.", timeout=PATIENCE_MS)
    all_there(*sealed)
    one.visits()
    for each in sealed:
        one.shows(each, "on this phone")
    proxy.mend()
    one.wake()
    for each in sealed:
        one.shows(each, "received")
    all_there(*sealed)


def bare(sealed: Sealed) -> str:
    """The order's id as SQLite holds it."""
    return sealed.order.replace("-", "")


def delete_at_the_office(server: Server, sealed: Sealed) -> None:
    """Deletes the order with all that hangs on it, but for what is written once: events hold ids and hashes only."""
    with closing(sqlite3.connect(server.var / "shankline.sqlite3", timeout=60)) as database, database:
        tables = [name for (name,) in database.execute("select name from sqlite_master where type = 'table'")]
        seals = "select id from capture_seal where order_id = ?"
        for table in MADE_OF_A_SEAL:
            database.execute(f"delete from {table} where seal_id in ({seals})", (bare(sealed),))
        for table in tables:
            columns = {row[1] for row in database.execute(f"pragma table_info({table})")}
            if "order_id" in columns and table not in WRITTEN_FOR_GOOD:
                database.execute(f"delete from {table} where order_id = ?", (bare(sealed),))
        database.execute("delete from orders_order where id = ?", (bare(sealed),))
