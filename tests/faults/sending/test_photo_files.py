"""24: what a camera or a folder may hand over. What is wrong is said at the photo; what is good arrives upright."""

import base64
from pathlib import Path

from playwright.sync_api import Page, expect

from tests.browser.test_plain_case import answer_the_plain_case, new_visit
from tests.capture.photos.pictures import (
    BLUE,
    CORNERS,
    GREEN,
    GREY,
    RED,
    alike,
    corner_colours,
    corners,
    encoded,
    seen,
)
from tests.capture.photos.test_child import with_orientation
from tests.faults.conftest import to_field
from tests.faults.sending.conftest import PATIENCE_MS

HEIC = Path(__file__).resolve().parents[2] / "capture" / "photos" / "corners.heic"
NONE = "is no photo. Take or choose a JPEG, PNG, WebP or HEIC picture."
AS_TAKEN = "This phone can't open the picture to make it smaller. It is kept, and sent as it was taken."

# What the server keeps of a photo, as its page gets it, in base64.
KEPT = """async (sha256) => {
  const answer = await fetch(`/photos/${sha256}/1600`);
  const bytes = new Uint8Array(await answer.arrayBuffer());
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
}"""


def written(folder: Path) -> Path:
    """The files. Exif 2.32, 4.6.4: orientation 6 is held so that the first row is the right-hand side."""
    made = {
        "large.jpg": encoded(corners(8000, 6000), quality=90),
        "turned.jpg": encoded(corners(640, 480), exif=with_orientation(6)),
        "renamed.jpg": encoded(corners(800, 600), "PNG"),
        "leg.heic": HEIC.read_bytes(),  # stored lying, to be turned by its irot
        "notes.jpg": b"Girth 38.5 cm, length 39.4 cm.",
        "empty.jpg": b"",
    }
    for name, raw in made.items():
        (folder / name).write_bytes(raw)
    return folder


def take(page: Page, view: str, file: Path, says: str = "") -> None:
    """Chooses a file for a view, and waits for what is said at its place."""
    page.locator(f"#photo-{view}").set_input_files(file)
    place = page.locator(f"li[data-view='{view}']").last
    expect(place.get_by_role("status")).to_have_text("", timeout=PATIENCE_MS)
    expect(place.get_by_role("alert")).to_have_text(says)


def test_every_file_is_told_from_a_photo_and_every_photo_arrives_upright(phone, server, tmp_path):
    files = written(tmp_path)
    one = phone()
    page = one.page
    new_visit(page, "NF-0580")
    answer_the_plain_case(page)
    to_field(page, "photos")

    take(page, "front", files / "notes.jpg", f"“notes.jpg” {NONE}")
    take(page, "front", files / "large.jpg")
    take(page, "side", files / "turned.jpg")
    take(page, "knee", files / "renamed.jpg")
    take(page, "foot", files / "leg.heic", AS_TAKEN)
    take(page, "free", files / "empty.jpg", f"“empty.jpg” {NONE}")
    expect(page.locator(".has-photo .name")).to_have_text(
        ["from the front", "from the side", "knee, near", "foot, near"]
    )
    to_field(page, "check")
    page.locator(".docked .button.next").click()
    expect(page.locator(".docked")).to_contain_text("received", timeout=PATIENCE_MS)

    [seal] = one.records("seal/")
    sent = {photo["view"]: photo for photo in seal["photos"]}
    assert sent["front"]["bytes"] <= 300_000
    turned = (BLUE, RED, GREY, GREEN)
    for view, size, colours in (
        ("front", (1600, 1200), CORNERS),
        ("side", (480, 640), turned),
        ("knee", (800, 600), CORNERS),
        ("foot", (64, 96), CORNERS),
    ):
        assert server.ask("select state from capture_photo where sha256 = ?", sent[view]["sha256"]) == [
            ("kept",)
        ]
        image = seen(base64.b64decode(page.evaluate(KEPT, sent[view]["sha256"])))
        assert image.size == size, view
        assert alike(corner_colours(image), colours, within=20), view
