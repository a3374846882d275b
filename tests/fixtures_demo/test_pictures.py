import io

import pytest
from PIL import Image

from fixtures_demo.pictures import SIZE, photo


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
