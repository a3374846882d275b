from datetime import UTC, date, datetime
from uuid import UUID

import pytest

from orders.bench_sorting import DONE, SORTINGS, Place, stretches_of
from orders.models import Order

STATES = Order.State.values
ROW = Order(
    id=UUID(int=7),
    need_by=date(2026, 12, 11),
    created_at=datetime(2026, 11, 26, 17, 8, 9, 123456, UTC),
    moved_at=datetime(2026, 11, 27, 9, 0, 0, 0, UTC),
    reasons=3,
)


@pytest.mark.parametrize("by", SORTINGS)
@pytest.mark.parametrize("state", STATES)
def test_place_is_read_as_it_was_told(state, by):
    for stretch in stretches_of(state, by):
        place = Place.of(ROW, stretch)

        assert Place.read(place.told(by), by) == place


@pytest.mark.parametrize(
    "text",
    [
        "",
        "sent",
        "sent~0",
        "sent~9~2026-12-11~2026-11-26T17:08:09+00:00~00000000-0000-0000-0000-000000000007",
        "sent~-1~2026-11-26T17:08:09+00:00~00000000-0000-0000-0000-000000000007",
        "nowhere~1~2026-11-26T17:08:09+00:00~00000000-0000-0000-0000-000000000007",
        "sent~1~2026-11-26T17:08:09~00000000-0000-0000-0000-000000000007",  # in no time zone
        "sent~1~2026-13-26T17:08:09+00:00~00000000-0000-0000-0000-000000000007",
        "sent~1~2026-11-26T17:08:09+00:00~7",
        "sent~1~2026-11-26T17:08:09+00:00~00000000-0000-0000-0000-000000000007~more",
        "a~b~c",
    ],
)
def test_place_that_nobody_told_is_none(text):
    assert Place.read("sent~1~2026-11-26T17:08:09+00:00~00000000-0000-0000-0000-000000000007", "due")

    assert Place.read(text, "due") is None


@pytest.mark.parametrize("reasons", ["-1", "99999999999999999999", "1.5", ""])
def test_place_with_reasons_that_no_order_has_is_none(reasons):
    told = "sent~0~{}~2026-11-26T17:08:09+00:00~00000000-0000-0000-0000-000000000007"
    assert Place.read(told.format("2"), "flags")

    assert Place.read(told.format(reasons), "flags") is None


@pytest.mark.parametrize("state", STATES)
def test_no_two_rows_of_a_stretch_share_a_place_and_what_is_done_has_one_order(state):
    for by in SORTINGS:
        assert all(stretch.keys[-1].removeprefix("-") == "id" for stretch in stretches_of(state, by))
        assert (stretches_of(state, by)[0].keys == ("-moved_at", "-id")) is (state in DONE)
