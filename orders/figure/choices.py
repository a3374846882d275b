"""Small pictures of answers. The words beside them say what they show, so they carry no title of their own."""

from collections.abc import Callable, Mapping
from typing import Any

from orders.figure.data import FIGURE
from orders.figure.given import option_of
from orders.figure.scene import overlaid, scene_of

Scene = dict[str, Any]


def choice(
    field_key: str,
    value: str,
    entry: Mapping[str, Any],
    catalogue: Mapping[str, Any] | None = None,
    *,
    fit: tuple[float, float] | None = None,
) -> Scene | None:
    """The scene of one answer to a field, drawn with the other answers as they stand; None without a picture.

    Options of a catalogue are drawn from its numbers; colours and finishes aren't drawn.
    """
    row = FIGURE["choices"].get(field_key)
    if row is None:
        return None
    scene = scene_of(entry, None, catalogue, purpose="choice", view=row["view"], fit=fit)
    scene = overlaid(scene, row)
    scene["length_mm"] = scene["girth_mm"] = scene["gap_mm"] = None
    if row["set"] in OPTION_LISTS:
        scene["shell"] |= _numbers(option_of(catalogue, OPTION_LISTS[row["set"]], value))
    else:
        SETTERS[row["set"]](scene, value)
    scene["frame"] = row.get("frames", {}).get(value, scene["frame"])
    if scene["tape"]:
        scene["tape"] = {"of": scene["tape"]}
    scene["title"] = ""
    return scene


OPTION_LISTS = {"rear": "rears", "top": "tops", "wall": "walls"}


def _numbers(option: Mapping[str, Any]) -> dict[str, Any]:
    names = ("reach", "open_share", "relief_mm", "wall_mm")
    return {name: option[name] for name in names if name in option}


def _setter(*path: str) -> Callable[[Scene, str], None]:
    def put(scene: Scene, value: str) -> None:
        target = scene
        for key in path[:-1]:
            target = target[key]
        target[path[-1]] = value

    return put


def _set_named(scene: Scene, value: str) -> None:
    scene["knee"]["pins"] = "several" if value == "polycentric" else "one"


def _set_at_knee(scene: Scene, value: str) -> None:
    scene["knee"] |= {"stop_mm": None, "thigh_side_mm": None}
    scene["shows"] = {"both": ["stop", "thigh_side"], "nothing": []}.get(value, [value])


def _set_pylon(scene: Scene, value: str) -> None:
    scene["moving"] = None
    scene["shows"] = ["moving"] if value == "moves" else []


def _set_profile(scene: Scene, value: str) -> None:
    scene["foot"] |= {"profile": value, "hardware_above_rim_mm": 76}


def _set_ankle(scene: Scene, value: str) -> None:
    scene["foot"]["ankle"] = value
    scene["axis"] = value in ("jointed", "wide")


def _set_girth_from(scene: Scene, value: str) -> None:
    if value == "chosen":
        scene["leg"], scene["frame"] = "prosthesis", "whole"
        scene["shell"]["state"] = "pencil"
    else:
        scene["other_leg"] = "sound"


def _set_buckle_side(scene: Scene, value: str) -> None:
    """Well below the knee, so that nothing but the strap is seen."""
    scene["shell"] |= {"buckle_side": value, "upper_mm": 190}


SETTERS: dict[str, Callable[[Scene, str], None]] = {
    "side": _setter("side"),
    "level": _setter("level"),
    "other_leg": _setter("other_leg"),
    "construction": _setter("construction"),
    "posture": _setter("posture"),
    "footwear": _setter("footwear"),
    "pins": _setter("knee", "pins"),
    "named": _set_named,
    "control": _setter("knee", "control"),
    "at_knee": _set_at_knee,
    "pylon": _set_pylon,
    "profile": _set_profile,
    "ankle": _set_ankle,
    "girth_from": _set_girth_from,
    "girth_over": _setter("girth_over"),
    "swelling": _setter("swelling"),
    "buckle_side": _set_buckle_side,
}
