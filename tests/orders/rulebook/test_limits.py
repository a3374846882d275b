"""Every sentence and every offer of the book on its limit, and a thousandth of a millimetre to either side.

Here the checks and figures get their quantities as they are, which a whole entry can't always bring to a limit. What is
expected is worked by hand from the catalogue of Tarn Street: strap 25 wide, 10 clear, 60 and 60, spacing 90 and 120;
5 clear to what stands still and 10 to what moves.
"""
# ruff: noqa: E501  (tables, one case to a line)

import pytest

from orders.reckon import quantities, reckon
from orders.reckoning.catalogue import read_catalogue
from orders.reckoning.entry import read_entry
from orders.rulebook.book import load_book
from orders.rulebook.checks import derivation, flag_of
from orders.rulebook.evaluate import value_of
from tests.orders.entries import catalogue, entry_with

BOOK = load_book()
CHECKS = {check["id"]: check for check in BOOK.checks}
FIGURES = {figure["id"]: figure for figure in BOOK.figures}

CLEAR = {"clearance_still_mm": 5.0, "clearance_moving_mm": 10.0}
STOP = CLEAR | {
    "relief_mm": 0.0,
    "stop_below_apex_mm": 0.0,
    "deepest_relief_mm": 18.0,
    "deepest_top": "cut_down",
}
SPACING = {"least_spacing_mm": 90.0, "comfortable_spacing_mm": 120.0}
STRAP = {
    "strap_width_mm": 25.0,
    "strap_clearance_mm": 10.0,
    "usual_upper_mm": 60.0,
    "usual_lower_mm": 60.0,
    "upper_strap_entered_given": False,
    "lower_strap_entered_given": False,
    "upper_strap_wanted_mm": 60.0,
    "lower_strap_wanted_mm": 60.0,
}
OTHER = {"upper_strap_entered_given": True, "lower_strap_entered_given": True}
THIGH = {
    "pivots_move": False,
    "thigh_side_below_apex_mm": 0.0,
    "thigh_side_width_mm": 0.0,
    "inside_breadth_at_top_mm": 100.0,
}
PIVOTS = THIGH | {
    "pivots_move": True,
    "pivots_below_apex_mm": 0.0,
    "pivots_past_front_mm": 0.0,
    "pivots_bend_deg": 90.0,
}
PART = STRAP | {
    "moving_part_given": True,
    "upper_above_rim_mm": 340.0,
    "lower_above_rim_mm": 73.0,
    "part_to_mm": 380.0,
}
GAP = {"gap_mm": 12.7, "gap_needed_mm": 15.0, "gap_advised_mm": 12.7, "rim_rise_mm": 9.0, "travel_mm": 0.0}
BOOT = {"footwear": "boot", "collar_above_rim_given": True, "gap_mm": 15.0}
WEAR = {
    "other_leg": "sound",
    "k_level": "K2",
    "heavy_wear": True,
    "wall_mm": 4.0,
    "thickest_wall_mm": 7.5,
    "thickest_adds_g": 400.0,
}
SEEN = {
    "photo_front": True,
    "photo_side": True,
    "photo_knee": True,
    "photo_foot": False,
    "knee_named": "single_axis",
    "control": "mechanical",
}
READ = {"length_count": 2.0, "length_spread_mm": 0.0, "length_swapped": False, "length_typed": "a, b", "gap_mm": 12.7,
        "girth_count": 2.0, "girth_spread_mm": 0.0, "girth_swapped": False, "girth_typed": "c, d"}  # fmt: skip
# One of the two asks for a third reading, so that the other's sentences are looked at on their own limits.
GIRTHS = READ | {"girth_spread_mm": 20.0}
LENGTHS = READ | {"length_spread_mm": 30.0}
ROUTE = {"apex_to_floor_given": True, "rim_to_floor_given": True}

# (check, what is known, what its sentence says besides, what it doesn't say); None: it keeps quiet.
SAID = [
    ("knee.tight", CLEAR | {"knee_clearance_mm": 5.0}, None, ""),
    ("knee.tight", CLEAR | {"knee_clearance_mm": 4.999}, "is left inside", "larger"),
    ("knee.tight", CLEAR | {"knee_clearance_mm": 0.001}, "is left inside", "larger"),
    ("knee.tight", CLEAR | {"knee_clearance_mm": 0.0}, "0\u00a0mm is left inside", "larger"),
    ("knee.tight", CLEAR | {"knee_clearance_mm": -0.001}, "larger than the inside", "is left"),
    ("foot.tight", CLEAR | {"foot_clearance_mm": 5.0}, None, ""),
    ("foot.tight", CLEAR | {"foot_clearance_mm": 4.999}, "is left inside", "larger"),
    ("foot.tight", CLEAR | {"foot_clearance_mm": 0.001}, "is left inside", "larger"),
    ("foot.tight", CLEAR | {"foot_clearance_mm": 0.0}, "0\u00a0mm is left inside", "larger"),
    ("foot.tight", CLEAR | {"foot_clearance_mm": -0.001}, "larger than the inside", "is left"),
    ("stop.meets_edge", STOP | {"stop_clearance_mm": 10.0}, None, ""),
    ("stop.meets_edge", STOP | {"stop_clearance_mm": 9.999}, "is left between them", "stands out beyond"),
    ("stop.meets_edge", STOP | {"stop_clearance_mm": 0.001}, "is left between them", "stands out beyond"),
    ("stop.meets_edge", STOP | {"stop_clearance_mm": 0.0}, "is left between them", "stands out beyond"),
    ("stop.meets_edge", STOP | {"stop_clearance_mm": -0.001}, "stands out beyond", "is left between"),
    ("strap.no_room", SPACING | {"strap_spacing_mm": 90.0}, None, ""),
    ("strap.no_room", SPACING | {"strap_spacing_mm": 89.999}, "apart", "below the lower one"),
    ("strap.no_room", SPACING | {"strap_spacing_mm": 0.001}, "apart", "below the lower one"),
    ("strap.no_room", SPACING | {"strap_spacing_mm": 0.0}, "0\u00a0mm apart", "below the lower one"),
    ("strap.no_room", SPACING | {"strap_spacing_mm": -0.001}, "below the lower one", "apart"),
    ("knee.thigh_side_low", THIGH, None, ""),
    ("knee.thigh_side_low", THIGH | {"thigh_side_below_apex_mm": 0.001}, "below the apex", "wide"),
    ("knee.thigh_side_low", THIGH | {"thigh_side_width_mm": 100.0}, None, ""),
    ("knee.thigh_side_low", THIGH | {"thigh_side_width_mm": 100.001}, "wide inside at its top", "below the apex"),
    ("knee.thigh_side_low", THIGH | {"thigh_side_below_apex_mm": 5.0, "thigh_side_width_mm": 100.0}, "below the apex", "wide"),
    # a wall that leaves nothing inside: a width of nought is one that wasn't given
    ("knee.thigh_side_low", THIGH | {"inside_breadth_at_top_mm": -1.0}, None, ""),
    ("knee.thigh_side_low", THIGH | {"inside_breadth_at_top_mm": -1.0, "thigh_side_below_apex_mm": 5.0}, "below the apex", "wide"),
    ("knee.thigh_side_low", THIGH | {"inside_breadth_at_top_mm": -1.0, "thigh_side_width_mm": 0.001}, "wide", "below"),
    ("knee.thigh_side_low", PIVOTS, None, ""),
    ("knee.thigh_side_low", PIVOTS | {"pivots_below_apex_mm": 0.001}, "below the apex", "front edge"),
    ("knee.thigh_side_low", PIVOTS | {"pivots_past_front_mm": 0.001}, "beyond the inside of the front edge", "below the apex"),
    ("knee.thigh_side_low", PIVOTS | {"pivots_move": False, "pivots_below_apex_mm": 5.0, "pivots_past_front_mm": 5.0}, None, ""),
    ("knee.thigh_side_low", PIVOTS | {"thigh_side_width_mm": 120.0}, "wide inside at its top", "pivot"),
    ("knee.thigh_side_low", PIVOTS | {"thigh_side_below_apex_mm": 3.0, "pivots_below_apex_mm": 0.001}, "an upper pivot comes", "wide"),
    ("knee.thigh_side_low", PIVOTS | {"thigh_side_below_apex_mm": 3.0, "pivots_move": False, "pivots_below_apex_mm": 4.0}, "below the apex", "pivot"),
    ("knee.thigh_side_low", PIVOTS | {"thigh_side_below_apex_mm": 3.0, "pivots_move": False, "pivots_past_front_mm": 4.0}, "below the apex", "pivot"),
    ("knee.pivots_lock", {"pivots_bend_deg": 130.0, "flexion_used_deg": 130.0}, None, ""),
    ("knee.pivots_lock", {"pivots_bend_deg": 129.999, "flexion_used_deg": 130.0}, "as far as", "at all"),
    ("knee.pivots_lock", {"pivots_bend_deg": 0.001, "flexion_used_deg": 130.0}, "as far as", "at all"),
    ("knee.pivots_lock", {"pivots_bend_deg": 0.0, "flexion_used_deg": 130.0}, "at all", "as far as"),
    ("knee.pivots_disagree", {"pivots_seen": "one", "knee_named": "polycentric"}, "One pin", "Several pins"),
    ("knee.pivots_disagree", {"pivots_seen": "several", "knee_named": "single_axis"}, "Several pins", "One pin"),
    ("strap.across_moving_part", PART | {"part_from_mm": 352.5}, None, ""),
    ("strap.across_moving_part", PART | {"part_from_mm": 352.499}, "one rigid piece", ""),
    ("strap.across_moving_part", PART | {"part_from_mm": 0.0, "part_to_mm": 60.5}, None, ""),
    ("strap.across_moving_part", PART | {"part_from_mm": 0.0, "part_to_mm": 60.501}, "one rigid piece", ""),
    # its two ends, whichever was measured first
    ("strap.across_moving_part", PART | {"part_from_mm": 60.501, "part_to_mm": 0.0}, "one rigid piece", ""),
    ("strap.across_moving_part", PART | {"part_from_mm": 60.5, "part_to_mm": 0.0}, None, ""),
    ("strap.across_moving_part", PART | {"part_from_mm": 380.0, "part_to_mm": 352.499}, "one rigid piece", ""),
    ("strap.across_moving_part", PART | {"part_from_mm": 380.0, "part_to_mm": 352.5}, None, ""),
    ("strap.in_fold", {"thigh_behind_axis_given": True, "upper_strap_mm": 70.0, "rear_trim_mm": 70.0}, None, ""),
    ("strap.in_fold", {"thigh_behind_axis_given": True, "upper_strap_mm": 70.0, "rear_trim_mm": 70.001}, "rear trim", ""),
    ("gap.tight", GAP | {"margin_mm": 3.0}, None, ""),
    ("gap.tight", GAP | {"margin_mm": 2.999}, "tight", ""),
    ("gap.tight", GAP | {"margin_mm": 0.001}, "tight", ""),
    ("gap.tight", GAP | {"margin_mm": 0.0}, None, ""),
    ("gap.tight", GAP | {"margin_mm": -0.001}, None, ""),
    ("gap.contact", GAP | {"margin_mm": 0.001}, None, ""),
    ("gap.contact", GAP | {"margin_mm": 0.0}, "strikes", "besides"),
    ("gap.contact", GAP | {"margin_mm": 0.0, "travel_mm": 0.001}, "besides", ""),
    ("shoe.collar", BOOT | {"collar_above_rim_mm": 14.999}, None, ""),
    ("shoe.collar", BOOT | {"collar_above_rim_mm": 15.0}, "reaches the shell", "nobody"),
    ("shoe.collar", BOOT | {"collar_above_rim_mm": 16.0}, "reaches the shell", "nobody"),
    ("shoe.collar", BOOT | {"collar_above_rim_given": False}, "nobody has measured", "reaches"),
    ("wall.wear", WEAR, "It adds 400\u00a0g", ""),
    ("wall.wear", WEAR | {"thickest_adds_g": 0.001}, "It adds", ""),
    ("wall.wear", WEAR | {"thickest_adds_g": 0.0}, "worn hard", "It adds"),
    ("wall.wear", WEAR | {"heavy_wear": False, "other_leg": "below_knee"}, "worn hard", ""),
    ("wall.wear", WEAR | {"heavy_wear": False, "other_leg": "above_knee"}, "worn hard", ""),
    ("wall.wear", WEAR | {"heavy_wear": False}, None, ""),
    ("photo.missing", SEEN | {"profile": "low"}, "The foot from near is missing.", "stands above"),
    ("photo.missing", SEEN | {"profile": "high"}, "stands above the rim", "The foot from near is missing. "),
    ("order.repeated", {"earlier_days": 0.0, "is_remake": False}, "of today", "yesterday"),
    ("order.repeated", {"earlier_days": 1.0, "is_remake": False}, "of yesterday", "today"),
    ("order.repeated", {"earlier_days": 1.0, "is_remake": False}, "of yesterday", "days old"),
    ("order.repeated", {"earlier_days": 2.0, "is_remake": False}, "2 days old", "yesterday"),
    ("order.repeated", {"earlier_days": 31.0, "is_remake": False}, None, ""),
    ("reading.repeats_differ", READ, None, ""),
    ("reading.repeats_differ", READ | {"length_spread_mm": 8.0}, None, ""),
    ("reading.repeats_differ", READ | {"length_spread_mm": 8.001}, "up to 8 mm", "girths"),
    ("reading.repeats_differ", READ | {"length_spread_mm": 8.001, "length_swapped": True}, "digits look swapped", "girths"),
    ("reading.repeats_differ", READ | {"length_spread_mm": 8.001, "gap_mm": 9.0}, "about the gap", "girths"),
    ("reading.repeats_differ", READ | {"length_spread_mm": 20.0, "length_count": 3.0}, None, ""),
    ("reading.repeats_differ", READ | {"girth_spread_mm": 8.0}, None, ""),
    ("reading.repeats_differ", READ | {"girth_spread_mm": 8.001}, "girths", "lengths"),
    ("reading.repeats_differ", READ | {"girth_spread_mm": 8.001, "girth_swapped": True}, "digits look swapped", "up to 8 mm"),
    ("reading.repeats_differ", READ | {"girth_spread_mm": 20.0, "girth_count": 3.0}, None, ""),
    ("reading.repeats_differ", READ | {"length_spread_mm": 15.7}, "about the gap", "up to 8 mm"),
    ("reading.repeats_differ", READ | {"length_spread_mm": 15.701}, "up to 8 mm", "about the gap"),
    ("reading.repeats_differ", READ | {"length_spread_mm": 9.7}, "about the gap", "up to 8 mm"),
    ("reading.repeats_differ", READ | {"length_spread_mm": 9.699}, "up to 8 mm", "about the gap"),
    *[("reading.repeats_differ", GIRTHS | more, "girths", "lengths") for more in (
        {"length_spread_mm": 8.0}, {"length_spread_mm": 8.0, "length_swapped": True}, {"length_spread_mm": 8.0, "gap_mm": 8.0},
        {"length_spread_mm": 30.0, "length_count": 3.0}, {"length_spread_mm": 30.0, "length_count": 3.0, "length_swapped": True},
        {"length_spread_mm": 30.0, "length_count": 3.0, "gap_mm": 30.0})],
    *[("reading.repeats_differ", LENGTHS | more, "lengths", "girths") for more in (
        {"girth_spread_mm": 8.0}, {"girth_spread_mm": 8.0, "girth_swapped": True},
        {"girth_spread_mm": 30.0, "girth_count": 3.0}, {"girth_spread_mm": 30.0, "girth_count": 3.0, "girth_swapped": True})],
    ("reading.repeats_differ", LENGTHS | {"girth_spread_mm": 8.001}, "girths", ""),
    ("reading.repeats_differ", LENGTHS | {"girth_spread_mm": 8.001, "girth_swapped": True}, "girths", ""),
    ("reading.only_one", READ | ROUTE, None, ""),
    ("reading.only_one", READ | ROUTE | {"length_count": 1.0}, None, ""),
    ("reading.only_one", READ | ROUTE | {"length_count": 1.0, "rim_to_floor_given": False}, "The length was read once", "girth"),
    ("reading.only_one", READ | ROUTE | {"rim_to_floor_given": False, "girth_count": 1.0}, "The girth was read once", "length was"),
    ("reading.only_one", READ | ROUTE | {"rim_to_floor_given": False}, None, ""),
]  # fmt: skip


@pytest.mark.parametrize(("check", "known", "says", "not_said"), SAID)
def test_a_check_says_what_fits_on_its_limit_and_beside_it(check, known, says, not_said):
    flag = flag_of(CHECKS[check], known)

    assert (flag is None) == (says is None)
    if flag:
        assert says in flag.says
        assert not not_said or not_said not in flag.says


# End of the shortest rear: 387 × (1 - 0.62) + 13 = 160.06 above the rim, less 10 to what moves.
REAR = CLEAR | {"profile": "high", "rear_end_above_rim_mm": 36.22, "finished_length_mm": 387.0, "shortest_reach": 0.62,
                "shortest_rear": "short", "gap_mm": 13.0}  # fmt: skip
OFFERED = [
    ("rear.meets_foot", REAR | {"hardware_above_rim_mm": 150.06}, "short"),
    ("rear.meets_foot", REAR | {"hardware_above_rim_mm": 150.061}, None),
    ("stop.meets_edge", STOP | {"stop_clearance_mm": 5.0, "stop_below_apex_mm": 17.999}, "cut_down"),
    ("stop.meets_edge", STOP | {"stop_clearance_mm": 5.0, "stop_below_apex_mm": 18.0}, None),
    ("knee.pivots_disagree", {"pivots_seen": "one", "knee_named": "polycentric"}, "single_axis"),
    ("knee.pivots_disagree", {"pivots_seen": "several", "knee_named": "single_axis"}, "polycentric"),
]


@pytest.mark.parametrize(("check", "known", "value"), OFFERED)
def test_a_way_out_is_offered_while_it_is_one(check, known, value):
    offer = flag_of(CHECKS[check], known).offer

    assert (offer and offer["value"]) == value


ANKLES = [("solid", 5.0, 8.0), ("spring", 12.0, 8.0), ("jointed", 10.0, 15.0), ("wide", 20.0, 25.0)]
BEFORE = STRAP | {
    "gap_entered_given": True,
    "gap_entered_mm": 13.0,
    "gap_by_ankle_mm": 12.7,
    "hardware_above_rim_given": True,
}
TRAVEL = STRAP | {
    "moving_part_given": True,
    "part_travel_mm": 6.0,
    "part_from_given": True,
    "part_to_given": False,
    "lower_strap_before_mm": 73.0,
}
# A girth is suggested to whom the survey's people are like: its body mass indices run from 15.4 to 43.5 (ANSUR II).
LIKE_THEM = {
    "other_leg": "below_knee",
    "girth_from": "sound_limb",
    "age_band": "adult",
    "sex": "male",
    "body_mass_index": 25.0,
}
NEEDED = {"travel_mm": 0.0, "gap_advised_mm": 12.7}
# (figure, what is known, its value)
VALUES = [
    *[("dorsiflexion_used_deg", {"dorsiflexion_given": False, "ankle": ankle}, up) for ankle, up, _ in ANKLES],
    *[("plantarflexion_used_deg", {"plantarflexion_given": False, "ankle": ankle}, down) for ankle, _, down in ANKLES],
    # 13 + 60 above the rim, or 100 + 10 + 12.5
    ("lower_strap_before_mm", BEFORE | {"profile": "low", "hardware_above_rim_mm": 100.0}, 73.0),
    ("lower_strap_before_mm", BEFORE | {"profile": "high", "hardware_above_rim_mm": 100.0}, 122.5),
    # the lower strap's upper edge lies 73 + 12.5 above the rim
    ("travel_mm", TRAVEL | {"part_from_mm": 85.499}, 6.0),
    ("travel_mm", TRAVEL | {"part_from_mm": 85.5}, 0.0),
    # its two ends, whichever was measured first
    ("travel_mm", TRAVEL | {"part_from_mm": 120.0, "part_to_given": True, "part_to_mm": 85.499}, 6.0),
    ("travel_mm", TRAVEL | {"part_from_mm": 120.0, "part_to_given": True, "part_to_mm": 85.5}, 0.0),
    ("travel_mm", TRAVEL | {"part_from_mm": 85.5, "part_to_given": True, "part_to_mm": 120.0}, 0.0),
    # half of 60 up, less 40 · (1 - half the root of 3): at 30 degrees, by plane rotation
    ("rise_at_end_mm", {"rim_radius_mm": 60.0, "rim_height_mm": 40.0, "ankle_most_deg": 30.0}, 20 * 3**0.5 - 10.0),
    # 500 g less 0.32 of it, and two of 15; a hoop of 0.4 kg at 200 mm has 0.4 · 0.2² = 0.016 kg m²
    ("mass_g", {"closed_mass_g": 500.0, "open_share": 0.32, "strap_mass_g": 15.0}, 370.0),
    ("gyration_mm", {"shell_inertia_kg_m2": 0.016, "shell_mass_g": 400.0}, 200.0),
    ("inertia_kg_m2", {"gyration_mm": 200.0, "shell_mass_g": 400.0}, 0.016),
    # 17 + 3 is 20 exactly; a little more makes the next half
    ("gap_needed_mm", NEEDED | {"rim_rise_mm": 17.0}, 20.0),
    ("gap_needed_mm", NEEDED | {"rim_rise_mm": 17.001}, 20.5),
    ("gap_needed_mm", NEEDED | {"rim_rise_mm": 2.0}, 12.7),
    *[("girth_suggested", LIKE_THEM | {"body_mass_index": index}, like) for index, like in
      ((15.399, False), (15.4, True), (15.401, True), (43.499, True), (43.5, True), (43.501, False))],
    ("girth_suggested", LIKE_THEM | {"other_leg": "sound"}, False),
    ("girth_suggested", LIKE_THEM | {"other_leg": "sound", "girth_from": "chosen"}, True),
    ("girth_suggested", LIKE_THEM | {"age_band": "child"}, False),
    ("girth_suggested", LIKE_THEM | {"sex": "female"}, True),
    ("girth_suggested", LIKE_THEM | {"sex": ""}, False),
]  # fmt: skip


@pytest.mark.parametrize(("figure", "known", "value"), VALUES)
def test_a_figure_has_its_value(figure, known, value):
    assert value_of(FIGURES[figure]["tree"], known) == pytest.approx(
        value, rel=1e-9, abs=1e-9
    )  # a few doubles


NAMED = {
    "length_typed": "a",
    "length_taken_mm": 400.0,
    "girth_typed": "a",
    "girth_mm": 380.0,
    "follows": "It follows.",
}
HARDWARE = STRAP | {"hardware_length_given": True, "upper_strap_mm": 60.0}
ABOVE = STRAP | {"profile": "high", "hardware_above_rim_given": True, "gap_mm": 13.0, "lower_strap_mm": 60.0}
MOVED = {"part_travel_mm": 6.0, "gap_by_ankle_mm": 12.7, "gap_mm": 13.0, "rim_rise_mm": 7.0, "margin_mm": 6.0}
# (figure, what is known, what its derivation says)
DERIVED = [
    *[(f"{kind}_mm", NAMED | {f"{kind.split('_')[0]}_count": float(count)}, says)
      for kind in ("length_taken", "girth") for count, says in ((1, "one reading"), (2, "mean of two"), (3, "middle one of three"))],
    ("finished_length_mm", NAMED | {"trim_mm": 0.0}, "It follows."),
    ("finished_length_mm", NAMED | {"trim_mm": 0.001}, "The workshop leaves"),
    # 37.5 + 10 + 12.5 is the usual 60
    ("upper_strap_mm", HARDWARE | {"hardware_length_mm": 37.5}, "the workshop's usual place"),
    ("upper_strap_mm", HARDWARE | {"hardware_length_mm": 37.501}, "Below the mechanism"),
    # 50.5 - 13 + 10 + 12.5 is the usual 60
    ("upper_strap_mm", HARDWARE | OTHER | {"hardware_length_mm": 37.5}, "as entered; 60\u00a0mm is the workshop's usual place"),
    ("upper_strap_mm", HARDWARE | OTHER | {"hardware_length_mm": 37.501}, "Below the mechanism"),
    ("lower_strap_mm", ABOVE | OTHER | {"hardware_above_rim_mm": 50.5}, "as entered; 60\u00a0mm is the workshop's usual place"),
    ("lower_strap_mm", ABOVE | OTHER | {"hardware_above_rim_mm": 50.501}, "Above the foot's mechanism"),
    ("lower_strap_mm", ABOVE | {"hardware_above_rim_mm": 50.5}, "the workshop's usual place"),
    ("lower_strap_mm", ABOVE | {"hardware_above_rim_mm": 50.501}, "Above the foot's mechanism"),
    ("lower_strap_mm", ABOVE | {"hardware_above_rim_mm": 90.0, "profile": "low"}, "the workshop's usual place"),
    ("travel_mm", MOVED | {"travel_mm": 0.0}, "No part below the straps"),
    ("travel_mm", MOVED | {"travel_mm": 0.001}, "shortens by"),
    ("gap_advised_mm", MOVED | {"travel_mm": 0.0}, "is usual for this ankle."),
    ("gap_advised_mm", MOVED | {"travel_mm": 0.001}, "plus"),
    ("margin_mm", MOVED | {"travel_mm": 0.0}, "less the rim's rise 7\u00a0mm leaves"),
    ("margin_mm", MOVED | {"travel_mm": 0.001}, "and the travel"),
    ("rear_trim_mm", {"thigh_behind_axis_given": False, "knee_named": "polycentric"}, "isn't measured"),
    ("rear_trim_mm", {"thigh_behind_axis_given": True, "knee_named": "polycentric"}, "an estimate only"),
    ("rear_trim_mm", {"thigh_behind_axis_given": True, "knee_named": "single_axis"}, "clears the thigh"),
    *[("pivots_stay_above_mm", PIVOTS | {"pivots_below_apex_mm": below}, says)
      for below, says in ((0.0, "stay at least"), (-0.001, "stay at least"), (0.001, "come down to"))],
    *[("pivots_past_front_mm", PIVOTS | {"pivots_past_front_mm": past}, says)
      for past, says in ((0.0, "clear of it"), (-0.001, "clear of it"), (0.001, "beyond it"))],
    *[("rim_rise_mm", {"rim_rise_mm": rise, "rise_at_end_mm": 7.0}, says)
      for rise, says in ((7.0, "rises most at"), (7.001, "rises most before the end"))],
    ("likely_girth_mm", {"sex": "male"}, "4,082 men"),
    ("likely_girth_mm", {"sex": "female"}, "1,986 women"),
    ("hcpcs", {"side": "left", "hcpcs": "L5705"}, "with LT for the left side"),
    ("hcpcs", {"side": "right", "hcpcs": "L5705"}, "with RT for the right side"),
]  # fmt: skip


@pytest.mark.parametrize(("figure", "known", "says"), DERIVED)
def test_a_derivation_says_which_case_it_was(figure, known, says):
    known = {figure: value_of(FIGURES[figure]["tree"], known)} | known

    assert says in derivation(FIGURES[figure], known)


# What a plain number of the entry may be, from the entry's own description (this project's default).
PART_AT = {"moving_part.from_above_rim": "10", "moving_part.to_above_rim": "30", "moving_part.travel": None}
PERSON = {
    f"person.{key}": None
    for key in ("k_level", "age_band", "stature", "sex", "heavy_wear", "needs_help_to_don")
}
RANGES = [
    ("knee.max_flexion_deg", 30, 180, {}),
    ("foot.dorsiflexion_deg", 0, 60, {}),
    ("foot.plantarflexion_deg", 0, 60, {}),
    ("pylon.lean_forward_deg", -30, 30, {"pylon.behind_front_at_apex": None, "pylon.lean_outward_deg": None}),
    ("pylon.lean_outward_deg", -30, 30, {"pylon.behind_front_at_apex": None, "pylon.lean_forward_deg": None}),
    ("moving_part.rotation_deg", 0, 180, PART_AT),
    ("person.body_mass_kg", 5, 400, PERSON),
]


@pytest.mark.parametrize(("field", "least", "most", "beside"), RANGES)
def test_a_plain_number_s_range_ends_where_it_says(field, least, most, beside):
    def read(value: float) -> bool:
        entry = entry_with(beside | {field: value})
        return "reading.unreadable" not in {flag["id"] for flag in reckon(entry, catalogue())["flags"]}

    assert [read(value) for value in (least, most)] == [True, True]
    assert [read(value) for value in (least - 0.001, most + 0.001)] == [False, False]


def test_what_is_left_out_stands_at_nought():
    entry = entry_with(PART_AT | {"moving_part.rotation_deg": None})
    known, _, _ = quantities(read_entry(entry), read_catalogue(catalogue()), None, BOOK)

    defaults = {name: given["default"] for name, given in BOOK.givens["entry"].items() if "default" in given}
    numbers = {name for name, default in defaults.items() if isinstance(default, float)}
    assert numbers == {
        "stop_below_apex_mm",
        "thigh_side_below_apex_mm",
        "thigh_side_width_mm",
        "lean_forward_deg",
        "lean_outward_deg",
        "part_travel_mm",
        "part_rotation_deg",
    }
    assert {name: known[name] for name in numbers} == dict.fromkeys(numbers, 0.0)
