"""19: the phone's clock is years off, or is set back in the middle. It decides nothing; it is only shown."""

import re
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Page, expect

from tests.faults.conftest import to_length
from tests.faults.sending.conftest import STORE, Phone, Sealed

TWO_YEARS = timedelta(days=730)

# As if the server had named this seal as received so long ago, by its own clock.
RECEIVED_BEFORE = f"""async ([sha256, days]) => {{
  {STORE}
  const seal = (await readAll("seal/")).find((one) => one.sha256 === sha256);
  const received_at = new Date(Date.parse(seal.receipt.received_at) - days * 86_400_000).toISOString();
  await keep({{ ...seal, receipt: {{ ...seal.receipt, received_at }} }});
}}"""


def set_clock(page: Page, to: datetime) -> None:
    page.clock.set_system_time(to)
    assert abs(page.evaluate("Date.now()") / 1000 - to.timestamp()) < 60


def shows_the_servers_time(one: Phone, server, sealed: Sealed) -> None:
    one.shows(sealed, "received")
    [(received_at,)] = server.ask("select received_at from capture_seal where sha256 = ?", sealed.sha256)
    one.shows(sealed, f"received {received_at[11:16]}")


@pytest.mark.parametrize("off", [-TWO_YEARS, TWO_YEARS], ids=["two years slow", "two years fast"])
def test_a_wrong_clock_changes_neither_order_nor_times_nor_what_is_kept(phone, proxy, server, all_there, off):
    one = phone(timezone_id="UTC")
    one.hold_sending()
    sealed = []
    for number in range(3):  # set back each time: by the clock, the last one is the oldest
        set_clock(one.page, datetime.now(UTC) + off - timedelta(hours=5 * number))
        sealed.append(one.seal(photos=1))
    proxy.came.clear()

    one.let_send()

    for each in sealed:
        shows_the_servers_time(one, server, each)
    texts = [path.split("/")[3] for method, path, _done in proxy.came if "/api/entries/" in path]
    assert texts[:3] == [each.order for each in sealed]

    one.page.evaluate(RECEIVED_BEFORE, [sealed[0].sha256, 15])
    one.page.evaluate(RECEIVED_BEFORE, [sealed[1].sha256, 13])
    one.page.reload()
    one.page.wait_for_selector("main[data-view]")

    # What the server has had for more than 14 days leaves the phone, with its photo: by the server's clock.
    one.until(f"!seals.some(({{ sha256 }}) => sha256 === '{sealed[0].sha256}')")
    one.stored(f"!(await bytesKept()).includes('{sealed[0].photos[0]}')")
    assert {seal["sha256"] for seal in one.records("seal/")} == {each.sha256 for each in sealed[1:]}
    assert {sha256 for each in sealed[1:] for sha256 in (each.sha256, *each.photos)} <= one.holds_bytes()
    all_there(*sealed)


def test_a_clock_set_back_in_the_middle_of_a_draft_loses_nothing(phone):
    page = phone(timezone_id="UTC").page
    set_clock(page, datetime(2028, 11, 26, 15, 20, tzinfo=UTC))
    to_length(page, "NF-0570", "39")
    expect(page.locator(".kept")).to_have_text(re.compile(r"kept 15:2\d"))

    set_clock(page, datetime(2026, 11, 25, 8, 10, tzinfo=UTC))
    page.keyboard.type(".4 cm")
    expect(page.locator(".kept")).to_have_text(re.compile(r"kept 08:1\d"))
    page.reload()
    expect(page.locator("input.typed")).to_have_value("39.4 cm")

    page.evaluate("location.hash = '#visits'")
    to_length(page, "NF-0571", "")
    page.locator(".unit-option", has_text="in").click()
    page.locator("input.typed").press_sequentially("15 1/2")
    set_clock(page, datetime(2026, 11, 24, 8, 10, tzinfo=UTC))
    page.evaluate("location.hash = '#visits'")
    page.locator("a.row", has_text="NF-0570").click()
    expect(page.locator("input.typed")).to_have_value("39.4 cm")
    page.keyboard.press("End")
    page.keyboard.type(" ")
    page.evaluate("location.hash = '#visits'")

    rows = page.locator("#view a.row strong", has_text="NF-057")
    expect(rows).to_have_text(["NF-0570", "NF-0571"])  # changed last comes first, whatever the clock said
    to_length(page, "NF-0572", "")
    expect(page.locator(".unit-option input:checked")).to_have_value(
        "cm"
    )  # of the draft that was changed last
