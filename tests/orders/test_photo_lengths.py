"""What is reckoned from the places that a phone put in its photos."""

import pytest

from orders.photo_lengths import length_in, lengths_beside
from orders.reckoning.homography import photo_length
from tests import factories


def photo(mm: float, **changes) -> dict:
    return factories.named_photo("a" * 64, measured=factories.measured(mm, **changes))


def test_places_give_a_length_and_its_uncertainty():
    found = length_in(factories.measured(402))

    assert found.mm == pytest.approx(402)  # 2 px to the mm, square to the sheet
    assert 5 < found.U_mm < 25


@pytest.mark.parametrize("measured", [None, factories.measured(402, corners=[[0, 0]] * 4)])
def test_nothing_is_read_where_nothing_can_be(measured):
    assert length_in(measured) is None


def test_each_measure_is_told_with_its_uncertainty():
    places = factories.measured(110, "hardware_length")

    told = lengths_beside([photo(402), {"measured": places}, {"measured": None}, {}])

    found = photo_length("a4", places["size"], places["corners"], places["ends"])
    assert told["photo_length_mm"] == pytest.approx(402)
    assert told["photo_hardware_length_mm"] == pytest.approx(110)
    assert told["photo_hardware_length_U_mm"] == found.U_mm
    assert len(told) == 4


def test_of_two_photos_of_one_measure_the_better_known_counts():
    small = {"sheet": "card", "corners": [[400, 600], [508, 600], [508, 771.2], [400, 771.2]]}

    for photos in ([photo(402), photo(390, **small)], [photo(390, **small), photo(402)]):
        assert lengths_beside(photos)["photo_length_mm"] == pytest.approx(402)


def test_the_phone_tells_the_same(js):
    small = {"sheet": "card", "corners": [[400, 600], [508, 600], [508, 771.2], [400, 771.2]]}
    photos = [
        photo(390, **small),
        photo(402),
        photo(402, corners=[[0, 0]] * 4),
        {"view": "knee", "measured": factories.measured(110, "hardware_length")},
    ]

    (told,) = js("sheet/beside.js").map("besideOf", [[photos]])

    theirs = {name: value for name, value in told.items() if name.endswith("_mm")}
    assert theirs == pytest.approx(lengths_beside(photos), rel=1e-9)
