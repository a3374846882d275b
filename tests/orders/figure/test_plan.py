"""How a picture is laid out, by hand from its frame: the whole leg is 97 mm of shoe and 84 of thigh besides 420."""

import pytest

from orders.figure.pen import letters_px
from orders.figure.plan import plan_of, room_of

LENGTHS = {"L": 420.0, "g": 1.0, "f": 400.0, "gap": 20.0, "hw": 108.0, "har": 76.0}
WIDE, TALL = 84 + 199, 84 + 420 + 97  # of the whole leg from its side [mm]


def scene(**changes):
    return {
        "purpose": "guide", "view": "side", "frame": "whole", "leg": "own", "tape": None, "band": False, "dims": [],
        **changes,
    }  # fmt: skip


@pytest.mark.parametrize("fit", [(900, 336), (120, 900), (214, 336)])
def test_a_guide_is_as_large_as_its_place_lets_it_be_and_no_larger(fit):
    plan = plan_of(scene(fit=fit), LENGTHS)

    assert plan.width <= fit[0] + 1e-9
    assert plan.height <= fit[1] + 1e-9
    assert plan.width == pytest.approx(fit[0]) or plan.height == pytest.approx(fit[1])


@pytest.mark.parametrize(("purpose", "across", "down"), [("mark", 6, 6), ("scale", 76, 32)])
def test_a_common_scale_makes_the_picture_as_large_as_the_leg_and_its_lettering(purpose, across, down):
    plan = plan_of(scene(purpose=purpose, px_per_mm=0.2), LENGTHS)

    assert plan.scale == 0.2
    assert (plan.width, plan.height) == pytest.approx((0.2 * WIDE + across, 0.2 * TALL + down))


def test_a_picture_to_scale_fills_its_sheet_with_the_views_in_the_middle():
    wide = plan_of(scene(purpose="scale", view="both", fit=(800, 372)), LENGTHS)
    room, scale = room_of(scene(purpose="scale", view="both")), wide.scale
    side, front = wide.panels

    assert (wide.width, wide.height) == (800, 372)
    before = side.x0 - scale * 199 - room.left  # from the outside a left leg's toes point left
    after = wide.width - room.right - (front.x0 + scale * 63)
    assert before == pytest.approx(after)
    assert before > 100
    between = (front.x0 - scale * 63) - (side.x0 + scale * 84)
    assert between == pytest.approx(room.between)


@pytest.mark.parametrize(
    ("view", "leg", "ways"), [("both", "own", [-1, 1]), ("front", "own", [1]), ("front", "other", [-1])]
)
def test_outward_is_right_in_front_but_for_the_other_leg(view, leg, ways):
    assert [panel.way for panel in plan_of(scene(view=view, leg=leg), LENGTHS).panels] == ways


def test_longer_names_get_their_room_and_shorter_ones_take_none_away():
    named = {"tape": {"of": "length"}}
    english = room_of(scene(**named)).left

    longer = room_of(scene(**named, words={"apex": "Scheitelpunkt"})).left
    shorter = room_of(scene(**named, words={"apex": "a", "rim": "b"})).left

    assert longer - english == pytest.approx(letters_px("Scheitelpunkt") - letters_px("apex"))
    assert shorter == english


@pytest.mark.parametrize(
    ("width", "of", "narrow"), [(189, "length", True), (190, "length", False), (189, "girth", False)]
)
def test_in_a_narrow_guide_names_stand_above_and_under_a_tape_along_the_leg(width, of, narrow):
    room = room_of(scene(tape={"of": of}, fit=(width, 336)))

    assert (room.top, room.bottom >= 18) == ((18, True) if narrow else (0, False))
