"""Small pictures for tests, drawn here: four corners of four colours, so that a turn or a mirror shows."""

import io

from PIL import Image

RED, GREEN, BLUE, GREY = (200, 30, 30), (30, 160, 60), (40, 60, 200), (128, 128, 128)
CORNERS = (RED, GREEN, BLUE, GREY)  # left above, right above, left below, right below


def corners(width: int = 96, height: int = 64, mode: str = "RGB") -> Image.Image:
    """The picture of four colours."""
    image = Image.new("RGB", (width, height))
    for number, colour in enumerate(CORNERS):
        left, top = (number % 2) * width // 2, (number // 2) * height // 2
        image.paste(colour, (left, top, left + width // 2, top + height // 2))
    return image.convert(mode)


def encoded(image: Image.Image, kind: str = "JPEG", **options) -> bytes:
    """The picture as a file."""
    if kind == "JPEG":
        options = {"quality": 95, "subsampling": 0, **options}
    written = io.BytesIO()
    image.save(written, kind, **options)
    return written.getvalue()


def a_jpeg(seed: int = 0, side_px: int = 64) -> bytes:
    """A JPEG file that differs with the seed, which is written in its comment: coding may lose a changed pixel."""
    return encoded(corners(side_px, side_px), comment=str(seed).encode())


def noise_jpeg(side_px: int) -> bytes:
    """A square JPEG file of noise, which takes a bit more than a byte a pixel."""
    return encoded(Image.effect_noise((side_px, side_px), 90).convert("RGB"), quality=98)


def seen(picture: bytes) -> Image.Image:
    """What a kept picture shows."""
    image = Image.open(io.BytesIO(picture))
    image.load()
    return image


def corner_colours(image: Image.Image) -> list[tuple[int, int, int]]:
    """The colours in the middle of the four quarters, in the order of CORNERS."""
    w, h = image.size
    places = [(w // 4, h // 4), (3 * w // 4, h // 4), (w // 4, 3 * h // 4), (3 * w // 4, 3 * h // 4)]
    return [image.getpixel(place) for place in places]


def alike(colours, expected, within: int = 12) -> bool:
    """Whether colours agree but for what JPEG makes of them."""
    return all(
        abs(one - other) <= within
        for colour, wanted in zip(colours, expected, strict=True)
        for one, other in zip(colour, wanted, strict=True)
    )
