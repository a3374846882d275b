"""What the phone knows beside an entry is what the rule book's table calls it, and the server counts the same way."""

from types import SimpleNamespace

import pytest

from orders.beside import photos_beside
from orders.rulebook.beside import read_beside
from orders.rulebook.book import load_book
from tests import factories

PHOTOS = [
    [],
    [{"view": "knee", "entry": 0}],
    [{"view": view, "entry": 0} for view in ("front", "side", "knee", "foot", "free", "knee")],
    [{"view": "side", "entry": 0, "measured": factories.measured(402)}],
]


@pytest.mark.parametrize("photos", PHOTOS, ids=["none", "one", "all", "measured"])
def test_phone_and_server_see_the_same_views(js, photos):
    (told,) = js("sheet/beside.js").map("besideOf", [[photos]])

    assert told == pytest.approx(photos_beside(SimpleNamespace(photos=photos), 0), rel=1e-9)
    assert read_beside(told, load_book().givens["beside"]) == told


def test_no_photos_at_all_are_none_of_each(js):
    (told,) = js("sheet/beside.js").map("besideOf", [[None]])

    assert told == dict.fromkeys(("photo_front", "photo_side", "photo_knee", "photo_foot"), False)
