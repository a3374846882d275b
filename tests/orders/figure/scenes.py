"""Scenes for the figure's tests: by hand, of every field and answer, of reckoned entries, and of extremes."""

import json
from pathlib import Path
from typing import Any

from orders.figure import choice, guide, scene_of
from orders.figure.data import FIGURE
from orders.reckon import reckon

DEMO = Path(__file__).resolve().parents[3] / "fixtures_demo"

TARN = {
    "strap": {"width_mm": 25},
    "walls": [{"key": "thin", "wall_mm": 4.0}, {"key": "thick", "wall_mm": 7.5}],
    "rears": [
        {"key": "short", "reach": 0.62, "open_share": 0.32},
        {"key": "long", "reach": 0.94, "open_share": 0.2},
        {"key": "whole", "reach": 1.0, "open_share": 0.0},
    ],
    "tops": [{"key": "plain", "relief_mm": 0}, {"key": "cut_down", "relief_mm": 18}],
}
ENTRY: dict[str, Any] = {
    "side": "left", "units": "in", "level": "transfemoral", "other_leg": "sound", "construction": "bare",
    "taken": "standing", "footwear": "low", "length": ["16 1/2", "16 5/8"], "girth": ["38.5 cm"],
    "girth_from": "sound_limb",
    "knee": {"named": "polycentric", "pivots_seen": "several", "control": "fluid", "hardware_length": "4 1/4"},
    "foot": {"profile": "high", "ankle": "jointed", "hardware_above_rim": "3"},
    "shell": {"wall": "thin", "rear": "short", "top": "plain"},
}  # fmt: skip
"""The third worked case: inches, several pins, a high foot."""
RESULT: dict[str, Any] = {
    "length_taken_mm": 420.688, "gap_mm": 19.05, "finished_length_mm": 401, "girth_mm": 385.0,
    "upper_strap_mm": 130.45, "lower_strap_mm": 79.65, "strap_spacing_mm": 190.9, "rear_trim_mm": 76.19,
    "clearances": {"knee_mm": 7.9, "foot_mm": -0.4, "stop_mm": 4.0},
    "flags": [
        {"level": "stop", "at": "rear_end"},
        {"level": "explain", "at": "ankle_axis"},
        {"level": "note", "at": "girth"},
    ],
}  # fmt: skip
PLAIN_ENTRY: dict[str, Any] = {
    "side": "right", "units": "mm", "length": ["394"], "girth": ["370"],
    "knee": {"named": "single_axis", "pivots_seen": "one"}, "foot": {"profile": "low", "ankle": "solid"},
}  # fmt: skip

ANSWERS = {
    "side": ["left", "right"],
    "level": ["transfemoral", "knee_disarticulation"],
    "other_leg": ["sound", "below_knee", "above_knee", "none"],
    "construction": ["bare", "foam_on", "exoskeletal"],
    "taken": ["standing", "seated", "off_body"],
    "footwear": ["low", "boot"],
    "knee.pivots_seen": ["one", "several", "unsure"],
    "knee.named": ["single_axis", "polycentric"],
    "knee.control": ["mechanical", "fluid", "microprocessor", "powered"],
    "seen.knee": ["nothing", "stop", "thigh_side", "both"],
    "seen.pylon": ["plain", "moves"],
    "foot.profile": ["low", "high"],
    "foot.ankle": ["solid", "spring", "jointed", "wide"],
    "girth_from": ["sound_limb", "chosen"],
    "girth_over": ["skin", "stocking"],
    "swelling": ["none", "some", "hot_or_sudden"],
    "shell.rear": ["short", "long", "whole"],
    "shell.top": ["plain", "cut_down"],
    "shell.wall": ["thin", "thick"],
    "shell.buckle_side": ["outer", "inner"],
}
"""Every answer that has a small picture, by field."""


def with_side(entry: dict[str, Any], side: str) -> dict[str, Any]:
    return {**entry, "side": side}


def guide_scenes() -> dict[str, dict[str, Any]]:
    return {
        f"guide {key} {entry['side']}": guide(key, entry, result, TARN)
        for key in FIGURE["guides"]
        for entry, result in ((ENTRY, RESULT), (PLAIN_ENTRY, None))
    }


def choice_scenes() -> dict[str, dict[str, Any]]:
    return {
        f"choice {key}={value}": choice(key, value, PLAIN_ENTRY, TARN)
        for key, values in ANSWERS.items()
        for value in values
    }


def flags_everywhere(view: str) -> list[dict[str, Any]]:
    levels = ("stop", "explain", "note")
    return [{"n": i + 1, "level": levels[i % 3], "at": at} for i, at in enumerate(FIGURE["places"])]


def scale_scenes() -> dict[str, dict[str, Any]]:
    scenes = {}
    for side in ("left", "right"):
        for view in ("side", "front", "both"):
            for dims in ("few", "all"):
                scene = scene_of(
                    with_side(ENTRY, side), RESULT, TARN, view=view, dims=dims, strong="lower_strap"
                )
                scenes[f"scale {side} {view} {dims}"] = scene
    whole = scene_of(ENTRY, RESULT, TARN, dims="all")
    scenes["to the tenth"] = {**whole, "dims": [{**dim, "parts": 10} for dim in whole["dims"]]}
    scenes["every flag"] = {**scene_of(ENTRY, RESULT, TARN), "flags": flags_everywhere("both")}
    scenes["nothing known"] = scene_of({}, None, None)
    return scenes


def extreme_scenes() -> dict[str, dict[str, Any]]:
    """What hard cases and slips of the finger make: the drawing must hold."""
    scenes = {}
    for name, length, girth, foot, knee in (
        ("long", 560, 385, 76, 108),
        ("short", 240, 385, 60, 98),
        ("thin", 420, 230, 76, 108),
        ("stout", 420, 540, 76, 108),
        ("high foot", 300, 340, 110, 140),
        ("low knee", 420, 385, 20, 40),
        ("long knee", 420, 385, 220, 260),
    ):
        scenes[name] = {
            **scene_of(ENTRY, None, TARN, dims="all"),
            "length_mm": length,
            "girth_mm": girth,
            "knee": {"pins": "several", "hardware_mm": knee},
            "foot": {"profile": "high", "ankle": "wide", "hardware_above_rim_mm": foot},
        }
    scenes["straps cross"] = {
        **scene_of(ENTRY, None, TARN),
        "shell": {"state": "ink", "finished_mm": 220, "upper_mm": 150, "lower_mm": 110},
    }
    scenes["moving part"] = scene_of(
        {**ENTRY, "moving_part": {"from_above_rim": "4", "to_above_rim": "6"}}, RESULT, TARN
    )
    scenes["stop and thigh side"] = scene_of(
        {
            **ENTRY,
            "knee": {
                **ENTRY["knee"],
                "stop_projection": "2 1/4",
                "stop_below_apex": "3/4",
                "thigh_side_below_apex": "1",
                "thigh_side_width": "3 1/4",
            },
        },
        RESULT,
        TARN,
    )
    scenes["axis measured"] = scene_of(
        {**ENTRY, "foot": {**ENTRY["foot"], "axis_above_rim": "-3/4"}}, RESULT, TARN
    )
    scenes["half a number"] = guide("length", {**ENTRY, "length": ["4"]}, None, TARN)
    scenes["words to escape"] = {**scene_of(PLAIN_ENTRY, None, None), "title": "a < b & \"c\" 'd'"}
    return scenes


def reckoned_scenes() -> dict[str, dict[str, Any]]:
    """The demo's entries as both workshops would make them, with the sections that were reckoned."""
    scenes = {}
    for name in ("tarn-street-moulding-room", "quayside-forming"):
        catalogue = json.loads((DEMO / "catalogues" / f"{name}.json").read_text())
        for file in sorted((DEMO / "entries").glob("*.json")):
            entry = json.loads(file.read_text())
            result = reckon(entry, catalogue)
            scenes[f"{file.stem} at {name}"] = scene_of(entry, result, catalogue, dims="all", fit=(572, 700))
            scenes[f"{file.stem} at {name}, small"] = scene_of(entry, result, catalogue)
    return scenes


def mark_scenes() -> dict[str, dict[str, Any]]:
    scenes = {}
    for side in ("left", "right"):
        scenes[f"mark {side}"] = scene_of(with_side(ENTRY, side), RESULT, TARN, purpose="mark", view="side")
        scenes[f"bench {side}"] = {
            **scenes[f"mark {side}"], "frame": "shell", "px_per_mm": 0.115,
        }  # fmt: skip
    scenes["draft"] = {
        "purpose": "mark",
        "view": "side",
        "side": "left",
        "title": "",
        "shell": {"state": "pencil"},
    }
    return scenes


def all_scenes() -> dict[str, dict[str, Any]]:
    return (
        guide_scenes()
        | choice_scenes()
        | scale_scenes()
        | extreme_scenes()
        | reckoned_scenes()
        | mark_scenes()
    )
