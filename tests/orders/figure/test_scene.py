"""Scenes say what the entry and its result say, and the twins say the same."""

import json
from pathlib import Path

import pytest

from orders.figure import choice, draw, guide, scene_of
from orders.figure.data import DATA_FILE, FIGURE, read_figure
from orders.rulebook.flag import PLACES
from tests.orders.figure import scenes as sample

DEMO = Path(__file__).resolve().parents[3] / "fixtures_demo" / "entries"
ENTRIES = [
    {},
    sample.ENTRY,
    sample.PLAIN_ENTRY,
    {**sample.ENTRY, "other_leg": "none", "girth_from": "chosen", "taken": "seated"},
    {**sample.ENTRY, "foot": {"profile": "high", "ankle": "wide", "axis_above_rim": "−2 cm"}},
    {**sample.ENTRY, "length": ["4"], "girth": ["a hand"], "knee": {"pivots_seen": "unsure"}},
    {
        "side": "right",
        "units": "cm",
        "length": ["41,3"],
        "moving_part": {"from_above_rim": "10", "to_above_rim": "16"},
        "service_points": [{"what": "port", "below_apex": None}, {"what": "light", "below_apex": "7"}],
    },
]


def same(scene):
    """As JSON holds it: a tuple and a list are the same there."""
    return json.loads(json.dumps(scene))


def test_twins_make_the_same_scene_of_an_entry(js):
    options = [
        {"purpose": purpose, "view": view, "dims": dims, "strong": "gap"}
        for purpose, view, dims in (
            ("scale", "both", "all"),
            ("scale", "side", "few"),
            ("mark", "side", "none"),
        )
    ]
    rows = [
        (entry, result, sample.TARN, option)
        for entry in ENTRIES
        for result in (None, sample.RESULT)
        for option in options
    ]

    scenes = js("figure/scene.js").map("sceneOf", rows)

    for (entry, result, catalogue, option), scene in zip(rows, scenes, strict=True):
        assert scene == same(scene_of(entry, result, catalogue, **option))


def test_twins_make_the_same_guides(js):
    rows = [(key, entry, sample.RESULT, sample.TARN) for key in FIGURE["guides"] for entry in ENTRIES]

    scenes = js("figure/scene.js").map("guide", rows)

    assert len(scenes) == len(rows)
    for row, scene in zip(rows, scenes, strict=True):
        assert scene == same(guide(*row))


def test_twins_make_the_same_choices(js):
    rows = [
        (key, value, entry, sample.TARN)
        for key, values in sample.ANSWERS.items()
        for value in values
        for entry in ENTRIES
    ]

    scenes = js("figure/choices.js").map("choice", rows)

    for row, scene in zip(rows, scenes, strict=True):
        assert scene == same(choice(*row))


@pytest.mark.parametrize("file", sorted(DEMO.glob("*.json")), ids=lambda file: file.stem)
def test_demo_entries_draw(file):
    entry = json.loads(file.read_text())
    for key in FIGURE["guides"]:
        assert draw(guide(key, entry, None)).startswith("<svg")
    assert draw(scene_of(entry, None, None, dims="all")).startswith("<svg")


def test_figure_has_every_place_of_a_flag_and_no_other():
    assert set(FIGURE["places"]) == set(FIGURE["edges"]) == PLACES


def test_every_answer_with_a_picture_is_tried():
    assert set(sample.ANSWERS) == set(FIGURE["choices"])


def test_answers_to_one_question_look_different():
    for key, values in sample.ANSWERS.items():
        pictures = {draw(choice(key, value, sample.PLAIN_ENTRY, sample.TARN)) for value in values}
        # "No swelling" beside "some", one pin beside the single axis: each answer of a field has its own picture.
        assert len(pictures) == len(values), key


def test_data_is_strict_json_behind_one_prefix():
    text = DATA_FILE.read_text(encoding="utf-8")

    assert read_figure(text) == FIGURE
    with pytest.raises(ValueError, match="export default"):
        read_figure(text.removeprefix("export "))


def test_every_title_of_a_guide_has_its_words():
    for key, row in FIGURE["guides"].items():
        assert f"title.{row['title']}" in FIGURE["words"], key


def test_tape_takes_the_unit_that_was_typed_with_the_reading():
    scene = guide("girth", sample.ENTRY, sample.RESULT)

    # The sheet is in inches, the girth was typed as "38.5 cm".
    assert (scene["units"], scene["tape"]) == ("cm", {"of": "girth"})


def test_axis_below_the_rim_is_typed_with_a_minus():
    for text in ("-20", "−20", "- 20 mm"):
        scene = scene_of({"units": "mm", "foot": {"profile": "high", "axis_above_rim": text}}, None, None)

        assert scene["foot"]["axis_above_rim_mm"] == -20


def test_half_a_number_leaves_the_leg_as_it_was():
    whole = guide("length", {"units": "mm", "length": ["394"]}, None)
    half = guide("length", {"units": "mm", "length": ["3"]}, None)

    assert whole["length_mm"] == 394
    assert half["length_mm"] is None


def test_pins_seen_are_drawn_before_what_the_knee_is_called():
    seen = scene_of({"knee": {"named": "polycentric", "pivots_seen": "one"}}, None, None)
    unsure = scene_of({"knee": {"named": "polycentric", "pivots_seen": "unsure"}}, None, None)

    assert seen["knee"]["pins"] == "one"
    assert unsure["knee"]["pins"] == "several"


def test_girth_is_taken_round_the_shell_where_no_sound_leg_is():
    scene = guide("girth", {**sample.ENTRY, "other_leg": "above_knee"}, sample.RESULT)

    assert (scene["leg"], scene["shell"]["state"]) == ("prosthesis", "pencil")
    assert scene["title"].startswith("Left leg with the shank shell")


def test_dimensions_hold_what_is_known_and_no_more():
    low = {
        **sample.ENTRY,
        "foot": {"profile": "low", "hardware_above_rim": "3"},
        "knee": {"pivots_seen": "one"},
    }

    every = [dim["of"] for dim in scene_of(sample.ENTRY, sample.RESULT, None, dims="all")["dims"]]
    fewer = [dim["of"] for dim in scene_of(low, sample.RESULT, None, dims="all")["dims"]]

    assert every == [
        "finished_length", "gap", "hardware_length", "upper_strap", "strap_spacing", "lower_strap",
        "hardware_above_rim", "girth", "clear_knee", "clear_foot", "clear_stop",
    ]  # fmt: skip
    assert set(every) - set(fewer) == {"hardware_length", "hardware_above_rim"}


def test_flags_bear_the_numbers_of_the_results_order():
    flags = scene_of(sample.ENTRY, sample.RESULT, None)["flags"]

    assert [(flag["n"], flag["level"]) for flag in flags] == [(1, "stop"), (2, "explain"), (3, "note")]


def test_shell_to_scale_is_in_pencil_until_its_length_is_known():
    assert scene_of(sample.ENTRY, None, None)["shell"]["state"] == "pencil"
    assert scene_of(sample.ENTRY, sample.RESULT, None)["shell"]["state"] == "ink"


def test_words_can_be_another_languages():
    scene = guide("length", sample.ENTRY, sample.RESULT, words={"apex": "Scheitel", "left": "linkes"})

    text = draw(scene)
    assert ">Scheitel</text>" in text
    assert scene["title"].startswith("Linkes leg")


def test_fields_without_a_drawing_have_none():
    assert guide("person.stature", sample.ENTRY, sample.RESULT) is None
    assert choice("shell.colour", "slate", sample.ENTRY, sample.TARN) is None
