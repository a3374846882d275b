"""The page, or the whole phone, is gone within a moment of a key. What was said to be kept is there again."""

import random
import re
import time

from playwright.sync_api import Page, expect

from fixtures_demo.pictures import photo
from tests.faults.conftest import to_field, to_length, until
from tests.faults.handset import Handset

LONGEST_S = 0.1
SEED = 20261125


def typed_again(handset: Handset, page: Page, reference: str) -> str:
    """What stands in the field after the visit is opened from the list."""
    handset.open()
    page.locator("a.row", has_text=reference).click()
    page.wait_for_selector("main[data-field='length']")
    return page.input_value("input.typed")


def rounds(request, few: int, many: int) -> range:
    return range(many if request.config.getoption("--long") else few)


def test_a_page_killed_within_a_moment_of_a_key_has_kept_it(handset, request):
    chance = random.Random(SEED)
    text = "1"
    to_length(handset.page, "NF-0560", text)
    for turn in rounds(request, 5, 60):
        key = chance.choice("0123456789")
        wait = chance.uniform(0, LONGEST_S)
        handset.page.keyboard.press(key)
        text += key
        time.sleep(wait)  # the moment itself
        handset.kill_page()

        page = handset.new_page()
        assert typed_again(handset, page, "NF-0560") == text, (SEED, turn, wait)


def test_a_phone_without_battery_has_what_it_said_was_kept(handset, request):
    """The whole browser is killed: only the key whose writing wasn't over may be missing, and nothing is half written."""
    chance = random.Random(SEED)
    text = "1"
    to_length(handset.page, "NF-0561", text)
    for turn in rounds(request, 3, 40):
        key = chance.choice("0123456789")
        handset.page.keyboard.press(key)
        handset.page.keyboard.press("5")
        wait = chance.uniform(0, LONGEST_S)
        time.sleep(wait)
        handset.kill()

        page = handset.begin()
        found = typed_again(handset, page, "NF-0561")
        assert found in {text, text + key, text + key + "5"}, (SEED, turn, wait)
        text = found
        page.locator("input.typed").press("End")


# What the store holds of the draft in hand: only a transaction that is complete can be read.
KEPT = """() => new Promise((done, fail) => {
  const opening = indexedDB.open("shankline", 1);
  opening.onerror = () => fail(opening.error);
  opening.onsuccess = () => {
    const all = opening.result.transaction("records").objectStore("records").getAll();
    all.onsuccess = () => {
      opening.result.close();
      done(all.result.find(({ key }) => key.startsWith("draft/")).answers.length[0]);
    };
  };
})"""


def test_what_is_kept_outlives_the_phone(handset):
    """Once the store has it, it is on the disk: the browser is killed in the very next moment."""
    to_length(handset.page, "NF-0562", "39")
    handset.page.keyboard.type(".4 cm")
    until(handset.page, f"({KEPT})().then((length) => length === '39.4 cm')")
    handset.kill()

    assert typed_again(handset, handset.begin(), "NF-0562") == "39.4 cm"


def to_photos(page: Page, reference: str) -> None:
    to_length(page, reference, "39.4 cm")
    to_field(page, "photos")


def test_a_page_gone_while_the_camera_is_open_comes_back_to_the_same_place(handset, tmp_path):
    """A phone short of memory drops the page behind its camera. The photo is taken once more; nothing else is gone."""
    picture = tmp_path / "side.jpg"
    picture.write_bytes(photo("T-9", "side", length_mm=371))
    to_photos(handset.page, "NF-0563")
    with handset.page.expect_file_chooser():
        handset.page.locator("label[for='photo-side']").click()
    handset.kill_page()

    page = handset.new_page()
    handset.open()
    page.locator("a.row", has_text="NF-0563").click()
    page.wait_for_selector("main[data-field='photos']")
    page.locator("#photo-side").set_input_files(picture)
    expect(page.get_by_alt_text("Photo, from the side")).to_be_visible()
    page.locator("a.back").click()
    page.wait_for_selector("main[data-field]")

    page.goto(re.sub(r"/[^/]*$", "/length", page.url))
    expect(page.locator("input.typed")).to_have_value("39.4 cm")


def test_a_page_gone_while_a_photo_is_made_smaller_has_it_whole_or_not_at_all(handset, tmp_path, request):
    chance = random.Random(SEED)
    picture = tmp_path / "side.jpg"
    picture.write_bytes(photo("T-9", "side", length_mm=372))
    to_photos(handset.page, "NF-0564")
    for turn in rounds(request, 2, 20):
        wait = chance.uniform(0, LONGEST_S)
        handset.page.locator("#photo-side").set_input_files(picture)
        time.sleep(wait)
        handset.kill_page()

        page = handset.new_page()
        handset.open()
        page.locator("a.row", has_text="NF-0564").click()
        page.wait_for_selector("main[data-field='photos']")
        if page.locator(".has-photo").count():
            image = page.get_by_alt_text("Photo, from the side")
            page.wait_for_function(
                "(image) => image.complete && image.naturalWidth > 0", arg=image.element_handle()
            )
            page.get_by_role("button", name="Remove: from the side").click()
            page.wait_for_selector(".has-photo", state="detached")
        assert page.get_by_role("alert").all_inner_texts() == [""], (SEED, turn, wait)
