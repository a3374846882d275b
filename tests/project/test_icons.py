"""The committed icons are the drawing's, and a mask leaves the shell whole."""

import io
import math
import re

import pytest
from PIL import Image, ImageChops, ImageStat

from project import icons


def opened(png: bytes) -> Image.Image:
    return Image.open(io.BytesIO(png)).convert("RGB")


@pytest.mark.parametrize("name", icons.FORMS)
def test_the_committed_file_is_what_is_drawn(name, settings):
    """By eye the same: another version of Pillow may round an edge otherwise."""
    committed = opened((settings.ROOT / "static" / "icons" / f"{name}.png").read_bytes())

    drawn = opened(icons.png(name))

    assert drawn.size == committed.size
    assert max(ImageStat.Stat(ImageChops.difference(drawn, committed)).mean) < 1


def test_the_committed_small_one_is_what_is_drawn(settings):
    assert (settings.ROOT / "static" / "icon.svg").read_text() == icons.svg()


def test_a_mask_cuts_nothing_off_the_shell():
    """Within the circle of 40 % about the middle, which every mask leaves (W3C, Web Application Manifest, icon masks)."""
    edge, share = icons.FORMS["maskable-512"]
    drawing = icons.Drawing()

    corners = drawing.placed(drawing.outline, edge, share)

    assert max(math.dist(corner, (edge / 2, edge / 2)) for corner in corners) < 0.4 * edge


def test_only_colours_of_the_look_are_used(settings):
    tokens = (settings.ROOT / "static" / "css" / "tokens.css").read_text().split("@media")[0]
    known = set(re.findall(r"#[0-9a-f]{6}", tokens))
    tint = "#{:02x}{:02x}{:02x}".format(
        *(
            round(0.13 * a + 0.87 * b)
            for a, b in zip(bytes.fromhex("1f6a93"), bytes.fromhex("f3f5f1"), strict=True)
        )
    )

    assert {icons.PAPER, icons.INK, icons.TUBE, icons.TAPE} <= known
    assert tint == icons.TINT
