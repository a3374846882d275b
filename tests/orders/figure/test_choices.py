"""The small pictures of answers: each shows its own answer, and the others as they stand."""

import pytest

from orders.figure import choice
from tests.orders.figure import scenes as sample


def test_options_are_drawn_from_the_catalogues_numbers():
    # the sample catalogue: a long rear reaches 0.94 down and leaves 0.2 open, a thick wall is 7.5 mm
    rear = choice("shell.rear", "long", sample.ENTRY, sample.TARN)["shell"]
    wall = choice("shell.wall", "thick", sample.ENTRY, sample.TARN)["shell"]
    top = choice("shell.top", "cut_down", sample.ENTRY, sample.TARN)["shell"]

    assert (rear["reach"], rear["open_share"]) == (0.94, 0.2)
    assert wall["wall_mm"] == 7.5
    assert top["relief_mm"] == 18
    # the entry's own rear is the short one, and stays so on the pictures of walls and tops
    assert (wall["reach"], top["reach"]) == (0.62, 0.62)


def test_a_picture_shows_its_answer_whatever_the_entry_says():
    single = choice("knee.named", "single_axis", sample.ENTRY)
    several = choice("knee.named", "polycentric", sample.PLAIN_ENTRY)

    assert (single["knee"]["pins"], several["knee"]["pins"]) == ("one", "several")
    assert choice("side", "right", sample.ENTRY)["side"] == "right"
    assert choice("swelling", "some", sample.ENTRY)["side"] == "left"


@pytest.mark.parametrize(
    ("answer", "shown"),
    [("both", ["stop", "thigh_side"]), ("nothing", []), ("stop", ["stop"]), ("thigh_side", ["thigh_side"])],
)
def test_what_is_seen_at_the_knee_is_drawn_and_no_more(answer, shown):
    entry = {**sample.ENTRY, "extension_stop": {"projection": "60", "bottom_below_apex": "40"}}

    scene = choice("seen.knee", answer, entry)

    assert scene["shows"] == shown
    assert scene["knee"]["stop_mm"] is None


@pytest.mark.parametrize(
    ("ankle", "axis"), [("solid", False), ("spring", False), ("jointed", True), ("wide", True)]
)
def test_an_axis_is_drawn_for_the_ankles_that_turn_about_one(ankle, axis):
    assert choice("foot.ankle", ankle, sample.PLAIN_ENTRY)["axis"] is axis


def test_a_girth_that_is_chosen_is_taken_of_no_leg():
    chosen, measured = (choice("girth_from", value, sample.ENTRY) for value in ("chosen", "sound_limb"))

    assert (chosen["leg"], chosen["shell"]["state"]) == ("prosthesis", "pencil")
    assert measured["leg"] == "other"


def test_pictures_of_answers_bear_no_measures_and_no_title():
    for field, values in sample.ANSWERS.items():
        for value in values:
            scene = choice(field, value, sample.ENTRY, sample.TARN)
            assert (scene["length_mm"], scene["girth_mm"], scene["gap_mm"]) == (None, None, None)
            assert scene["dims"] == []
            assert scene["title"] == ""
