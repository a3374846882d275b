"""Scenes from an entry and its result: to scale, as a list's mark, and the guide of each field of the sheet."""

from collections.abc import Mapping
from typing import Any

from orders.figure.data import FIGURE
from orders.figure.given import drawable, field_of, measured_mm, pins_of, shell_numbers, typed_of
from orders.figure.lengths import given

Entry = Mapping[str, Any]
DIM_FIELDS = {
    "finished_length": "finished_length_mm",
    "gap": "gap_mm",
    "hardware_length": "knee.hardware_length",
    "upper_strap": "upper_strap_mm",
    "strap_spacing": "strap_spacing_mm",
    "lower_strap": "lower_strap_mm",
    "hardware_above_rim": "foot.hardware_above_rim",
    "girth": "girth_mm",
}
"""Each dimension's figure in the result, or its field in the entry."""
FEW = ("finished_length", "gap")
#: What is left clear inside the shell, by its key among the result's clearances.
CLEARANCES = {"clear_knee": "knee_mm", "clear_foot": "foot_mm", "clear_stop": "stop_mm"}


def scene_of(
    entry: Entry,
    result: Mapping[str, Any] | None,
    catalogue: Mapping[str, Any] | None,
    *,
    purpose: str = "scale",
    view: str = "both",
    dims: str = "few",
    strong: str | None = None,
    words: Mapping[str, str] | None = None,
    fit: tuple[float, float] | None = None,
) -> dict[str, Any]:
    """The scene of one shell.

    Parameters
    ----------
    entry : dict
        The entry, whole or still in the making.
    result : dict or None
        Its result; None or null figures where nothing is known yet.
    catalogue : dict or None
        The workshop's, for the numbers of rear, top, wall and straps.
    purpose : str
        "scale", "mark" or "guide".
    view : str
        "side", "front" or "both".
    dims : str
        "few" (finished length and gap), "all" or "none".
    strong : str or None
        The dimension in hand, a key of `DIM_FIELDS`.
    words : dict or None
        The figure's words in another language, by their keys in the figure's data.
    fit : pair of float or None
        Width and height to fit into. [px]
    """
    result = result or {}
    length = drawable(result.get("length_taken_mm"), "length")
    scene = {
        "view": view,
        "purpose": purpose,
        "frame": "mark" if purpose == "mark" else "whole",
        "side": entry.get("side") or "left",
        "units": entry.get("units") or "mm",
        "length_mm": given(length, measured_mm(entry, "length")),
        "gap_mm": drawable(result.get("gap_mm"), "gap"),
        "girth_mm": given(drawable(result.get("girth_mm"), "girth"), measured_mm(entry, "girth")),
        **_leg_of(entry),
        "shell": _shell_of(entry, result, catalogue, purpose),
        "dims": _dims_of(entry, result, dims if purpose == "scale" else "none", strong),
        "flags": _flags_of(result) if purpose == "scale" else [],
    }
    if words:
        scene["words"] = dict(words)
    if fit:
        scene["fit"] = list(fit)
    return _titled(scene, "scale" if purpose == "scale" else "mark")


def _leg_of(entry: Entry) -> dict[str, Any]:
    """What the entry says about knee, foot, shoe and the other leg."""
    return {
        "level": entry.get("level") or "transfemoral",
        "construction": entry.get("construction") or "bare",
        "other_leg": entry.get("other_leg") or "sound",
        "footwear": entry.get("footwear") or "low",
        "collar_mm": measured_mm(entry, "collar_above_rim"),
        "girth_over": entry.get("girth_over") or "skin",
        "swelling": entry.get("swelling") or "none",
        "knee": {
            "pins": pins_of(entry),
            "hardware_mm": measured_mm(entry, "knee.hardware_length"),
            "control": field_of(entry, "knee.control"),
            "stop_mm": measured_mm(entry, "knee.stop_projection"),
            "stop_below_mm": measured_mm(entry, "knee.stop_below_apex"),
            "thigh_side_mm": measured_mm(entry, "knee.thigh_side_below_apex"),
            "thigh_side_width_mm": measured_mm(entry, "knee.thigh_side_width"),
        },
        "foot": {
            "profile": field_of(entry, "foot.profile") or "low",
            "ankle": field_of(entry, "foot.ankle"),
            "hardware_above_rim_mm": measured_mm(entry, "foot.hardware_above_rim"),
            "axis_above_rim_mm": measured_mm(entry, "foot.axis_above_rim"),
        },
        "moving": _moving_of(entry),
        "service_mm": _service_mm(entry),
    }


def _moving_of(entry: Entry) -> dict[str, Any] | None:
    low = measured_mm(entry, "moving_part.from_above_rim")
    high = measured_mm(entry, "moving_part.to_above_rim")
    if low is None or high is None or high <= low:
        return None
    return {"from_above_rim_mm": low, "to_above_rim_mm": high}


def _service_mm(entry: Entry) -> float | None:
    """How far below the apex the first service point lies that says so."""
    for point in entry.get("service_points") or []:
        below = measured_mm({"units": entry.get("units"), "service": point}, "service.below_apex")
        if below is not None:
            return below
    return None


def _shell_of(
    entry: Entry, result: Mapping[str, Any], catalogue: Mapping[str, Any] | None, purpose: str
) -> dict[str, Any]:
    """The shell; in pencil where it is to be to scale and its length isn't known yet."""
    finished = result.get("finished_length_mm")
    known = finished is not None and 60 <= finished <= 700
    return {
        "state": "pencil" if purpose == "scale" and not known else "ink",
        "finished_mm": finished if known else None,
        "stations": (result.get("stations") or []) if known else [],
        "upper_mm": result.get("upper_strap_mm"),
        "lower_mm": result.get("lower_strap_mm"),
        "rear_trim_mm": result.get("rear_trim_mm") or None,
        "pad": bool(result.get("foam_pad")),
        **shell_numbers(entry, catalogue),
    }


def _dims_of(entry: Entry, result: Mapping[str, Any], which: str, strong: str | None) -> list[dict[str, Any]]:
    """The dimensions whose values are known; a foot without a mechanism has no height of one."""
    if which == "none":
        return []
    dims = []
    for of, source in DIM_FIELDS.items():
        value = result.get(source) if source.endswith("_mm") else measured_mm(entry, source)
        absent = of == "hardware_above_rim" and field_of(entry, "foot.profile") != "high"
        if value is not None and not absent and (which == "all" or of in FEW):
            dims.append({"of": of, "value_mm": value, "strong": of == strong})
    for of, key in (CLEARANCES if which == "all" else {}).items():
        if (value := (result.get("clearances") or {}).get(key)) is not None:
            dims.append({"of": of, "value_mm": value, "strong": of == strong})
    return dims


def _flags_of(result: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Numbered in the result's order, as the list beside the drawing is."""
    flags = result.get("flags") or []
    return [{"n": n, "level": flag["level"], "at": flag["at"]} for n, flag in enumerate(flags, start=1)]


def _titled(scene: dict[str, Any], title: str) -> dict[str, Any]:
    words = FIGURE["words"] | scene.get("words", {})
    side = words[scene["side"]]
    text = words[f"title.{title}"].replace("{Side}", side[:1].upper() + side[1:])
    scene["title"] = text.replace("{side}", side)
    return scene


def guide(
    field_key: str,
    entry: Entry,
    result: Mapping[str, Any] | None,
    catalogue: Mapping[str, Any] | None = None,
    *,
    words: Mapping[str, str] | None = None,
    fit: tuple[float, float] | None = None,
) -> dict[str, Any] | None:
    """The guide scene of a field: the leg with that measurement on it; None for a field without one."""
    row = FIGURE["guides"].get(field_key)
    if row is None:
        return None
    scene = scene_of(entry, result, catalogue, purpose="guide", view=row["view"], words=words, fit=fit)
    scene = overlaid(scene, row)
    if scene["tape"] is True:
        scene["tape"] = field_key
    title = row["title"]
    if field_key == "girth" and (scene["other_leg"] != "sound" or entry.get("girth_from") == "chosen"):
        _measure_the_shell(scene)
        title = "girth_chosen"
    if field_key == "taken":
        _take_posture(scene, entry.get("taken") or "standing")
    if scene["tape"]:
        scene["units"] = typed_of(entry, scene["tape"]).unit
        scene["tape"] = {"of": scene["tape"]}
    scene["axis"] = scene["axis"] or (scene["moves"] and scene["foot"]["ankle"] in ("jointed", "wide"))
    return _titled(scene, title)


def overlaid(scene: dict[str, Any], row: Mapping[str, Any]) -> dict[str, Any]:
    """The scene with what a row of the figure's guides or choices asks for."""
    for key in ("axis", "band", "bare", "close", "floor", "moves"):
        scene[key] = bool(row.get(key))
    scene["frame"] = row["frame"]
    scene["leg"] = row.get("leg", "prosthesis")
    scene["tape"] = row.get("tape")
    scene["dots"] = list(row.get("dots", []))
    scene["focus"] = list(row.get("focus", []))
    scene["strong_edge"] = row.get("strong_edge")
    scene["footwear"] = row.get("footwear", scene["footwear"])
    scene["foot"]["profile"] = row.get("profile", scene["foot"]["profile"])
    scene["shell"]["state"] = row.get("shell", "none")
    scene["shows"] = list(row.get("shows", []))
    scene["lean"] = row.get("lean")
    scene["knee"]["pins"] = row.get("pins", scene["knee"]["pins"])
    if "posture" in row:
        scene["posture"] = row["posture"]
    return scene


def _measure_the_shell(scene: dict[str, Any]) -> None:
    """Without a sound leg to go by, the girth is the shell's own."""
    scene["leg"], scene["frame"] = "prosthesis", "whole"
    scene["shell"]["state"] = "pencil"


def _take_posture(scene: dict[str, Any], posture: str) -> None:
    scene["posture"] = posture
    scene["frame"] = {"seated": "seated", "off_body": "lying"}.get(posture, scene["frame"])
