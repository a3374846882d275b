import io

import pytest
from PIL import Image

from fixtures_demo.pictures import SIZE, measured_by_paper, photo
from orders.photo_lengths import length_in


@pytest.mark.parametrize("view", ["side", "front", "knee", "foot"])
def test_every_wanted_view_is_drawn(view):
    image = Image.open(io.BytesIO(photo("NF-1", view)))

    assert (image.format, image.size) == ("JPEG", SIZE)


def test_the_same_person_has_the_same_photo_and_another_has_another():
    assert photo("NF-1", "side") == photo("NF-1", "side")
    assert photo("NF-1", "side") != photo("NF-2", "side")


def test_left_is_left():
    left = Image.open(io.BytesIO(photo("NF-1", "foot", side="left"))).convert("L")
    right = Image.open(io.BytesIO(photo("NF-1", "foot", side="right"))).convert("L")

    mirrored = left.transpose(Image.Transpose.FLIP_LEFT_RIGHT)
    differing = sum(abs(a - b) > 24 for a, b in zip(mirrored.tobytes(), right.tobytes(), strict=True))
    assert differing < 0.01 * SIZE[0] * SIZE[1]


def test_a_view_that_nobody_wants_is_refused():
    with pytest.raises(KeyError):
        photo("NF-1", "above")


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_sheet_beside_the_leg_measures_what_was_drawn(side):
    measured = measured_by_paper(side, 397)
    image = Image.open(io.BytesIO(photo("NF-1", "side", side=side, length_mm=397, paper=True)))

    # places are rounded to a tenth of a pixel, 0.04 mm
    assert length_in(measured).mm == pytest.approx(397, abs=0.2)
    assert all(0 < place[axis] < SIZE[axis] for place in measured["corners"] for axis in (0, 1))
    middle = [sum(place[axis] for place in measured["corners"]) // 4 for axis in (0, 1)]
    assert min(image.getpixel(tuple(int(part) for part in middle))) > 160  # white paper, in whatever light
    for x, y in measured["ends"]:
        red, _green, blue = image.getpixel((int(x), int(y)))
        assert red > blue + 60  # a yellow dot
