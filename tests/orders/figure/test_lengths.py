"""The figure's named lengths, by the proportions that the drawing was laid out to: for 420 long, 19 open, girth 385.

They are said to half a millimetre, whole sections to the millimetre.
"""

import pytest

from orders.figure import guide, scene_of
from orders.figure.data import FIGURE
from orders.figure.lengths import front_at, half_breadth_at, lengths_of, stations_of
from tests.orders.figure.scenes import ENTRY, PLAIN_ENTRY, RESULT, TARN
from tests.orders.reckoning.published import rows as published

FINISHED, GIRTH = 401.0, 385.0
SCENE = scene_of(PLAIN_ENTRY, None, None)
STATIONS = stations_of(SCENE, FINISHED, GIRTH)
SHARES = (0, 0.06, 0.14, 0.3, 0.5, 0.7, 0.85, 0.95, 1)
FRONT_MM = (46, 48.5, 49.5, 48, 44.5, 41, 40, 41.5, 43)


def test_the_front_line_stands_before_the_pylon_as_laid_out():
    # between two sections the line is straight: up to half a millimetre off a place that lies between them
    assert [front_at(STATIONS, share * FINISHED) for share in SHARES] == pytest.approx(FRONT_MM, abs=0.5)


def test_the_widest_section_lies_a_third_down_and_the_narrow_end_is_an_ankle_s():
    widest = max(STATIONS, key=lambda station: station.depth if station.y > 80 else 0)
    end = STATIONS[-1]

    assert widest.y / FINISHED == pytest.approx(1 / 3, abs=0.01)
    assert (round(widest.depth), round(widest.breadth)) == (127, 119)
    assert (round(end.depth), round(end.breadth)) == (85, 63)


def test_the_sections_are_those_of_the_published_leg():
    """Before they are smoothed: breadth and depth as shares of the greatest girth."""
    printed = [row for row in reversed(published("girth_profile")) if row["t"] >= 0.1]

    assert FIGURE["shell"]["t"] == [row["t"] for row in printed]
    assert FIGURE["shell"]["breadth"] == [row["ml"] for row in printed]
    assert FIGURE["shell"]["depth"] == [row["ap"] for row in printed]


def test_the_knee_end_is_eased_on_a_guide_and_never_to_scale():
    eased = stations_of(guide("length", PLAIN_ENTRY, None), FINISHED, GIRTH)[0]
    to_scale = STATIONS[0]

    assert eased.depth == pytest.approx(0.316 * GIRTH)
    assert to_scale.depth == pytest.approx(published("girth_profile")[-1]["ap"] * GIRTH)


def test_depths_and_widths_scale_with_the_girth_and_lengths_do_not():
    half = stations_of(SCENE, FINISHED, GIRTH / 2)

    for whole, small in zip(STATIONS, half, strict=True):
        assert (small.y, small.front, small.depth, small.breadth) == pytest.approx(
            (whole.y, whole.front / 2, whole.depth / 2, whole.breadth / 2)
        )


@pytest.mark.parametrize("share", [0.40, 0.26])
def test_in_front_view_the_inner_side_is_fullest_lower_than_the_outer(share):
    widths = {y: half_breadth_at(STATIONS, y, share) for y in range(0, 402)}

    assert max(widths, key=widths.get) / FINISHED == pytest.approx(share, abs=0.01)
    assert max(widths.values()) == pytest.approx(119 / 2, abs=0.5)


def test_what_is_not_given_stands_at_its_usual_place():
    plain = lengths_of(scene_of({}, None, None))

    assert (plain["L"], plain["gap"], plain["f"], plain["g"]) == (420, 19, 401, 1)
    assert (plain["u"], plain["f"] - plain["w"], 2 * plain["sw"]) == (60, 60, 25)  # the demo's straps
    assert plain["ax"] == -20  # the ankle turns 20 mm below the rim, unless it is measured


def test_clamps_are_24_high_and_shorter_where_there_is_no_room():
    given = lengths_of(scene_of(ENTRY, RESULT, TARN))
    tight = lengths_of(
        scene_of(
            {
                "units": "mm",
                "knee": {"pivots_seen": "one", "hardware_length": "40"},
                "foot": {"profile": "high", "hardware_above_rim": "30"},
            },
            None,
            None,
        )
    )

    assert (given["hw"], given["hw"] - given["kb"]) == pytest.approx((107.95, 24))  # 4 1/4 in
    assert (given["har"], given["har"] - given["hb"]) == pytest.approx((76.2, 24))  # 3 in
    assert (tight["hw"] - tight["kb"], tight["har"] - tight["hb"]) == pytest.approx((12, 12))


def test_straps_and_rear_lie_where_the_result_and_the_catalogue_have_them():
    lengths = lengths_of(scene_of(ENTRY, RESULT, TARN))

    assert (lengths["u"], FINISHED - lengths["w"]) == pytest.approx((130.45, 79.65))
    assert lengths["q"] == pytest.approx(0.62 * FINISHED)
    assert lengths["rt"] == pytest.approx(76.19)


def test_a_low_foot_has_no_hardware_above_its_rim():
    assert lengths_of(scene_of(PLAIN_ENTRY, None, None))["har"] == 0
