"""The program that decodes a photo: file in, two pictures out. It runs alone, under limits, for one file.

    python -I child.py < file > answer

The answer is one line of JSON and, when the file could be developed, the two JPEG files right behind it:

    {"width": 1600, "height": 1200, "large": 301222, "small": 20111}      sizes of the large one [px] and of both [bytes]
    {"refused": "damaged"}                                                one of the words of `Refused` below

A decoder is the part most likely to be broken into, so this program holds nothing worth having: no database, no
settings, no secrets, no network. It imports nothing of this site.
"""

import io
import json
import re
import resource
import sys

# Less than the 10 s that the parent waits: so a file that costs too much is told from a machine that is busy.
CPU_SECONDS = 8
ADDRESS_SPACE_BYTES = 700 * 1024 * 1024
PIXELS_TOO_MANY = 64_000_000  # refused from here on; 50 million, a large phone camera's, are taken
SCANS_TOO_MANY = 100  # of a progressive JPEG; cameras and programs write about ten
LARGE_PX, SMALL_PX = 1600, 320  # the longer side; a smaller picture stays as it is
ORIENTATION = 0x0112  # the EXIF tag (Exif 2.32, 4.6.4): how the camera was held
WHITE = (255, 255, 255)

# ISO 14496-12, 4.3: bytes 4 to 8 are "ftyp"; the brands of HEVC pictures are in ISO 23008-12, annex B.
HEIF_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}
# A marker of JPEG (ITU-T T.81, B.1.1): not a stuffed zero, not a restart, not a filler.
MARKER = re.compile(rb"\xff+([^\x00\xff\xd0-\xd7])")
START_OF_SCAN, START_OF_IMAGE, END_OF_IMAGE = 0xDA, 0xD8, 0xD9


class Refused(Exception):
    """This file can't be developed. `reason`: empty, no_picture, damaged, too_many_pixels, too_many_scans, too_much."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


def main() -> None:
    """Reads the file, writes the answer."""
    limit_self()
    data = sys.stdin.buffer.read()
    try:
        line, pictures = developed(data)
    except Refused as refused:
        line, pictures = {"refused": refused.reason}, ()
    except MemoryError:
        line, pictures = {"refused": "too_much"}, ()
    sys.stdout.buffer.write(json.dumps(line).encode() + b"\n" + b"".join(pictures))


def limit_self() -> None:
    """Takes the rights to more memory, time, files and processes away from this program, before it reads anything."""
    resource.setrlimit(resource.RLIMIT_AS, (ADDRESS_SPACE_BYTES, ADDRESS_SPACE_BYTES))
    resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS + 1))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))


def developed(data: bytes) -> tuple[dict, tuple[bytes, ...]]:
    """The answer's line and its two pictures. Raises Refused, MemoryError."""
    picture = upright(data)
    large = fitted(picture, LARGE_PX)
    pictures = (as_jpeg(large, 85), as_jpeg(fitted(large, SMALL_PX), 80))
    width, height = large.size
    return {"width": width, "height": height, "large": len(pictures[0]), "small": len(pictures[1])}, pictures


def upright(data: bytes):
    """The whole picture decoded, shrunk, in 8-bit RGB, the way up that the camera was held. Raises Refused."""
    try:
        image = opened(data, kind_of(data))
        # A JPEG may be decoded at a half, a quarter or an eighth of its size; every byte of it is read all the same.
        image.draft(None, (2 * LARGE_PX, 2 * LARGE_PX))
        image.load()  # of several frames, the first
    except (Refused, MemoryError, ImportError):  # the last is this machine's fault, not the file's
        raise
    except Exception as error:
        raise Refused("damaged") from error
    return turned(in_rgb(fitted(eight_bit(image), LARGE_PX)), orientation_of(image))


def kind_of(data: bytes) -> str:
    """What the file is by its first bytes, whatever it is called. Raises Refused."""
    if not data:
        raise Refused("empty")
    if data.startswith(b"\xff\xd8\xff"):
        return "JPEG"
    if data.startswith(b"\x89PNG\r\n\x1a\n"):
        return "PNG"
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "WEBP"
    if data[4:8] == b"ftyp" and data[8:12] in HEIF_BRANDS:
        return "HEIF"
    raise Refused("no_picture")


def opened(data: bytes, kind: str):
    """The image with its first lines read, of a size that may be decoded. Raises Refused, or what Pillow raises."""
    from PIL import Image  # here and below: after the limits are set

    if kind == "WEBP":
        from PIL import WebPImagePlugin  # noqa: F401  not among those that Pillow brings by itself
    if kind == "HEIF":
        import pillow_heif  # only for the files that need it

        pillow_heif.register_heif_opener(thumbnails=False, depth_images=False, aux_images=False)
    Image.MAX_IMAGE_PIXELS = None  # our own limit follows, the same for every kind
    image = Image.open(io.BytesIO(data), formats=[kind])
    if image.width * image.height >= PIXELS_TOO_MANY:
        raise Refused("too_many_pixels")
    if kind == "JPEG" and jpeg_scans(data) >= SCANS_TOO_MANY:
        raise Refused("too_many_scans")
    return image


def jpeg_scans(data: bytes) -> int:
    """How many scans a JPEG has, by its markers; the segments between them (a thumbnail, a profile) are stepped over."""
    scans, at = 0, 0
    while found := MARKER.search(data, at):
        kind, at = found[1][0], found.end()
        if kind == END_OF_IMAGE:
            break
        if kind != START_OF_IMAGE:
            scans += kind == START_OF_SCAN
            at += max(2, int.from_bytes(data[at : at + 2], "big"))
    return scans


def orientation_of(image) -> int:
    """1 to 8 as EXIF counts them; 1, upright, where there is none or it makes no sense."""
    try:
        turn = image.getexif().get(ORIENTATION, 1)
    except MemoryError:
        raise
    except Exception:  # a broken EXIF block spoils no picture
        return 1
    return turn if turn in range(1, 9) else 1


def turned(image, turn: int):
    """The image as it is to be seen (Exif 2.32, 4.6.4, table of Orientation)."""
    from PIL.Image import Transpose

    ways = {
        2: Transpose.FLIP_LEFT_RIGHT,
        3: Transpose.ROTATE_180,
        4: Transpose.FLIP_TOP_BOTTOM,
        5: Transpose.TRANSPOSE,
        6: Transpose.ROTATE_270,
        7: Transpose.TRANSVERSE,
        8: Transpose.ROTATE_90,
    }
    return image.transpose(ways[turn]) if turn in ways else image


def eight_bit(image):
    """The image with at most 8 bits a channel, in a mode that can be shrunk without losing what is transparent."""
    if image.mode.startswith(
        "I"
    ):  # 16 bits of grey; Pillow's own conversion cuts everything bright off at 255
        return image.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    if image.mode == "1":
        return image.convert("L")
    if image.mode in {"P", "PA", "LA"} or "transparency" in image.info:
        return image.convert("RGBA")
    return image


def fitted(image, longest_px: int):
    """The image no longer than `longest_px` on either side, its shape kept; a smaller one is left alone."""
    from PIL.Image import Resampling

    share = longest_px / max(image.size)
    if share >= 1:
        return image
    size = tuple(max(1, round(side * share)) for side in image.size)
    return image.resize(size, Resampling.LANCZOS, reducing_gap=3.0)


def in_rgb(image):
    """The image in sRGB on white, without anything that came along with it."""
    from PIL import Image

    if image.mode in {"RGBA", "RGBa"}:
        image = image.convert("RGBA")
        ground = Image.new("RGB", image.size, WHITE)
        ground.paste(image, mask=image.getchannel("A"))
        ground.info["icc_profile"] = image.info.get("icc_profile")
        image = ground
    image = in_srgb(image).convert("RGB")
    image.info = {}  # the JPEG writer would take a comment or a profile from here
    return image


def in_srgb(image):
    """The image with its colours brought from its own profile to sRGB; as it is where that can't be done."""
    profile = image.info.get("icc_profile")
    if not profile:
        return image
    from PIL import ImageCms

    try:
        own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        return ImageCms.profileToProfile(image, own, ImageCms.createProfile("sRGB"), outputMode="RGB")
    except MemoryError:
        raise
    except Exception:  # a broken or foreign profile spoils no picture
        return image


def as_jpeg(image, quality: int) -> bytes:
    """The image as a JPEG that holds nothing but the image."""
    written = io.BytesIO()
    image.save(written, "JPEG", quality=quality, optimize=True)
    return written.getvalue()


if __name__ == "__main__":
    main()
