"""A question of the sheet's own is answered again from the entry that was sent, so that nothing it holds is closed."""

import pytest

from capture.sheet_fields import BY_KEY


@pytest.mark.parametrize(
    ("key", "entry", "answer"),
    [
        ("seen.knee", {"knee": {"named": "polycentric"}}, "nothing"),
        ("seen.knee", {"knee": {"stop_projection": "50", "stop_below_apex": None}}, "stop"),
        ("seen.knee", {"knee": {"stop_below_apex": "12"}}, "stop"),
        ("seen.knee", {"knee": {"thigh_side_width": "80"}}, "thigh_side"),
        ("seen.knee", {"knee": {"thigh_side_below_apex": "20", "stop_below_apex": "12"}}, "both"),
        ("seen.pylon", {"moving_part": None}, "plain"),
        ("seen.pylon", {"moving_part": {"travel": "8"}}, "moves"),
        ("seen.pylon", {"moving_part": {"rotation_deg": 0}}, "moves"),
    ],
)
def test_answer_asks_for_all_that_the_entry_holds(js, key, entry, answer):
    choices = [{"value": choice.value, "holds": list(choice.holds)} for choice in BY_KEY[key].choices]

    assert js("sheet/implied.js").map("impliedBy", [[entry, choices]]) == [answer]
