"""Each check: a case that fires it, one exactly on its limit, one well clear of it.

The limits are written here as fractions or as sums that can be followed by hand, never taken from the
evaluator. Tarn Street's catalogue: strap 25 wide, 10 clear, 60 and 60, spacing 90 and 120; walls 4 and 7.5;
reach 0.62 and 0.94; relief 0 and 18; 5 clear to what stands still and 10 to what moves.
"""
# ruff: noqa: E501  (a table, one case to a line)

import math
from fractions import Fraction
from itertools import pairwise

import pytest

from orders.reckon import reckon
from orders.reckoning.constants import FRONT_LINE, FRONT_LINE_GIRTH_MM, GIRTH_PROFILE
from orders.reckoning.outline import station_at, stations
from orders.rulebook.beside import names_of_check
from orders.rulebook.book import load_book
from orders.rulebook.checks import derivation
from tests.orders.entries import catalogue, entry_with

TARN = catalogue()
INCH = Fraction(254, 10)
BESIDE = load_book().givens["beside"].keys()
LEVELS = {check["id"]: check["level"] for check in load_book().checks}

POLY = {"knee.named": "polycentric", "knee.pivots_seen": "several"}
HIGH = {"foot.profile": "high"}
PART = {"moving_part.travel": None, "moving_part.rotation_deg": None}
PERSON = {
    "person.k_level": "K2", "person.heavy_wear": False, "person.needs_help_to_don": False,
    "person.age_band": "adult", "person.stature": None, "person.body_mass_kg": None, "person.sex": None,
}  # fmt: skip
NO_ROUTE = {"second_route.apex_to_floor": None, "second_route.rim_to_floor": None}
NO_REAR = {"rear_room.axis_below_apex": None}
HALF = Fraction(1, 2)


def mm(value: Fraction | int) -> str:
    """A length as a person types it; only what four decimals can say."""
    scaled = Fraction(value) * 10_000
    assert scaled.denominator == 1
    whole, part = divmod(int(scaled), 10_000)
    return f"{whole}.{part:04d} mm"


def up_to(value: float) -> Fraction:
    """The next four-decimal number above a value that no decimal says exactly."""
    return Fraction(math.ceil(value * 10_000), 10_000)


def twice(value: Fraction | int) -> list[str]:
    return [mm(value), mm(value)]


def by_stature(sex: str | None, stature: int, sds: str) -> dict:
    """A length so many residual standard deviations from the survey's line (ansur2_calf_relations.csv)."""
    slope, intercept, sd = {
        "male": ("0.3033", "-117.12", "15.87"),
        "female": ("0.3066", "-112.95", "14.61"),
        None: ("0.2706", "-58.05", "15.83"),
    }[sex]
    length = Fraction(slope) * stature + Fraction(intercept) + Fraction(sds) * Fraction(sd)
    return PERSON | {"person.sex": sex, "person.stature": f"{stature} mm", "length": twice(length)}


# Rim rise of a solid ankle as designed: r 50, h 20, 8 deg at most. Published values 4.3's formula.
RISE_SOLID = 50 * math.sin(math.radians(8)) - 20 * (1 - math.cos(math.radians(8)))
CONTACT = up_to(RISE_SOLID)
TIGHT = up_to(RISE_SOLID + 3)
# A rim on the axis's own level rises by r·sin t: with t = 30 deg exactly by half of r, up to the double.
LEVEL_30 = {"foot.axis_above_rim": "0", "foot.dorsiflexion_deg": "30", "foot.plantarflexion_deg": "0"}


def contact(rim_depth: Fraction, gap: Fraction) -> dict:
    """A rim rise of exactly a quarter of the rim's depth (sin 30 deg = 1/2, r half of the depth)."""
    return LEVEL_30 | {"foot.rim_depth": mm(rim_depth), "gap": mm(gap)}


def collar(above: Fraction | None) -> dict:
    return {"footwear": "boot", "collar_above_rim": None if above is None else mm(above), "gap": "15"}


def part(low: Fraction | int, high: Fraction | int, **more) -> dict:
    """Made 387 (400 less 13), gap 13: straps 73 and 340 above the rim, 12.5 to either side."""
    place = {"moving_part.from_above_rim": mm(low), "moving_part.to_above_rim": mm(high)}
    return PART | place | {"gap": "13"} | more


def service(side: str, place: Fraction | int, stays_open: bool = True) -> dict:
    """Made 387: the front from the relief down, the rear from 0.19 to 0.62 of it, the sides all the way."""
    point = {"what": "charging port", "side": side, "below_apex": mm(place), "stays_open": stays_open}
    return {"gap": "13", "service_points": [point]}


IN_CM = {"units": "cm", "length": ["40", "40"], "girth": ["38.5", "38.5"]}


def below(text: str) -> dict:
    return {"service_points": [{"what": "valve", "side": "outer", "below_apex": text, "stays_open": False}]}


# The shell's front at the apex stands 46/385 of the girth before the pylon's axis; girth 385, wall 4: 42 inside.
FRONT_385 = Fraction(int(FRONT_LINE[0][1]))
STOP = {"girth": ["385 mm", "385 mm"], "knee.stop_below_apex": "0"}
assert FRONT_LINE_GIRTH_MM == 385
# The inside's breadth at the apex, from the profile's last row: girth by an ellipse of that shape, less two walls.
APEX_SHARE, APEX_RATIO = GIRTH_PROFILE[-1][1:]


def ellipse_perimeter(a: float, b: float, steps: int = 4000) -> float:
    """By adding up chords, which the code doesn't do; right to about 1e-6 of its value."""
    points = [
        (a * math.cos(2 * math.pi * n / steps), b * math.sin(2 * math.pi * n / steps))
        for n in range(steps + 1)
    ]
    return sum(math.dist(p, q) for p, q in pairwise(points))


APEX_BREADTH = 380 * APEX_SHARE / ellipse_perimeter(HALF, APEX_RATIO / 2)
INSIDE_AT_APEX = APEX_BREADTH - 8


def pivots(
    points: tuple[tuple[str, str], ...], forward: Fraction | int = 0, down: Fraction | int = 0
) -> dict:
    """Four pivots, (forward, above) each in the contract's order, all moved by so much."""

    def typed(value: Fraction) -> str:
        return f"-{mm(-value)}" if value < 0 else mm(value)

    names = ("lower_front", "lower_rear", "upper_front", "upper_rear")
    return POLY | {"knee.hardware_length": "60", "pivots": {
        name: {"forward": typed(Fraction(x) + forward), "below_apex": typed(down - Fraction(y))}
        for name, (x, y) in zip(names, points, strict=True)
    }}  # fmt: skip


# Published values 5.5: at 45 deg the rear upper pivot has come down to 37.429 (printed to 0.001) above the lower two,
# and falls on the whole way there; the front one comes 15.5501 forward at most, between two steps of 1 deg.
PRINTED_KNEE = (("16", "0"), ("-16", "0"), ("2", "60"), ("-17", "45"))
BENT_45 = {"knee.max_flexion_deg": "45"}
# Base 40, thigh link 20, side links root 500 long: bent by f, one pivot lies root(2000 - 1600 cos f) from where the
# other end of its link would be; at 90 deg that is both side links in one line, and the knee locks.
LOCKS_AT_90 = (("0", "0"), ("-40", "0"), ("-10", "20"), ("-30", "20"))
# Published values 5.7: an edge s below and b behind the axis meets the thigh a behind it where s sin f + b cos f = a.
# The short rear ends at 0.62 of 387; the axis lies 35 below the apex and 6 behind the pylon's, and the knee bends 130.
REAR_END = station_at(stations(387, 380), 0.62 * 387)
MOST_BEHIND = (0.62 * 387 - 35) * math.sin(math.radians(130)) + (-6 - REAR_END.rear_mm) * math.cos(
    math.radians(130)
)


def behind(thigh: Fraction) -> dict:
    return {"gap": "13", "rear_room.thigh_behind_axis": mm(thigh)} | NO_REAR


INSIDE_FRONT_380 = FRONT_385 * 380 / 385 - 4

# (check, changes that fire it, changes exactly on its limit, changes well clear of it). Where there is no limit
# but a word, the middle one is the nearest that keeps quiet.
CASES = [
    ("reading.unreadable", {"gap": "12 13"}, {"gap": "12 1/2"}, {"gap": "13"}),
    ("reading.unreadable", {"foot.dorsiflexion_deg": "60.1"}, {"foot.dorsiflexion_deg": "60"}, {}),
    ("reading.unreadable", {"foot.dorsiflexion_deg": "ten"}, {"foot.dorsiflexion_deg": 0}, {}),
    ("reading.unreadable", {"knee.width": "3000.0001"}, {"knee.width": "3000"}, {}),
    ("reading.wrong_unit", {"length": ["39.4"]}, {"length": ["39.4 cm"]}, {}),
    ("reading.wrong_unit", {"length": ["239.9"], "units": "in"}, {"length": ["9.45 in"]}, {}),
    ("reading.wrong_unit", {"knee.hardware_length": "4.25"}, {"knee.hardware_length": "40"}, {}),
    ("reading.wrong_unit", IN_CM | below("68.1"), IN_CM | below("68"), below("250")),
    ("reading.repeats_differ", {"length": ["400", "408.0001"]}, {"length": ["400", "408"]}, {}),
    ("reading.repeats_differ", {"girth": ["388.0001", "380"]}, {"girth": ["388", "380"]}, {}),
    ("reading.repeats_differ", {"length": ["394", "349"]}, {"length": ["394", "349", "394"]}, {}),
    ("reading.only_one", {"length": ["400"]}, {"length": ["400"], "second_route.apex_to_floor": "500 mm", "second_route.rim_to_floor": "100 mm"}, {}),
    ("reading.only_one", {"girth": ["380"]}, {"girth": ["380", "381"]}, {}),
    ("length.routes_differ", {"second_route.apex_to_floor": mm(510 + Fraction(1, 10_000)), "second_route.rim_to_floor": "100"},
     {"second_route.apex_to_floor": "510", "second_route.rim_to_floor": "100"}, {"second_route.apex_to_floor": "500", "second_route.rim_to_floor": "100"}),
    ("length.routes_differ", {"second_route.apex_to_floor": mm(490 - Fraction(1, 10_000)), "second_route.rim_to_floor": "100"},
     {"second_route.apex_to_floor": "490", "second_route.rim_to_floor": "100"}, {"second_route.apex_to_floor": "495", "second_route.rim_to_floor": "100"}),
    ("length.rim_unusual", NO_ROUTE | {"second_route.rim_to_floor": "49.9999 mm"}, NO_ROUTE | {"second_route.rim_to_floor": "50"}, NO_ROUTE | {"second_route.rim_to_floor": "90"}),
    ("length.rim_unusual", NO_ROUTE | {"second_route.rim_to_floor": "180.0001 mm"}, NO_ROUTE | {"second_route.rim_to_floor": "180"}, NO_ROUTE | {"second_route.rim_to_floor": "90"}),
    ("length.impossible", {"length": ["119.9999 mm"]}, {"length": ["120 mm"]}, {}),
    ("length.impossible", {"length": ["700.0001 mm"]}, {"length": ["700 mm"]}, {}),
    ("girth.impossible", {"girth": ["119.9999 mm"]}, {"girth": ["120 mm"]}, {}),
    ("girth.impossible", {"girth": ["760.0001 mm"]}, {"girth": ["760 mm"]}, {}),
    ("length.unusual", {"length": ["279.9999 mm"]}, {"length": ["280"]}, {}),
    ("length.unusual", {"length": ["560.0001 mm"]}, {"length": ["560"]}, PERSON | {"person.age_band": "child", "length": ["250"]}),
    ("girth.unusual", {"girth": ["269.9999"]}, {"girth": ["270"]}, {}),
    ("girth.unusual", {"girth": ["500.0001"]}, {"girth": ["500"]}, PERSON | {"person.age_band": "child", "girth": ["250"]}),
    ("length.unlike_stature", by_stature("male", 1750, "3.01"), by_stature("male", 1750, "3"), by_stature("male", 1750, "0")),
    ("length.unlike_stature", by_stature("female", 1630, "-3.01"), by_stature("female", 1630, "-3"), by_stature("female", 1630, "1")),
    ("length.unlike_stature", by_stature(None, 1710, "3.01"), by_stature(None, 1710, "3"), PERSON),
    ("shape.unusual", {"girth": twice(Fraction(55, 100) * 500 - Fraction(1, 100)), "length": twice(500)}, {"girth": twice(275), "length": twice(500)}, {}),
    ("shape.unusual", {"girth": twice(480 + Fraction(1, 100)), "length": twice(300)}, {"girth": twice(480), "length": twice(300)}, {}),
    ("girth.extra_unusual", {"extra_girths": [{"above_floor": "100", "girth": "170.9"}]}, {"extra_girths": [{"above_floor": "100", "girth": "171"}]}, {"extra_girths": [{"above_floor": "100", "girth": "230"}]}),
    ("girth.extra_unusual", {"extra_girths": [{"above_floor": "100", "girth": "437.0001"}]}, {"extra_girths": [{"above_floor": "100", "girth": "437"}]}, {"extra_girths": []}),
    ("girth.extra_unplaced", {"extra_girths": [{"above_floor": "200", "girth": "250"}]}, {"extra_girths": [{"above_floor": "200", "girth": "250"}], "second_route.apex_to_floor": "500 mm", "second_route.rim_to_floor": None}, {"extra_girths": []}),
    ("rear.nothing_left", behind(up_to(MOST_BEHIND) + Fraction("0.01")), behind(up_to(MOST_BEHIND) - Fraction("0.01")), behind(Fraction(60))),
    ("girth.not_sound", {"other_leg": "below_knee"}, {"other_leg": "below_knee", "girth_from": "chosen"}, {}),
    ("girth.chosen", {"girth_from": "chosen"}, {"girth_from": "chosen", "other_leg": "none"}, {}),
    ("girth.see_someone", {"swelling": "hot_or_sudden"}, {"swelling": "some"}, {"swelling": "none"}),
    ("girth.over_stocking", {"girth_over": "stocking"}, {"girth_over": "skin"}, {}),
    ("taken.not_standing", {"taken": "seated"}, {"taken": "standing"}, {}),
    ("taken.not_standing", {"taken": "off_body"}, {"taken": "standing"}, {}),
    ("build.foam", {"construction": "foam_on"}, {"construction": "exoskeletal"}, {}),
    ("build.exoskeletal", {"construction": "exoskeletal"}, {"construction": "foam_on"}, {}),
    ("shoe.collar", collar(Fraction(15)), collar(15 - Fraction(1, 10_000)), {}),
    ("shoe.collar", collar(None), {"footwear": "low", "collar_above_rim": "40"}, {}),
    ("gap.contact", contact(Fraction(80), 20 - Fraction(1, 100)), contact(Fraction(80), 20 + Fraction(1, 100)), contact(Fraction(80), Fraction(25))),
    ("gap.contact", contact(Fraction(80), Fraction(20)), {"gap": mm(CONTACT)}, {}),
    ("gap.contact", {"gap": mm(CONTACT - Fraction(1, 1000))}, {"gap": mm(CONTACT + Fraction(1, 1000))}, {}),
    ("gap.tight", contact(Fraction(80), 23 - Fraction(1, 10_000)), contact(Fraction(80), Fraction(23)), contact(Fraction(80), Fraction(25))),
    ("gap.tight", {"gap": mm(TIGHT - Fraction(1, 1000))}, {"gap": mm(TIGHT)}, {}),
    ("gap.outside_practice", {"gap": "12.6999"}, {"gap": "12.7"}, {}),
    ("gap.outside_practice", {"gap": "25.4001"}, {"gap": "25.4"}, {"gap": "20"}),
    ("gap.outside_practice", part(0, 30, gap="31.4001") | {"moving_part.travel": "6"}, part(0, 30, gap="31.4") | {"moving_part.travel": "6"}, {}),
    ("gap.less_than_advised", {"foot.ankle": "jointed", "gap": "19.0499"}, {"foot.ankle": "jointed", "gap": "19.05"}, {}),
    ("gap.less_than_advised", {"foot.ankle": "wide", "gap": "25.3999"}, {"foot.ankle": "wide", "gap": "25.4"}, {"foot.ankle": "wide"}),
    ("knee.pivots_disagree", {"knee.pivots_seen": "one", "knee.named": "polycentric"}, {"knee.pivots_seen": "unsure", "knee.named": "polycentric"}, POLY),
    ("knee.pivots_disagree", {"knee.pivots_seen": "several"}, {"knee.pivots_seen": "unsure"}, {"knee.pivots_seen": "one"}),
    ("knee.hardware_missing", POLY, POLY | {"knee.hardware_length": "100"}, {}),
    ("knee.hardware_missing", {"knee.control": "fluid"}, {"knee.control": "fluid", "knee.hardware_length": "100"}, {}),
    ("knee.hardware_beyond_shell", {"length": twice(240), "gap": "13", "knee.hardware_length": "227"}, {"length": twice(240), "gap": "13", "knee.hardware_length": "226.9999"}, {"knee.hardware_length": "100"}),
    ("knee.thigh_side_low", {"knee.thigh_side_below_apex": "0.0001"}, {"knee.thigh_side_below_apex": "0"}, {}),
    ("knee.thigh_side_low", {"knee.thigh_side_width": mm(up_to(INSIDE_AT_APEX + 0.01))}, {"knee.thigh_side_width": mm(up_to(INSIDE_AT_APEX - 0.01))}, {"knee.thigh_side_width": "60"}),
    ("knee.thigh_side_low", pivots(PRINTED_KNEE, down=Fraction("37.4305")) | BENT_45, pivots(PRINTED_KNEE, down=Fraction("37.4275")) | BENT_45, pivots(PRINTED_KNEE) | BENT_45),
    ("knee.thigh_side_low", pivots(PRINTED_KNEE, forward=up_to(INSIDE_FRONT_380 - Fraction("15.5501") + Fraction("0.005"))), pivots(PRINTED_KNEE, forward=up_to(INSIDE_FRONT_380 - Fraction("15.5502"))), pivots(PRINTED_KNEE)),
    ("knee.pivots_lock", pivots(LOCKS_AT_90) | {"knee.max_flexion_deg": "90.0001"}, pivots(LOCKS_AT_90) | {"knee.max_flexion_deg": "89.9999"}, pivots(PRINTED_KNEE)),
    ("knee.pivots_lock", pivots((("0", "0"), ("-40", "0"), ("0", "50"), ("-40", "50"))), pivots((("0", "0"), ("-40", "0"), ("0", "50"), ("-17", "45"))) | BENT_45, {}),
    ("stop.meets_edge", STOP | {"knee.stop_projection": "32.0001"}, STOP | {"knee.stop_projection": "32"}, STOP | {"knee.stop_projection": "10"}),
    ("stop.meets_edge", STOP | {"knee.stop_projection": "60", "knee.stop_below_apex": "18", "shell.top": "cut_down"}, STOP | {"knee.stop_projection": "60", "knee.stop_below_apex": "17.9999", "shell.top": "cut_down"}, {}),
    ("foot.hardware_missing", HIGH, HIGH | {"foot.hardware_above_rim": "60"}, {}),
    ("foot.hardware_unexpected", {"foot.hardware_above_rim": "20.0001"}, {"foot.hardware_above_rim": "20"}, {}),
    ("foot.axis_unknown", HIGH | {"foot.ankle": "jointed", "foot.hardware_above_rim": "60"}, HIGH | {"foot.ankle": "jointed", "foot.hardware_above_rim": "60", "foot.axis_above_rim": "-20"}, HIGH | {"foot.ankle": "spring", "foot.hardware_above_rim": "60"}),
    # long rear: 387 × 0.06 + 13 = 36.22 above the rim; 10 to what moves
    ("rear.meets_foot", HIGH | {"gap": "13", "shell.rear": "long", "foot.hardware_above_rim": "26.2201"}, HIGH | {"gap": "13", "shell.rear": "long", "foot.hardware_above_rim": "26.22"}, HIGH | {"gap": "13", "foot.hardware_above_rim": "26.2201"}),
    # spacing = made - (hardware + 22.5) - 60; made 387
    ("strap.no_room", POLY | {"gap": "13", "knee.hardware_length": mm(387 - 60 - Fraction(225, 10) - 90 + Fraction(1, 10_000))}, POLY | {"gap": "13", "knee.hardware_length": "214.5"}, POLY | {"knee.hardware_length": "100"}),
    # half of a strap 25 wide is 12.5
    ("strap.over_edge", {"shell.upper_strap": "12.4999"}, {"shell.upper_strap": "12.5"}, {"shell.upper_strap": "75"}),
    ("strap.over_edge", {"shell.lower_strap": "12.4999"}, {"shell.lower_strap": "12.5"}, {"shell.lower_strap": "75"}),
    ("strap.close", POLY | {"gap": "13", "knee.hardware_length": "184.5001"}, POLY | {"gap": "13", "knee.hardware_length": "184.5"}, POLY | {"knee.hardware_length": "100"}),
    ("strap.close", POLY | {"gap": "13", "knee.hardware_length": "214.5"}, POLY | {"gap": "13", "knee.hardware_length": "214.5001"}, {}),
    ("strap.across_moving_part", part(150, 200), part(352 + HALF, 380), part(10, 30)),
    ("strap.across_moving_part", part(352, 380), part(0, 60 + HALF), {}),
    ("strap.across_moving_part", part(0, 60 + HALF + Fraction(1, 10_000)), part(0, 60 + HALF), {}),
    # pad: below half of the finished length, 387 / 2 = 193.5 = hardware + 22.5
    ("strap.pad_advised", POLY | {"gap": "13", "knee.hardware_length": "171.0001"}, POLY | {"gap": "13", "knee.hardware_length": "171"}, {}),
    ("wall.wear", PERSON | {"person.k_level": "K4"}, PERSON | {"person.k_level": "K4", "shell.wall": "thick"}, PERSON),
    ("wall.wear", PERSON | {"person.heavy_wear": True}, PERSON | {"person.heavy_wear": True, "shell.wall": "thick"}, PERSON),
    ("wall.wear", {"other_leg": "above_knee", "girth_from": "chosen"}, {"other_leg": "none", "girth_from": "chosen"}, {}),
    ("wall.hard_to_don", PERSON | {"person.needs_help_to_don": True, "shell.wall": "thick"}, PERSON | {"person.needs_help_to_don": True}, PERSON | {"shell.wall": "thick"}),
    ("service.unasked", {"knee.control": "powered", "knee.hardware_length": "100"}, {"knee.control": "powered", "knee.hardware_length": "100", "service_points": []}, {"knee.control": "fluid", "knee.hardware_length": "100"}),
    ("service.unasked", {"knee.control": "microprocessor", "knee.hardware_length": "100"}, service("front", 0), {}),
    ("service.covered", service("outer", Fraction(1, 10_000)), service("outer", 0), service("outer", 400)),
    ("service.covered", service("inner", 387 - Fraction(1, 10_000)), service("inner", 387), service("inner", 100, stays_open=False)),
    ("service.covered", service("front", 18 + Fraction(1, 10_000)) | {"shell.top": "cut_down"}, service("front", 18) | {"shell.top": "cut_down"}, {}),
    # rear: 0.62 × 387 = 239.94 down; from 0.19 × 387 = 73.53
    ("service.covered", service("rear", Fraction("239.9399")), service("rear", Fraction("239.94")), service("rear", 300)),
    ("service.covered", service("rear", Fraction("73.5301")), service("rear", Fraction("73.53")), service("rear", 20)),
    ("level.shape", {"level": "knee_disarticulation"}, {"level": "transfemoral"}, {}),
    ("person.grows", PERSON | {"person.age_band": "child"}, PERSON, {}),
    # made 200 to 480, girth 230 to 540
    ("catalogue.not_made", {"length": ["212.9999 mm"], "gap": "13"}, {"length": ["213 mm"], "gap": "13"}, {}),
    ("catalogue.not_made", {"length": ["494"], "gap": "13"}, {"length": ["493.9999"], "gap": "13"}, {}),
    ("catalogue.not_made", {"girth": ["229.9999 mm"]}, {"girth": ["230"]}, {}),
    ("catalogue.not_made", {"girth": ["540.0001"]}, {"girth": ["540"]}, {}),
    ("catalogue.not_made", {"shell.wall": "standard"}, {"shell.wall": "thick"}, {}),
    ("catalogue.not_made", {"shell.rear": "half"}, {"shell.rear": "long"}, {}),
    ("catalogue.not_made", {"shell.top": "open_front"}, {"shell.top": "cut_down"}, {}),
    ("catalogue.not_made", {"shell.colour": "coal"}, {"shell.colour": "moss"}, {}),
    ("catalogue.not_made", {"shell.finish": "covered"}, {"shell.finish": "satin"}, {}),
]  # fmt: skip


def flags(changes: dict) -> dict[str, dict]:
    return {flag["id"]: flag for flag in reckon(entry_with(changes), TARN)["flags"]}


NUMBERED = [pytest.param(*case, id=f"{n}-{case[0]}") for n, case in enumerate(CASES)]


@pytest.mark.parametrize(("check", "fires", "limit", "clear"), NUMBERED)
def test_a_check_fires_beyond_its_limit_and_not_on_it(check, fires, limit, clear):
    found = flags(fires)

    assert check in found
    assert found[check]["level"] == LEVELS[check]
    assert found[check]["fields"]
    assert not [
        word for word in ("{", "}", "?") if word in found[check]["says"] and check != "reading.wrong_unit"
    ]
    assert check not in flags(limit)
    assert check not in flags(clear)


def test_every_check_has_its_cases():
    elsewhere = {"knee.tight", "foot.tight", "strap.in_fold"}  # below, with their geometry
    beside = {check["id"] for check in load_book().checks if names_of_check(check) & BESIDE}  # test_beside.py

    assert len(beside) == 4
    assert {case[0] for case in CASES} | elsewhere | beside == set(LEVELS)


def test_the_plain_entry_raises_nothing():
    assert flags({}) == {}


def knee_of(room_mm: float) -> dict:
    """A knee as wide as the inside at the apex less the room to either side, and without depth.

    At the apex the shell's centre lies behind the pylon's axis; a knee with no depth, on that axis, has its
    corners off the ellipse's own axis, so that the least room is less than this: the test looks for the change.
    """
    width = up_to(INSIDE_AT_APEX - 2 * room_mm)
    return {"knee.width": mm(width), "knee.depth": "0.0001", "knee.hardware_length": "40"}


def centred(width: Fraction) -> dict:
    """The pylon's axis in the middle of the section at the apex: the least room is then square to the side."""
    depth = APEX_BREADTH * APEX_RATIO
    return {
        "knee.width": mm(width),
        "knee.depth": "0.0001",
        "knee.hardware_length": "0.0001 mm",
        "pylon.behind_front_at_apex": mm(up_to(depth / 2)),
        "pylon.lean_forward_deg": None,
        "pylon.lean_outward_deg": None,
    }


def test_the_knee_is_tight_under_the_catalogue_s_least_clearance():
    # 5 to each side of a width in the middle of an ellipse: breadth/2 - wall - width/2 = 5
    limit = INSIDE_AT_APEX - 10

    assert "knee.tight" in flags(centred(up_to(limit + 0.02)))
    assert "knee.tight" not in flags(centred(up_to(limit - 0.02)))
    assert "knee.tight" not in flags(centred(Fraction(40)))
    room = reckon(entry_with(centred(up_to(limit))), TARN)["clearances"]["knee_mm"]
    assert room == pytest.approx(5, abs=2e-3)  # chords of the test's own ellipse, and four decimals
    assert "larger than the inside" in flags(knee_of(-5))["knee.tight"]["says"]


def test_the_foot_is_tight_under_the_catalogue_s_least_clearance():
    # at the bottom edge: girth 0.6019 of the widest, depth over breadth 1.357; mechanism only there
    _, share, ratio = next(row for row in GIRTH_PROFILE if row[0] == 0.100)
    breadth = 380 * share / ellipse_perimeter(HALF, ratio / 2)
    changes = {
        "foot.depth": "0.0001", "gap": "13", "foot.hardware_above_rim": "13.0002 mm",
        # the front at the bottom edge stands 43/385 of the girth before the axis, 3/385 less than at the apex
        "pylon.behind_front_at_apex": mm(up_to(breadth * ratio / 2 + 3 * 380 / 385)),
        "pylon.lean_forward_deg": None, "pylon.lean_outward_deg": None,
    }  # fmt: skip
    limit = breadth - 8 - 10

    assert "foot.tight" in flags(changes | {"foot.width": mm(up_to(limit + 0.05))})
    assert "foot.tight" not in flags(changes | {"foot.width": mm(up_to(limit - 0.05))})
    assert "foot.tight" not in flags(changes | {"foot.width": "20"})
    room = reckon(entry_with(changes | {"foot.width": mm(up_to(limit))}), TARN)["clearances"]["foot_mm"]
    assert room == pytest.approx(5, abs=5e-3)


def test_a_strap_above_the_measured_rear_trim_is_noted():
    room = {"rear_room.thigh_behind_axis": "60", "rear_room.axis_below_apex": None}
    trim = reckon(entry_with(room), TARN)["rear_trim_mm"]

    assert trim > 60
    assert flags(room)["strap.in_fold"]["level"] == "note"
    just = {"knee.hardware_length": mm(up_to(trim + 0.0005 - 22.5))}  # the result is rounded to 0.001
    assert "strap.in_fold" not in flags(room | just)
    assert "strap.in_fold" in flags(
        room | {"knee.hardware_length": mm(up_to(trim - 22.5) - Fraction(1, 100))}
    )
    assert "strap.in_fold" not in flags({"knee.hardware_length": None})


def test_swapped_digits_and_a_gap_apart_are_named():
    assert "two digits look swapped" in flags({"length": ["394", "349"]})["reading.repeats_differ"]["says"]
    assert "about the gap" in flags({"length": ["400", "387.3"]})["reading.repeats_differ"]["says"]
    assert "up to 8 mm" in flags({"length": ["400", "370"]})["reading.repeats_differ"]["says"]


@pytest.mark.parametrize(
    ("other", "about"),
    [("390.3", True), ("390.4", False), ("384.3", True), ("384.2", False), ("409.7", True), ("415.8", False)],
)
def test_a_gap_apart_is_within_3_mm_of_the_gap(other, about):
    # this design's default: 3 mm either way of the gap of 12.7, so 9.7 to 15.7 apart
    flag = flags({"length": ["400", other], "gap": "12.7"})["reading.repeats_differ"]

    assert ("about the gap" in flag["says"]) is about


def test_length_and_girth_together_make_one_flag():
    flag = flags({"length": ["400", "430"], "girth": ["380", "400"]})["reading.repeats_differ"]

    assert flag["fields"] == ["length", "girth"]
    assert "lengths" in flag["says"]
    assert "girths" in flag["says"]


@pytest.mark.parametrize(
    ("changes", "check", "offer"),
    [
        ({"gap": "5"}, "gap.contact", {"field": "gap", "value": "12.7 mm"}),
        ({"gap": "9"}, "gap.tight", {"field": "gap", "value": "12.7 mm"}),
        ({"foot.ankle": "wide", "gap": "19"}, "gap.less_than_advised", {"field": "gap", "value": "25.4 mm"}),
        ({"other_leg": "none"}, "girth.not_sound", {"field": "girth_from", "value": "chosen"}),
        ({"construction": "foam_on"}, "build.foam", {"field": "construction", "value": "bare"}),
        ({"knee.pivots_seen": "several"}, "knee.pivots_disagree", {"field": "knee.named", "value": "polycentric"}),
        ({"foot.hardware_above_rim": "60"}, "foot.hardware_unexpected", {"field": "foot.profile", "value": "high"}),
        (HIGH | {"shell.rear": "long", "foot.hardware_above_rim": "60"}, "rear.meets_foot", {"field": "shell.rear", "value": "short"}),
        (HIGH | {"shell.rear": "short", "foot.hardware_above_rim": "200"}, "rear.meets_foot", None),
        (STOP | {"knee.stop_projection": "60"}, "stop.meets_edge", {"field": "shell.top", "value": "cut_down"}),
        (STOP | {"knee.stop_projection": "60", "knee.stop_below_apex": "18"}, "stop.meets_edge", None),
    ],
)  # fmt: skip
def test_a_way_out_is_offered_only_where_it_leads_out(changes, check, offer):
    assert flags(changes)[check]["offer"] == offer
    if offer:
        assert check not in flags(changes | {offer["field"]: offer["value"]})


def test_a_thicker_wall_says_how_much_it_adds():
    says = flags(PERSON | {"person.k_level": "K4"})["wall.wear"]["says"]
    thin, thick = (reckon(entry_with({"shell.wall": wall}), TARN)["mass_g"] for wall in ("thin", "thick"))

    assert f"It adds {thick - thin:.0f}\u00a0g." in says


def finely_figure(tree: object, says: str) -> dict:
    return {"id": "made_mm", "cases": [], "says": says, "tree": tree}


@pytest.mark.parametrize(("decimals", "finely"), [(1, 1), (2, 1), (3, 2), (4, 3), (5, 4)])
def test_a_derivation_is_as_fine_as_it_takes_to_add_up(decimals, finely):
    """A length is said to one decimal; a thousand times one adds up only from all of its decimals."""
    a = round(12 + 3 * 10.0**-decimals, decimals)
    known = {"a_mm": a, "beside_mm": 1.23456789, "made_mm": 1000 * a + 1e-9}
    figure = finely_figure(["*", "a_mm", 1000.0], "{a_mm}, beside {beside_mm}: {made_mm}")

    beside = {1: "1.23", 2: "1.235", 3: "1.2346", 4: "1.23457"}[finely]
    assert f"beside {beside}\u00a0mm" in derivation(figure, known)


def test_a_derivation_that_never_adds_up_has_one_decimal_more():
    known = {"a_mm": 1.23456789, "made_mm": 9.87654321}

    assert derivation(finely_figure("a_mm", "{a_mm}: {made_mm}"), known) == "1.23\u00a0mm: 9.88\u00a0mm"


def test_a_yes_adds_up_where_the_numbers_printed_say_yes_too():
    known = {"a_mm": 1.231, "b_mm": 1.234, "made_mm": True}

    said = derivation(finely_figure(["<", "a_mm", "b_mm"], "{a_mm} under {b_mm}"), known)

    assert said == "1.231\u00a0mm under 1.234\u00a0mm"
