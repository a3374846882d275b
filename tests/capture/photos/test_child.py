"""The program that decodes a photo, run as it runs on the server: a process of its own, file in, answer out."""

import json
import struct
import subprocess
import sys
import zlib
from pathlib import Path

import pytest
from PIL import Image, ImageCms

from capture.photos import child
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
    noise_jpeg,
    seen,
)

HERE = Path(__file__).parent


def run(data: bytes) -> tuple[dict, bytes, bytes]:
    """The answer's line and the two pictures that the child makes of a file."""
    done = subprocess.run([sys.executable, "-I", child.__file__], input=data, capture_output=True, timeout=60)
    assert done.returncode == 0, done.stderr.decode()
    line, _newline, pictures = done.stdout.partition(b"\n")
    said = json.loads(line)
    return said, pictures[: said.get("large", 0)], pictures[said.get("large", 0) :]


def refused(data: bytes) -> str:
    said, large, small = run(data)
    assert (large, small) == (b"", b"")
    return said["refused"]


def png_chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png(width: int, height: int, rows: bytes, bits: int = 8, colour: int = 0) -> bytes:
    """A PNG file built by hand (PNG specification, 3rd edition, 5 and 11)."""
    head = struct.pack(">IIBBBBB", width, height, bits, colour, 0, 0, 0)
    body = zlib.compress(rows, 9)
    return (
        b"\x89PNG\r\n\x1a\n" + png_chunk(b"IHDR", head) + png_chunk(b"IDAT", body) + png_chunk(b"IEND", b"")
    )


def grey_profile(gamma: float) -> bytes:
    """An ICC profile of grey with one exponent for its curve, built by hand (ICC.1:2010, 7.2, 8.4.2, 10.5, 10.17)."""
    curve = b"curv" + bytes(4) + struct.pack(">IH", 1, round(gamma * 256)) + bytes(2)
    white = b"XYZ " + bytes(4) + struct.pack(">iii", 63190, 65536, 54061)  # D50, as s15Fixed16
    table = (
        struct.pack(">I", 2) + b"kTRC" + struct.pack(">II", 156, 16) + b"wtpt" + struct.pack(">II", 172, 20)
    )
    head = struct.pack(">I4sI4s4s4s", 192, bytes(4), 0x02400000, b"mntr", b"GRAY", b"XYZ ")
    head += bytes(12) + b"acsp" + bytes(28) + struct.pack(">iii", 63190, 65536, 54061)
    return head.ljust(128, b"\0") + table + curve + white


def with_orientation(turn: int) -> bytes:
    exif = Image.Exif()
    exif[0x0112] = turn
    return exif.tobytes()


@pytest.mark.parametrize(
    ("kind", "options"),
    [("JPEG", {}), ("JPEG", {"progressive": True}), ("PNG", {}), ("WEBP", {"quality": 95})],
)
def test_each_kind_gives_two_plain_jpegs(kind, options):
    said, large, small = run(encoded(corners(), kind, **options))

    assert (said["width"], said["height"]) == (96, 64)
    for picture in (large, small):
        image = seen(picture)
        assert (image.format, image.mode, image.size) == ("JPEG", "RGB", (96, 64))
        assert alike(corner_colours(image), CORNERS)


def test_a_heic_comes_out_upright_and_without_its_camera():
    data = (
        HERE / "corners.heic"
    ).read_bytes()  # made here: stored lying, with irot, a camera's name and a place
    assert b"Camera of a test" in data

    said, large, _small = run(data)

    assert (said["width"], said["height"]) == (64, 96)
    assert alike(corner_colours(seen(large)), CORNERS, within=20)
    assert b"Camera of a test" not in large


@pytest.mark.parametrize(
    ("turn", "expected", "size"),
    # Exif 2.32, 4.6.4: what the file's first row and first column are in the scene.
    [
        (1, [RED, GREEN, BLUE, GREY], (96, 64)),
        (2, [GREEN, RED, GREY, BLUE], (96, 64)),  # row top, column right
        (3, [GREY, BLUE, GREEN, RED], (96, 64)),  # row bottom, column right
        (4, [BLUE, GREY, RED, GREEN], (96, 64)),  # row bottom, column left
        (5, [RED, BLUE, GREEN, GREY], (64, 96)),  # row left, column top
        (6, [BLUE, RED, GREY, GREEN], (64, 96)),  # row right, column top
        (7, [GREY, GREEN, BLUE, RED], (64, 96)),  # row right, column bottom
        (8, [GREEN, GREY, RED, BLUE], (64, 96)),  # row left, column bottom
        (9, [RED, GREEN, BLUE, GREY], (96, 64)),  # no such value
    ],
)
def test_a_jpeg_is_turned_as_the_camera_was_held(turn, expected, size):
    said, large, _small = run(encoded(corners(), exif=with_orientation(turn)))

    assert (said["width"], said["height"]) == size
    assert alike(corner_colours(seen(large)), expected)


def test_a_broken_exif_block_spoils_no_picture():
    said, large, _small = run(
        encoded(corners(), exif=b"Exif\x00\x00MM\x00\x2a\xff\xff\xff\xff" + b"\xff" * 20)
    )

    assert (said["width"], said["height"]) == (96, 64)
    assert alike(corner_colours(seen(large)), CORNERS)


def test_nothing_but_the_picture_is_kept():
    exif = Image.Exif()
    exif[0x010F] = "Maker of a test"
    exif.get_ifd(0x8825)[1] = "N"
    exif.get_ifd(0x8825)[2] = (54.0, 30.0, 0.0)
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    data = encoded(
        corners(), exif=exif, comment=b"words of a test", icc_profile=profile, xmp=b"<x>of a test</x>"
    )
    data += b"PK\x03\x04 a tail of a test"
    assert data.count(b"of a test") == 4  # there is something to leave out

    _said, large, small = run(data)

    for picture in (large, small):
        assert b"of a test" not in picture
        assert b"Exif" not in picture
        assert b"ICC_PROFILE" not in picture
        assert picture.endswith(b"\xff\xd9")
        assert set(seen(picture).info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


@pytest.mark.parametrize(
    "tail", [b"PK\x05\x06" + bytes(18), b"<script>alert(1)</script>", b"\xff\xd8\xff" * 9]
)
@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_picture_that_is_also_something_else_loses_its_tail(kind, tail):
    said, large, small = run(encoded(corners(), kind) + tail)

    assert (said["width"], said["height"]) == (96, 64)
    for picture in (large, small):
        assert picture.endswith(b"\xff\xd9")
        assert tail not in picture


def test_a_large_picture_is_shrunk_to_1600_and_320():
    said, large, small = run(encoded(corners(2000, 1000)))

    assert (said["width"], said["height"]) == (1600, 800)
    assert seen(large).size == (1600, 800)
    assert seen(small).size == (320, 160)
    assert said["large"] == len(large)
    assert said["small"] == len(small)


def test_a_strip_keeps_at_least_one_row():
    said, large, small = run(encoded(Image.new("L", (4000, 1), 90), "PNG"))

    assert (said["width"], said["height"]) == (1600, 1)
    assert (seen(large).size, seen(small).size) == ((1600, 1), (320, 1))


def test_cmyk_becomes_rgb():
    said, large, _small = run(encoded(corners(mode="CMYK")))

    assert said["width"] == 96
    assert alike(corner_colours(seen(large)), CORNERS)


def test_sixteen_bits_of_grey_keep_their_tones():
    # Four rows of two, by hand: 0, 64, 128, 255 of 255 in 16 bits. Cutting off at 255 would make all but one white.
    tones = (0x0000, 0x4040, 0x8080, 0xFFFF)
    rows = b"".join(b"\x00" + struct.pack(">H", tone) * 32 for tone in tones for _ in range(8))

    _said, large, _small = run(png(32, 32, rows, bits=16))

    got = [seen(large).getpixel((16, 8 * number + 4)) for number in range(4)]
    assert alike(got, [(tone >> 8,) * 3 for tone in tones], within=4)


def test_sixteen_bits_of_colour_keep_their_tones():
    row = b"\x00" + struct.pack(">HHH", RED[0] << 8, RED[1] << 8, RED[2] << 8) * 32

    _said, large, _small = run(png(32, 32, row * 32, bits=16, colour=2))

    assert alike([seen(large).getpixel((16, 16))], [RED])


def test_what_is_transparent_shows_white():
    image = corners(mode="RGBA")
    image.paste((200, 30, 30, 0), (0, 0, 48, 32))
    image.paste((40, 60, 200, 128), (0, 32, 48, 64))

    _said, large, _small = run(encoded(image, "PNG"))

    # Half of blue on white: 128/255 of the way from white to it.
    half = tuple(round(255 + (tone - 255) * 128 / 255) for tone in BLUE)
    assert alike(corner_colours(seen(large)), [(255, 255, 255), GREEN, half, GREY])


def test_a_palette_with_a_transparent_colour_shows_white():
    image = corners().quantize(8)
    red = image.getpixel((10, 10))

    _said, large, _small = run(encoded(image, "PNG", transparency=red))

    assert alike(corner_colours(seen(large)), [(255, 255, 255), GREEN, BLUE, GREY])


@pytest.mark.parametrize("mode", ["1", "L", "LA"])
def test_grey_becomes_rgb(mode):
    said, large, _small = run(encoded(corners(mode="L").convert(mode), "PNG"))

    assert said["width"] == 96
    assert seen(large).mode == "RGB"


@pytest.mark.parametrize(("kind", "options"), [("PNG", {}), ("WEBP", {"lossless": True})])
def test_of_a_moving_picture_the_first_frame_is_kept(kind, options):
    frames = [corners(), Image.new("RGB", (96, 64), (0, 0, 0))]

    data = encoded(frames[0], kind, save_all=True, append_images=frames[1:], duration=100, **options)
    assert seen(data).n_frames == 2
    said, large, _small = run(data)

    assert said["width"] == 96
    assert alike(corner_colours(seen(large)), CORNERS)


def test_colours_are_brought_to_srgb():
    image = Image.new("L", (32, 32), 200)

    _said, plain, _small = run(encoded(image))
    _said, linear, _small = run(encoded(image, icc_profile=grey_profile(1.0)))

    assert alike([seen(plain).getpixel((16, 16))], [(200,) * 3], within=2)
    # IEC 61966-2-1: linear 200/255 = 0.7843 is 1.055 * 0.7843 ** (1 / 2.4) - 0.055 = 0.8982, which is 229 of 255.
    assert alike([seen(linear).getpixel((16, 16))], [(229,) * 3], within=2)


def test_a_broken_profile_spoils_no_picture():
    _said, large, _small = run(encoded(corners(), icc_profile=b"no profile at all"))

    assert alike(corner_colours(seen(large)), CORNERS)


@pytest.mark.parametrize(
    "data",
    [
        b"just words, under the name photo.jpg",
        b"%PDF-1.7 and so on",
        b"GIF89a" + bytes(40),
        b"II*\x00" + bytes(40),
        b"\x00\x00\x00\x1cftypavif" + bytes(40),
        b"\x00\x00\x00\x1cftypisom" + bytes(40),
        b"<svg xmlns='http://www.w3.org/2000/svg'/>",
    ],
)
def test_what_is_no_picture_of_these_kinds_is_refused(data):
    assert refused(data) == "no_picture"


def test_an_empty_file_is_refused():
    assert refused(b"") == "empty"


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.99])
@pytest.mark.parametrize(
    ("kind", "options"), [("JPEG", {}), ("JPEG", {"progressive": True}), ("PNG", {}), ("WEBP", {})]
)
def test_a_file_cut_off_is_refused(kind, options, share):
    data = encoded(Image.effect_noise((96, 64), 60).convert("RGB"), kind, **options)

    assert refused(data[: int(len(data) * share)]) == "damaged"


@pytest.mark.parametrize("share", [0.2, 0.6, 0.95])
def test_a_heic_cut_off_is_refused(share):
    data = (HERE / "corners.heic").read_bytes()

    assert refused(data[: int(len(data) * share)]) == "damaged"


@pytest.mark.parametrize(
    "head", [b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF\x10\x00\x00\x00WEBP", b"\x00\x00\x00\x18ftypheic"]
)
def test_a_head_without_a_picture_is_refused(head):
    assert refused(head + b"\x00" * 64) == "damaged"


@pytest.mark.parametrize(
    ("width", "height"), [(8000, 8000), (64_000_000, 1), (60_000, 60_000), (2_000_000_000, 2)]
)
def test_64_megapixels_are_refused_before_decoding(width, height):
    # The head alone: there is nothing to decode, which would be found damaged.
    assert refused(png(width, height, b"")) == "too_many_pixels"


def test_a_jpeg_that_claims_64_megapixels_is_refused():
    data = bytearray(encoded(corners()))
    frame = data.index(b"\xff\xc0")  # ITU-T T.81, B.2.2: length 2, precision 1, height 2, width 2
    data[frame + 5 : frame + 9] = struct.pack(">HH", 8000, 8000)

    assert refused(bytes(data)) == "too_many_pixels"


@pytest.mark.parametrize(("width", "height"), [(8660, 5774), (9000, 7000)])
def test_50_megapixels_and_a_little_less_than_64_are_taken(width, height):
    row = b"\x00" + b"\x66" * width

    said, large, _small = run(png(width, height, row * height))

    assert said["width"] == 1600
    assert alike([seen(large).getpixel((800, 500))], [(0x66,) * 3])


def test_a_file_of_20_megabytes_is_taken():
    data = noise_jpeg(side_px=3700)
    assert 15_000_000 < len(data) < 20_000_000
    data += bytes(20_000_000 - len(data))

    said, _large, _small = run(data)

    assert said["width"] == said["height"] == 1600


def test_100_scans_are_refused_and_99_taken():
    data = encoded(corners(), progressive=True)  # of 10 scans
    last = data.rindex(b"\xff\xda")

    def more(scans):
        return data[:last] + data[last:-2] * (scans - 9) + b"\xff\xd9"

    assert (child.jpeg_scans(more(10)), more(10)) == (10, data)
    assert run(more(99))[0]["width"] == 96
    assert refused(more(100)) == "too_many_scans"


def test_scans_are_counted_as_a_library_writes_them():
    # libjpeg's standard progression has 10 scans in colour, 6 in grey (jcparam.c, jpeg_simple_progression).
    assert child.jpeg_scans(encoded(corners())) == 1
    assert child.jpeg_scans(encoded(corners(), progressive=True)) == 10
    assert child.jpeg_scans(encoded(corners(mode="L"), progressive=True)) == 6


def test_a_thumbnail_inside_counts_no_scan():
    inner = encoded(corners(), progressive=True)

    assert child.jpeg_scans(encoded(corners(), exif=b"Exif\x00\x00" + inner)) == 1


def test_a_picture_that_needs_too_much_memory_is_refused():
    # A moving WebP is decoded on two canvases at four bytes a pixel: here 2 × 4 × 63 million, and the picture besides.
    frame = Image.new("RGB", (7900, 7900), RED)

    assert refused(encoded(frame, "WEBP", lossless=True, method=0)) == "too_much"


def test_a_picture_that_unpacks_to_more_than_it_says_costs_nothing():
    rows = (b"\x00" + b"\x66" * 32) * 32 + bytes(300_000_000)

    said, large, _small = run(png(32, 32, rows))

    assert said["width"] == 32
    assert seen(large).size == (32, 32)


def test_text_that_unpacks_without_end_is_refused():
    plain = png(32, 32, (b"\x00" + b"\x66" * 32) * 32)
    bomb = png_chunk(b"zTXt", b"words\x00\x00" + zlib.compress(bytes(200_000_000), 9))

    assert refused(plain[:33] + bomb + plain[33:]) == "damaged"


def limited(work: str, seconds: int = child.CPU_SECONDS) -> int:
    """How a program ends that takes the child's limits, with these seconds, upon itself and then does `work`."""
    source = Path(child.__file__).read_text().split("if __name__")[0]
    done = subprocess.run(
        [sys.executable, "-I", "-c", f"{source}\nCPU_SECONDS = {seconds}\nlimit_self()\n{work}"],
        capture_output=True,
        timeout=60,
    )
    return done.returncode


def test_the_child_is_ended_when_it_reckons_too_long():
    assert limited("pass") == 0
    assert limited("while True: pass", seconds=1) == -24  # SIGXCPU


def test_the_child_has_no_more_memory_than_it_may():
    assert limited("held = bytearray(600 * 1024 * 1024)") == 0
    assert limited("held = bytearray(700 * 1024 * 1024)") == 1


def test_the_child_writes_no_file(tmp_path):
    target = tmp_path / "written"

    assert limited(f"open({str(target)!r}, 'wb', buffering=0).write(b'x')") == 1
    assert target.read_bytes() == b""
