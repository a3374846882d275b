"""Photos on the phone: taken, kept, refused in words; sent after the text, in parts, shown as received once they are."""

import hashlib
import io
import json

import pytest
from PIL import Image, ImageDraw

from capture.seal import read_seal

from .conftest import MadeUpPhotos

PART = 256 * 1024
BOTH_KEPT = """async () => {
  const { readAll } = await import("/static/testbuild/js/offline/store.js");
  return (await readAll("draft/")).some(({ answers }) => answers.photos?.length && answers.length?.[0] === "39.4");
}"""


def picture(seed: int, size: tuple[int, int] = (640, 480), kind: str = "JPEG") -> bytes:
    """Stripes of their own for each seed."""
    image = Image.new("RGB", size, (seed * 37 % 256, 120, 90))
    pen = ImageDraw.Draw(image)
    for at in range(0, size[0], 16):
        pen.line([(at, 0), (at * seed % size[0], size[1])], fill=(at % 256, seed % 256, 200), width=3)
    out = io.BytesIO()
    image.save(out, kind)
    return out.getvalue()


def not_decodable(size: int, seed: int = 1) -> bytes:
    """Begins as a JPEG and is none: the phone can't shrink it, so it goes as it was taken."""
    return b"\xff\xd8\xff\xe0" + bytes([seed]) * (size - 4)


def to_photos(one) -> None:
    one.page.goto(one.page.url.rsplit("/", 1)[0] + "/photos")
    one.at("photos")


def take(one, view: str, content: bytes, name: str = "leg.jpg") -> None:
    take_file(one, view, {"name": name, "mimeType": "image/jpeg", "buffer": content})


def take_file(one, view: str, file) -> None:
    one.page.set_input_files(f"#photo-{view}", file)
    one.page.wait_for_function("() => document.querySelector('.photos [role=status]').textContent === ''")


def says(one) -> str:
    return one.page.inner_text("#photo-says")


def taken(one) -> list[str]:
    one.page.wait_for_selector("main[data-field='photos'] .photo-places")
    return one.page.locator(".has-photo .name").all_inner_texts()


def to_check_with(one, *photos: tuple[str, bytes]) -> None:
    """The plain case with these photos, (view, bytes) each."""
    one.to_check()
    to_photos(one)
    for view, content in photos:
        take(one, view, content)
    one.page.goto(one.page.url.rsplit("/", 1)[0] + "/check")
    one.page.wait_for_selector(".docked .button.next")


def received(one) -> str:
    one.page.wait_for_selector(".docked:has-text('received 12:58')")
    return one.page.inner_text(".docked p")


def test_photo_is_shrunk_hashed_as_sent_and_there_after_a_reload(phone):
    def walk(one):
        one.to_check()
        to_photos(one)
        take(one, "side", picture(3, (4000, 3000), "PNG"), "leg.png")
        before = taken(one)
        one.page.reload()
        shown = one.page.wait_for_selector(".has-photo img").evaluate(
            "image => image.decode().then(() => [image.naturalWidth, image.naturalHeight, image.src])"
        )
        after = taken(one)
        one.page.goto(one.page.url.rsplit("/", 1)[0] + "/check")
        one.page.wait_for_selector(".docked .button.next")
        one.send()
        received(one)
        return before, after, shown, one.server

    before, after, (width, height, address), server = phone(walk)

    assert before == after == ["from the side"]
    assert address.startswith("blob:")
    assert max(width, height) <= 2000
    assert width / height == pytest.approx(4 / 3, abs=0.002)  # a pixel is rounded
    ((sha256, raw),) = server.photos.have.items()
    (named,) = json.loads(server.seals[-1][1])["photos"]
    assert named == {"sha256": sha256, "bytes": len(raw), "view": "side", "entry": 0}
    assert len(raw) <= 300_000
    assert Image.open(io.BytesIO(raw)).format == "JPEG"


def test_a_photo_on_its_side_is_turned_upright_before_it_goes(phone):
    """EXIF orientation 6: to be turned by 90 degrees (Exif 2.32, 4.6.4 A). The copy without EXIF must stand upright."""
    out = io.BytesIO()
    exif = Image.Exif()
    exif[0x0112] = 6
    Image.open(io.BytesIO(picture(5, (800, 600)))).save(out, "JPEG", exif=exif)

    def walk(one):
        to_check_with(one, ("front", out.getvalue()))
        one.send()
        received(one)
        return next(iter(one.server.photos.have.values()))

    sent = Image.open(io.BytesIO(phone(walk)))

    assert sent.size == (600, 800)
    assert not sent.getexif()


@pytest.mark.parametrize("content", [b"", b"not a photo", b"%PDF-1.7 and so on, for a while"])
def test_a_file_that_is_no_photo_is_refused_in_words(phone, content):
    def walk(one):
        one.begin()
        to_photos(one)
        take(one, "knee", content, "notes.jpg")
        return says(one), taken(one)

    said, photos = phone(walk)

    assert said == "“notes.jpg” is no photo. Take or choose a JPEG, PNG, WebP or HEIC picture."
    assert photos == []


def test_the_same_photo_twice_is_one(phone):
    def walk(one):
        one.begin()
        to_photos(one)
        take(one, "knee", picture(1))
        take(one, "free", picture(1))
        return says(one), taken(one)

    assert phone(walk) == ("This very photo is here already, knee, near.", ["knee, near"])


def test_taken_again_takes_its_place_and_removed_is_gone(phone):
    def walk(one):
        one.begin()
        to_photos(one)
        take(one, "knee", picture(1))
        first = one.page.get_attribute(".has-photo input[type=file]:not([capture])", "id")
        take(one, first.removeprefix("photo-"), picture(2))
        second = one.page.get_attribute(".has-photo input[type=file]:not([capture])", "id")
        both = taken(one)
        one.page.click("button:has-text('Remove')")
        one.page.wait_for_selector(".has-photo", state="detached")
        one.page.reload()
        return first, second, both, taken(one)

    first, second, both, none = phone(walk)

    assert first != second
    assert both == ["knee, near"]
    assert none == []


def test_what_this_phone_cannot_open_is_kept_as_it_was_taken(phone):
    raw = not_decodable(5000)

    def walk(one):
        to_check_with(one)
        to_photos(one)
        take(one, "foot", raw)
        said = says(one)
        shown = one.page.wait_for_selector(".has-photo .example .small").inner_text()
        one.page.goto(one.page.url.rsplit("/", 1)[0] + "/check")
        one.page.wait_for_selector(".docked .button.next")
        one.send()
        received(one)
        return said, shown, one.server.photos.have

    said, shown, have = phone(walk)

    assert (
        said == "This phone can't open the picture to make it smaller. It is kept, and sent as it was taken."
    )
    assert shown == "not shown on this phone"
    assert have == {hashlib.sha256(raw).hexdigest(): raw}


def test_one_larger_than_the_server_takes_is_refused(phone, tmp_path):
    large = tmp_path / "leg.jpg"  # on disk: a buffer of this size is long on its way to a busy browser
    large.write_bytes(not_decodable(20_000_001))

    def walk(one):
        one.begin()
        to_photos(one)
        take_file(one, "foot", large)
        return says(one), taken(one)

    assert phone(walk) == ("This photo is larger than 20 MB. Take it again in a smaller size.", [])


def test_a_photo_that_is_ready_once_another_view_is_open_is_not_lost(phone):
    def walk(one):
        one.to_length()
        to_photos(one)
        file = {"name": "leg.png", "mimeType": "image/png", "buffer": picture(7, (4000, 3000), "PNG")}
        one.page.set_input_files("#photo-side", file)
        one.page.evaluate("() => { location.hash = location.hash.replace('photos', 'length'); }")
        one.at("length")
        one.type("39.4")
        for _try in range(150):
            if one.page.evaluate(BOTH_KEPT):
                break
            one.page.wait_for_timeout(200)
        one.page.reload()
        one.at("length")
        typed = one.page.input_value("input.typed")
        to_photos(one)
        return typed, taken(one)

    assert phone(walk) == ("39.4", ["from the side"])


def test_the_text_goes_first_and_a_cut_part_is_all_that_is_sent_again(phone):
    raw = not_decodable(2 * PART + 1000)
    cut = []

    def cut_once(_sha256, offset):
        if offset == PART and not cut:
            cut.append(offset)
            return True
        return False

    def walk(one):
        to_check_with(one, ("side", raw))
        one.send()
        one.page.wait_for_selector(".docked:has-text('sending 1 of 2')")
        one.page.wait_for_selector(".docked:has-text('Waits for a signal')")
        one.page.evaluate("dispatchEvent(new Event('online'))")
        received(one)
        return one.server

    server = phone(walk, photos=MadeUpPhotos(cut=cut_once))

    assert server.came[0] == "seal"
    assert [offset for _sha256, offset in server.photos.parts] == [0, PART, PART, 2 * PART]
    assert list(server.photos.have.values()) == [raw]
    assert len({raw for _path, raw in server.seals}) == 1, "the same text every time"


def test_every_text_goes_before_any_photo(phone):
    def walk(one):
        to_check_with(one, ("side", picture(1)))
        one.server.reachable = False
        one.send()
        one.page.wait_for_selector(".docked:has-text('Waits for a signal')")
        one.to_check(reference="NF-0148")
        one.send()
        one.page.wait_for_selector(".docked:has-text('Waits for a signal')")
        one.server.reachable = True
        one.page.evaluate("dispatchEvent(new Event('online'))")
        received(one)
        one.page.goto(one.page.url.split("#")[0] + "#visits")
        one.page.wait_for_function("() => document.querySelectorAll('.row-state.received').length === 2")
        return one.server.came

    came = phone(walk)

    assert came[:2] == ["seal", "seal"]
    assert came[2:] == ["photo", "photo", "seal"]


def test_one_photo_that_is_refused_leaves_the_others_their_turn(phone):
    first, second = not_decodable(3000, 1), not_decodable(3000, 2)
    name = hashlib.sha256(first).hexdigest()

    def walk(one):
        to_check_with(one, ("side", first), ("knee", second))
        problem = {"type": "about:blank", "title": "No", "status": 413, "detail": "This photo is too large."}
        one.page.route(
            f"**/api/photos/{name}/parts/**",
            lambda route: route.fulfill(
                status=413, content_type="application/problem+json", body=json.dumps(problem)
            ),
        )
        one.send()
        one.page.wait_for_selector(".docked:has-text('needs attention')")
        return one.page.inner_text(".docked p"), one.server.photos.whole

    said, whole = phone(walk)

    assert "This photo is too large." in said
    assert whole == {hashlib.sha256(second).hexdigest(): "kept"}


def test_a_receipt_that_leaves_out_a_photo_is_none(phone):
    def walk(one):
        to_check_with(one, ("side", picture(1)))
        one.server.to_seal = lambda request: blind(one.server.receipt(request))
        one.send()
        one.page.wait_for_selector(".docked:has-text('Waits for a signal')")
        one.server.to_seal = None
        one.page.evaluate("dispatchEvent(new Event('online'))")
        return received(one)

    def blind(answer):
        status, kind, body = answer
        return status, kind, json.dumps(json.loads(body) | {"photos": [], "outcome": "ordered"})

    assert "With Tarn Street Moulding Room" in phone(walk)


def test_one_that_was_set_aside_is_told_and_marked(phone):
    bad = hashlib.sha256(not_decodable(3000)).hexdigest()

    def walk(one):
        to_check_with(one, ("side", picture(1)), ("knee", not_decodable(3000)))
        one.send()
        one.page.wait_for_selector(".docked:has-text('needs attention')")
        said = one.page.inner_text(".docked p")
        again = one.page.locator("text=Send it again").count()
        to_photos(one)
        one.page.wait_for_selector(".photo-place .attention")
        marked = one.page.inner_text("li:has(.attention) .name")
        one.page.goto(one.page.url.split("#")[0] + "#visits")
        one.page.wait_for_selector(".row-state.attention")
        return said, again, marked, one.page.inner_text("li:has-text('NF-0147') .row-words")

    said, again, marked, row = phone(walk, photos=MadeUpPhotos(unreadable=lambda sha256: sha256 == bad))

    assert "One photo can't be opened; the order went without it" in said
    assert again == 0, "what was received is not sent again"
    assert marked == "knee, near"
    assert "One photo can't be opened" in row


def test_sealed_photos_are_read_by_the_server_as_they_were_taken(phone):
    def walk(one):
        to_check_with(one, ("knee", picture(1)), ("free", picture(2)), ("free", picture(3)))
        one.send()
        received(one)
        return one.server

    server = phone(walk)

    content = read_seal(server.seals[-1][1])
    assert [photo["view"] for photo in content.photos] == ["knee", "free", "free"]
    assert {photo["sha256"]: photo["bytes"] for photo in content.photos} == {
        sha256: len(raw) for sha256, raw in server.photos.have.items()
    }


def to(one, key: str) -> None:
    one.page.goto(one.page.url.rsplit("/", 1)[0] + f"/{key}")
    one.at(key)


def begin_the_other_leg(one) -> None:
    one.to_check()
    for key, label in (("other_leg", "Prosthesis above the knee"), ("girth_from", "Chosen")):
        to(one, key)
        one.choose(label)
    to(one, "check")
    one.page.click("text=Measure the other leg's shell too")
    for key, label in (
        ("knee.pivots_seen", "One pin"),
        ("foot.profile", "Only the pylon"),
        ("foot.ankle", "Solid"),
    ):
        one.at(key)
        one.choose(label)
        one.next()
    one.past_marks()
    one.at("length")
    one.type("40.0")


def test_with_two_shells_each_has_its_own_photos(phone):
    """The same photo may show both legs: it is named for each, and sent once."""

    def walk(one):
        begin_the_other_leg(one)
        to_photos(one)
        take(one, "side", picture(1))
        take(one, "front", picture(2))
        one.page.click(".other-leg")
        one.page.wait_for_selector(".whose:has-text('· left')")
        none = taken(one)
        take(one, "front", picture(2))
        to(one, "check")
        one.page.wait_for_selector(".docked .button.next")
        one.server.reachable = False
        one.send()
        one.page.wait_for_selector(".docked:has-text('Waits for a signal')")
        said = one.page.inner_text(".docked p")
        one.server.reachable = True
        one.page.evaluate("dispatchEvent(new Event('online'))")
        received(one)
        return none, said, one.server

    none, said, server = phone(walk)

    seal = json.loads(server.seals[-1][1])
    side_of = [entry["side"] for entry in seal["entries"]]
    named = sorted((side_of[photo["entry"]], photo["view"]) for photo in seal["photos"])
    assert none == []
    assert named == [("left", "front"), ("right", "front"), ("right", "side")]
    assert len(server.photos.have) == 2
    assert said.startswith("on this phone")
