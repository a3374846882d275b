import copy
import json
from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from orders.reckon import BesideError, CatalogueError, EntryError, catalogue_for_phone, reckon
from orders.reckoning.result import FIGURES
from orders.rulebook.book import load_book
from tests.orders.entries import catalogue, entry_with, set_at
from tests.orders.reckoning.published import rows as published
from tests.orders.survey import relations

TARN, QUAYSIDE = catalogue(), catalogue("quayside-forming")
RESULT_KEYS = (
    "schema length_taken_mm length_U_mm gap_mm gap_advised_mm finished_length_mm girth_mm girth_U_mm "
    "upper_strap_mm lower_strap_mm strap_spacing_mm foam_pad rim_rise_mm margin_mm inside_girth_mm "
    "rear_end_above_rim_mm rear_trim_mm mass_g inertia_kg_m2 stations clearances hcpcs derivations flags sendable"
)

POLYCENTRIC = {"named": "polycentric", "pivots_seen": "several", "control": "mechanical"}
THIRD = entry_with(
    {
        "units": "in",
        "length": ["16 1/2", "16 5/8"],
        "girth": ["38.5 cm", "38.4 cm"],
        "foot": {"profile": "high", "ankle": "jointed", "hardware_above_rim": "3"},
        "knee": POLYCENTRIC | {"hardware_length": "4 1/4"},
    }
)
# The worked cases of the design: finished, upper, lower, spacing, pad, rim rise, margin; stops and explains.
WORKED = {
    "plain": (
        entry_with({"length": ["15 1/2 in"]}),
        (381, 60, 60, 261, False, 6.764, 5.936),
        [],
    ),
    "wide": (
        entry_with({"length": ["400"], "foot.ankle": "wide"}),
        (374, 60, 60, 254, False, 19.257, 6.143),
        [],
    ),
    "polycentric, high": (THIRD, (401, 130.45, 79.65, 190.9, False, 12.259, 6.791), ["foot.axis_unknown"]),
    "close": (
        entry_with(
            {"length": ["350"], "foot.ankle": "spring", "knee": POLYCENTRIC | {"hardware_length": "150"}}
        ),
        (330, 172.5, 60, 97.5, True, 9.959, 9.091),
        ["strap.close"],
    ),
    "no room": (
        entry_with(
            {
                "length": ["300"],
                "foot": {"profile": "high", "ankle": "wide", "hardware_above_rim": "110"},
                "knee": POLYCENTRIC | {"hardware_length": "140"},
            }
        ),
        (274, 162.5, 107.1, 4.4, True, 19.257, 6.143),
        ["foot.axis_unknown", "strap.no_room"],
    ),
}
COLUMNS = (
    "finished_length_mm",
    "upper_strap_mm",
    "lower_strap_mm",
    "strap_spacing_mm",
    "foam_pad",
    "rim_rise_mm",
    "margin_mm",
)


@pytest.mark.parametrize("case", WORKED)
def test_the_worked_cases_come_out_as_printed(case):
    entry, figures, ids = WORKED[case]

    result = reckon(entry, TARN)

    assert tuple(result[key] for key in COLUMNS) == figures
    assert sorted(flag["id"] for flag in result["flags"] if flag["level"] != "note") == ids


def test_the_third_worked_case_has_every_printed_figure():
    result = reckon(THIRD, TARN)

    printed = {
        "length_taken_mm": 420.688, "length_U_mm": 7.517, "gap_mm": 19.05, "gap_advised_mm": 19.05,
        "finished_length_mm": 401, "girth_mm": 384.5, "girth_U_mm": 4.899, "inside_girth_mm": 359.367,
        "rear_end_above_rim_mm": 171.43, "hcpcs": "L5705",
    }  # fmt: skip
    assert {key: result[key] for key in printed} == printed
    assert 400 < result["mass_g"] < 1100  # common practice, no source: an adult's shell
    assert 0 < result["inertia_kg_m2"] < 0.1


def test_the_result_has_its_key_set_and_is_json():
    result = reckon(THIRD, TARN)

    assert list(result) == RESULT_KEYS.split()
    assert json.loads(json.dumps(result, allow_nan=False)) == result
    assert len(result["stations"]) == 19
    assert set(result["clearances"]) == {"knee_mm", "foot_mm", "stop_mm"}
    for flag in result["flags"]:
        assert list(flag) == ["id", "level", "fields", "at", "says", "do", "offer"]


def test_every_figure_says_how_it_came_about():
    derivations = reckon(THIRD, TARN)["derivations"]

    assert list(derivations) == [*FIGURES, "hcpcs"]
    assert not [says for says in derivations.values() if "{" in says or "?" in says]
    assert (
        derivations["finished_length_mm"]
        == "420.7 taken, 19.1 left open: made 401\u00a0mm long, rounded down."
    )


def test_nothing_handed_in_is_changed():
    entry, workshop = copy.deepcopy(THIRD), copy.deepcopy(QUAYSIDE)

    reckon(entry, workshop)

    assert (entry, workshop) == (THIRD, QUAYSIDE)


def test_stops_come_first():
    levels = [flag["level"] for flag in reckon(WORKED["no room"][0], TARN)["flags"]]

    assert levels == sorted(levels, key=["stop", "explain", "note"].index)
    assert levels[0] == "stop"


def test_an_explain_asks_for_an_answer_before_it_may_go():
    assert not reckon(THIRD, TARN)["sendable"]
    assert not reckon(THIRD | {"answers": {"foot.axis_unknown": "  "}}, TARN)["sendable"]
    assert reckon(THIRD | {"answers": {"foot.axis_unknown": "can't be seen"}}, TARN)["sendable"]


def test_a_stop_cannot_be_answered_away():
    entry = WORKED["no room"][0] | {"answers": {"strap.no_room": "please", "foot.axis_unknown": "unseen"}}

    assert not reckon(entry, TARN)["sendable"]


def test_a_reading_that_cannot_be_read_leaves_no_number_and_stops():
    result = reckon(entry_with({"length": ["4oo"]}), TARN)

    assert result["finished_length_mm"] is None
    assert result["stations"] == []
    assert [flag["id"] for flag in result["flags"] if flag["level"] == "stop"] == ["reading.unreadable"]
    assert not result["sendable"]


def test_a_wrong_unit_offers_the_reading_that_is_meant():
    result = reckon(entry_with({"length": ["39.4"]}), TARN)

    (flag,) = [flag for flag in result["flags"] if flag["level"] == "stop"]
    assert (flag["id"], flag["at"], flag["fields"]) == ("reading.wrong_unit", "length", ["length"])
    assert flag["offer"] == {"field": "length.0", "value": "39.4 cm"}


def test_knee_disarticulation_has_its_own_code():
    result = reckon(entry_with({"level": "knee_disarticulation", "side": "right"}), TARN)

    assert result["hcpcs"] == "L5706"
    assert "RT" in result["derivations"]["hcpcs"]


def test_what_is_left_to_trim_is_told_beside_the_finished_length():
    says = reckon(entry_with({"shell.wall": "standard"}), QUAYSIDE)["derivations"]["finished_length_mm"]

    assert "leaves 10\u00a0mm more below a marked line" in says


KNEE_ROWS = published("knee_linkage")
PRINTED_PIVOTS = {
    "lower_front": ("16", "0"),
    "lower_rear": ("-16", "0"),
    "upper_front": ("2", "-60"),
    "upper_rear": ("-17", "-45"),
}


def with_pivots(**more) -> dict:
    pivots = {name: {"forward": x, "below_apex": y} for name, (x, y) in PRINTED_PIVOTS.items()}
    return entry_with({"knee": POLYCENTRIC | {"hardware_length": "60"} | more, "pivots": pivots})


def test_a_knee_whose_pivots_are_entered_tells_how_it_goes():
    result = reckon(with_pivots(max_flexion_deg=140), TARN)

    # published values 5.5, printed to 0.001, the lower pivots at the apex's height
    way = {row["flexion_deg"]: row for row in result["mechanism"]}
    assert list(way) == list(range(0, 141, 10))
    for row in KNEE_ROWS:
        if row["flexion"] in way:
            told = way[row["flexion"]]
            assert list(told["front_pivot"].values()) == pytest.approx([row["cx"], -row["cy"]], abs=1.6e-3)
            assert list(told["centre"].values()) == pytest.approx([row["icx"], -row["icy"]], abs=1.6e-3)
    says = result["derivations"]
    assert "151.58\u00a0mm above the apex and −19.37\u00a0mm in front" in says["centre_above_apex_mm"]
    assert "24.87\u00a0mm above and −8.55\u00a0mm in front" in says["centre_above_apex_mm"]  # −8.555 printed
    assert "stay at least 36.89\u00a0mm above the apex" in says["pivots_stay_above_mm"]
    assert "15.55\u00a0mm in front of the pylon's axis at most" in says["pivots_past_front_mm"]


def test_without_pivots_nothing_is_told_of_a_mechanism():
    result = reckon(THIRD, TARN)

    assert "mechanism" not in result
    assert "suggestions" not in result
    assert set(result["derivations"]) == {*FIGURES, "hcpcs"}


def test_pivots_that_cannot_be_read_stop_and_tell_nothing():
    entry = with_pivots()
    entry["pivots"]["upper_rear"]["forward"] = "4oo"

    result = reckon(entry, TARN)

    assert [(f["id"], f["fields"]) for f in result["flags"] if f["level"] == "stop"] == [
        ("reading.unreadable", ["pivots.upper_rear.forward"])
    ]
    assert "mechanism" not in result


PERSON = dict.fromkeys(("k_level", "heavy_wear", "needs_help_to_don", "age_band")) | {
    "stature": "178 cm", "body_mass_kg": 80, "sex": "male",
}  # fmt: skip
NO_CALF = {"other_leg": "above_knee", "girth_from": "chosen", "person": PERSON}


def test_where_there_is_no_calf_to_measure_a_girth_is_suggested():
    suggestion = reckon(entry_with(NO_CALF), TARN)["suggestions"]["girth"]

    # the survey's line for men, 1.7337 · 80 + 243.99 = 382.686, and 1.645 · 16.58 = 27.274 either way
    assert (suggestion["girth_mm"], suggestion["least_mm"], suggestion["most_mm"]) == (
        382.686,
        355.412,
        409.96,
    )
    assert suggestion["says"] == (
        "By the line of 4,082 men of the survey ANSUR II, soldiers: 1.7337 mm for each of 80\u00a0kg and 243.99 mm make "
        "382.69\u00a0mm. Nine in ten such calves lie within 1.645 × 16.58 mm of it: 355.41\u00a0mm to 409.96\u00a0mm."
    )


@pytest.mark.parametrize("sex", ["male", "female"])
def test_the_suggestion_is_the_survey_s_line(sex):
    line = relations(sex, "calf_on_weight")
    entry = entry_with(NO_CALF | {"person": PERSON | {"sex": sex}})

    suggestion = reckon(entry, TARN)["suggestions"]["girth"]

    likely = line["slope"] * 80 + line["intercept"]
    half = NormalDist().inv_cdf(0.95) * line["residual_sd"]
    # 1.645 stands for 1.64485 of the normal distribution: 0.003 mm on 17
    assert suggestion["girth_mm"] == pytest.approx(likely, abs=5e-4)
    assert suggestion["least_mm"] == pytest.approx(likely - half, abs=4e-3)
    assert suggestion["most_mm"] == pytest.approx(likely + half, abs=4e-3)


@pytest.mark.parametrize(
    "changes",
    [
        {"other_leg": "sound", "girth_from": "sound_limb"},
        {"person.age_band": "child"},
        {"person.sex": None},
        {"person.stature": None},
        {"person.body_mass_kg": None},
        {"person.body_mass_kg": 137.8367},  # body mass index 43.5039: beyond the survey's 43.5
        {"person.body_mass_kg": 48.7930},  # 15.3999
    ],
)
def test_no_girth_is_suggested_for_whom_the_survey_says_nothing(changes):
    assert "suggestions" not in reckon(entry_with(copy.deepcopy(NO_CALF) | changes_of(changes)), TARN)


@pytest.mark.parametrize("kg", [48.7940, 137.8246])
def test_the_survey_s_own_limits_are_within(kg):
    # 1.78² · 15.4 = 48.79336, 1.78² · 43.5 = 137.8254
    assert "suggestions" in reckon(entry_with(NO_CALF | {"person": PERSON | {"body_mass_kg": kg}}), TARN)


def changes_of(changes: dict) -> dict:
    """Changes of the person in hand, whole."""
    person = {path.split(".")[1]: value for path, value in changes.items() if "." in path}
    return {path: value for path, value in changes.items() if "." not in path} | {"person": PERSON | person}


@pytest.mark.parametrize("odd", [None, True, 3, "x", [], [{}], {"schema": "shankline-entry-1"}])
def test_what_is_no_entry_is_refused(odd):
    with pytest.raises(EntryError):
        reckon(odd, TARN)


def test_what_is_no_catalogue_is_refused():
    with pytest.raises(CatalogueError):
        reckon(THIRD, {"schema": "shankline-catalogue-1"})


def test_the_phone_gets_the_workshop_s_own_checks_as_trees():
    phone = catalogue_for_phone(QUAYSIDE)

    assert [check["id"] for check in phone["own_checks"]] == ["own.short_and_stout", "own.long_rear_stiff"]
    assert phone["own_checks"][0]["tree"][0] == "&&"
    assert catalogue_for_phone(TARN)["own_checks"] == []


MEASURED = [
    given["field"]
    for given in load_book().givens["entry"].values()
    if given["read"] in ("reading", "signed", "number")
]
odd_texts = st.text(max_size=70) | st.sampled_from(
    [
        "0",
        "0.0001",
        "2999",
        "3000",
        "9" * 60,
        "1e9",
        "NaN",
        "inf",
        "-0",
        "−4",
        "½",
        "1/0",
        "1 / 3",
        "٣",
        "0 1/2 in",
        "\u2028",
    ]
)


@settings(max_examples=300, deadline=None)
@given(
    values=st.dictionaries(st.sampled_from(MEASURED), odd_texts, max_size=6),
    lengths=st.lists(odd_texts, min_size=1, max_size=3),
    girths=st.lists(odd_texts, min_size=1, max_size=3),
)
def test_whatever_is_typed_there_is_a_result_with_finite_numbers(values, lengths, girths):
    entry = entry_with({"length": lengths, "girth": girths})
    for path, value in values.items():
        set_at(entry, path, "".join(c for c in value if ord(c) >= 32))

    if entry.get("pivots"):
        nowhere = {"forward": None, "below_apex": None}
        entry["pivots"] = {name: nowhere | entry["pivots"].get(name, {}) for name in PIVOTS}
    for group in ("second_route", "rear_room", "pylon", "moving_part", "person"):
        if entry.get(group):
            entry[group] = dict.fromkeys(WHOLE_GROUPS[group]) | entry[group]
    try:
        result = reckon(entry, TARN)
    except EntryError as error:
        assert error.says == "holds a character that can't be written."  # noqa: PT017
        return

    json.dumps(result, allow_nan=False)
    stops = [flag for flag in result["flags"] if flag["level"] == "stop"]
    assert result["sendable"] <= (not stops)
    assert result["finished_length_mm"] is not None or not result["sendable"]


def with_groups(path: str, value) -> dict:
    """The plain entry with one field set, the rest of its group there and empty."""
    entry = entry_with({path: value})
    group, *_ = path.split(".")
    if group == "pivots":
        nowhere = {"forward": None, "below_apex": None}
        entry["pivots"] = {name: nowhere | entry["pivots"].get(name, {}) for name in PIVOTS}
    elif group in WHOLE_GROUPS:
        entry[group] = dict.fromkeys(WHOLE_GROUPS[group]) | entry[group]
    return entry


def refuses(path: str, value) -> bool:
    """Whether a field is named as what can't be read, so that there is no result or one that can't be sent."""
    try:
        result = reckon(with_groups(path, value), TARN)
    except EntryError as error:
        return error.field.startswith(path) and len(str(error)) < 300
    flags = [
        flag for flag in result["flags"] if flag["id"].startswith("reading.un") and flag["level"] == "stop"
    ]
    assert all(flag["fields"] == [path.split(".0")[0]] and len(flag["says"]) < 300 for flag in flags)
    return bool(flags) and not result["sendable"]


NO_NUMBER = [
    "",
    " ",
    "four",
    "nan",
    "NaN",
    "inf",
    "-Infinity",
    "1e3",
    "1 2",
    "0.00001",
    "١٢٣٤٥٦",
    "9" * 65,
    "5\n6",
]
NO_TEXT = [
    True,
    1e300,
    10**400,
    float("nan"),
    float("inf"),
    -float("inf"),
    [],
    ["5"],
    {},
    "9" * 1_000_000,
    "4\x00",
]


@pytest.mark.parametrize("path", ["length.0", "girth.0", *MEASURED])
def test_what_is_no_measurement_is_refused_with_its_field_and_nothing_else_comes_of_it(path):
    def odd(value) -> bool:
        if path.endswith(".0"):
            return refuses(path.removesuffix(".0"), [value])
        return refuses(path, value)

    assert [value for value in (*NO_NUMBER, *NO_TEXT) if not odd(value)] == []


# What is 0 isn't there, by the words of the trade; where 0 is a place or an angle it is as good as any number.
NEVER_NOUGHT = {
    "second_route.apex_to_floor",
    "second_route.rim_to_floor",
    "knee.hardware_length",
    "knee.width",
    "knee.depth",
    "knee.thigh_side_width",
    "shell.upper_strap",
    "shell.lower_strap",
    "foot.rim_depth",
    "foot.width",
    "foot.depth",
    "rear_room.thigh_behind_axis",
    "pylon.behind_front_at_apex",
    "person.stature",
    "person.body_mass_kg",
    "knee.max_flexion_deg",
}


@pytest.mark.parametrize("path", MEASURED)
def test_nought_is_refused_where_nothing_measures_nought(path):
    assert [refuses(path, nought) for nought in ("0", "0.00")] == [path in NEVER_NOUGHT] * 2


def test_an_extra_girth_of_nought_is_refused():
    entry = entry_with({"extra_girths": [{"above_floor": "130", "girth": "0"}]})

    (flag,) = [flag for flag in reckon(entry, TARN)["flags"] if flag["level"] == "stop"]
    assert (flag["id"], flag["fields"]) == ("reading.unreadable", ["extra_girths"])
    assert flag["says"] == "0 mm is 0 in. This can't be 0: leave it empty where there is nothing to measure."


@pytest.mark.parametrize("path", ["length", "girth"])
def test_a_length_or_girth_of_nought_is_impossible(path):
    stops = {
        flag["id"]
        for flag in reckon(entry_with({path: ["0", "0"]}), TARN)["flags"]
        if flag["level"] == "stop"
    }

    assert f"{path}.impossible" in stops


# A sign is only read where a place may lie on either side.
SIGNED = {
    "foot.axis_above_rim",
    "pylon.lean_forward_deg",
    "pylon.lean_outward_deg",
    *(f"pivots.{which}.{way}" for which in ("lower_front", "lower_rear", "upper_front", "upper_rear")
      for way in ("forward", "below_apex")),
}  # fmt: skip


@pytest.mark.parametrize("path", MEASURED)
def test_a_sign_is_refused_where_nothing_lies_below_nought(path):
    assert [refuses(path, below) for below in ("-5", "−5")] == [path not in SIGNED] * 2


@pytest.mark.parametrize("path", MEASURED)
def test_what_is_longer_than_any_leg_is_refused(path):
    assert refuses(path, "99999999")


PIVOTS = ("lower_front", "lower_rear", "upper_front", "upper_rear")
WHOLE_GROUPS = {
    "second_route": ("apex_to_floor", "rim_to_floor"),
    "rear_room": ("thigh_behind_axis", "axis_below_apex"),
    "pylon": ("behind_front_at_apex", "lean_forward_deg", "lean_outward_deg"),
    "moving_part": ("from_above_rim", "to_above_rim", "travel", "rotation_deg"),
    "person": ("k_level", "heavy_wear", "needs_help_to_don", "age_band", "stature", "body_mass_kg", "sex"),
}


@pytest.mark.parametrize(
    ("beside", "says"),
    [
        ({"weather": "wet"}, "beside.weather: nothing beside an entry is called so."),
        ({"gap_mm": 12.7}, "beside.gap_mm: nothing beside an entry is called so."),
        ({"photo_knee": "yes"}, "beside.photo_knee: should be a flag."),
        ({"photo_knee": 1}, "beside.photo_knee: should be a flag."),
        ({"earlier_days": True}, "beside.earlier_days: should be a number."),
        ({"earlier_days": "12"}, "beside.earlier_days: should be a number."),
        ({"earlier_days": -1}, "beside.earlier_days: should be a number from 0 up."),
        ({"last_girth_mm": float("nan")}, "beside.last_girth_mm: should be a number from 0 up."),
        ({"last_girth_mm": float("inf")}, "beside.last_girth_mm: should be a number from 0 up."),
    ],
)
def test_what_stands_beside_the_entry_is_only_what_the_book_knows(beside, says):
    with pytest.raises(BesideError) as error:
        reckon(THIRD, TARN, beside=beside)
    assert str(error.value) == says


def test_nothing_known_beside_the_entry_is_as_nothing_passed():
    nothing = dict.fromkeys(load_book().givens["beside"])

    assert reckon(THIRD, TARN, beside=nothing) == reckon(THIRD, TARN, beside={}) == reckon(THIRD, TARN)
