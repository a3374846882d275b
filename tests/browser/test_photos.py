"""Photos from the sheet to the workshop: kept on the phone, sent in parts after the text, resumed after a cut."""

import re

import pytest
from playwright.sync_api import Page, expect

from fixtures_demo.pictures import photo
from tests.browser.conftest import DESK, PHONE
from tests.browser.test_plain_case import (
    CLINICIAN,
    WORKSHOP,
    answer_the_plain_case,
    new_visit,
    order_page,
    send_and_wait,
)

LENGTHS = iter(range(391, 399))  # a leg for each test


@pytest.fixture
def files(tmp_path):
    """Two drawn photos, each test's own, since the site knows again what it has; and a text that calls itself one."""
    length = next(LENGTHS)
    for view in ("side", "front"):
        (tmp_path / f"{view}.jpg").write_bytes(photo("T-1", view, length_mm=length))
    (tmp_path / "notes.jpg").write_text("not a photo")
    return tmp_path


def to_photos(page: Page) -> None:
    page.goto(re.sub(r"#(visit/[^/]+)/.*", r"#\1/photos", page.url))
    page.wait_for_selector("main[data-field='photos']")


def to_check(page: Page) -> None:
    page.goto(re.sub(r"#(visit/[^/]+)/.*", r"#\1/check", page.url))
    page.wait_for_selector("main[data-field='check']")


def take(page: Page, view: str, file) -> None:
    page.locator(f"#photo-{view}").set_input_files(file)


def test_photos_are_kept_sent_and_seen(sign_in, files):
    phone = sign_in(CLINICIAN, PHONE)
    new_visit(phone, "NF-0220")
    answer_the_plain_case(phone)
    to_photos(phone)
    take(phone, "side", files / "side.jpg")
    expect(phone.get_by_alt_text("Photo, from the side")).to_be_visible()
    take(phone, "front", files / "notes.jpg")
    expect(phone.get_by_role("alert")).to_contain_text("“notes.jpg” is no photo.")
    take(phone, "front", files / "side.jpg")
    expect(phone.get_by_role("alert")).to_contain_text("This very photo is here already, from the side.")
    take(phone, "front", files / "front.jpg")
    expect(phone.locator(".has-photo")).to_have_count(2)

    phone.reload()
    expect(phone.locator(".has-photo")).to_have_count(2)
    shown = phone.get_by_alt_text("Photo, from the front").evaluate(
        "image => image.decode().then(() => image.naturalWidth)"
    )
    assert shown > 0

    to_check(phone)
    send_and_wait(phone, "NF-0220")
    desk = sign_in(WORKSHOP, DESK)
    order_page(desk, "NF-0220")
    pictures = desk.locator("main img")
    expect(pictures).to_have_count(2)
    assert all(
        pictures.nth(at).evaluate("image => image.decode().then(() => image.naturalWidth)") for at in (0, 1)
    )


def test_a_photo_cut_on_the_way_is_resumed_and_the_text_went_first(sign_in, files):
    # Playwright sees no request of a page that a worker serves.
    phone = sign_in(CLINICIAN, PHONE, service_workers="block")
    new_visit(phone, "NF-0221")
    answer_the_plain_case(phone)
    to_photos(phone)
    take(phone, "side", files / "side.jpg")
    expect(phone.locator(".has-photo")).to_have_count(1)
    to_check(phone)
    asked, way_out = [], []

    def see(route):
        kind = "photo" if "/photos/" in route.request.url else "text"
        if route.request.method == "PUT":
            asked.append(kind)
        if kind == "photo" and route.request.method == "PUT" and not way_out:
            route.abort()
        else:
            route.continue_()

    phone.route("**/api/**", see)
    phone.locator(".docked .button.next").click()
    expect(phone.locator("body")).to_contain_text("sending 1 of 2")
    for _try in range(100):
        if "photo" in asked:
            break
        phone.wait_for_timeout(100)
    assert asked[0] == "text"
    assert "photo" in asked

    way_out.append("there is one now")
    before = asked.count("photo")
    phone.goto("/visits/")
    expect(phone.locator("a.row", has_text="NF-0221")).to_contain_text("received", timeout=20_000)
    assert asked.count("photo") == before + 1  # the one that was cut, and nothing twice


def test_a_photo_taken_away_is_not_sent(sign_in, files):
    phone = sign_in(CLINICIAN, PHONE)
    new_visit(phone, "NF-0222")
    answer_the_plain_case(phone)
    to_photos(phone)
    take(phone, "knee", files / "side.jpg")
    phone.get_by_role("button", name="Remove: knee, near").click()
    expect(phone.locator(".has-photo")).to_have_count(0)

    to_check(phone)
    send_and_wait(phone, "NF-0222")

    desk = sign_in(WORKSHOP, DESK)
    order_page(desk, "NF-0222")
    expect(desk.locator("main img")).to_have_count(0)
