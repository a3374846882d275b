"""The leg's own parts: which are there, how they are drawn, what of them moves."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from orders.figure.data import FIGURE
from orders.figure.form import Path, path_of, point_of, turned, value_of
from orders.figure.pen import Pen

SWINGS = {
    "spring": {"from": 19, "to": 7, "both": False, "ghost": 7},
    "jointed": {"from": 33, "to": 4, "both": True, "ghost": 11},
    "wide": {"from": 38, "to": -4, "both": True, "ghost": 20},
}
"""How each ankle moves about its axis: the arrow before the toe and the foot's other place. [deg below forward]"""
ARROW_R_MM = 224.0


def state_of(scene: Mapping[str, Any]) -> dict[str, str]:
    """The answers that decide which parts are drawn."""
    shown = scene["construction"] if scene["leg"] != "other" else "bare"
    return {
        "pins": scene["knee"]["pins"],
        "control": scene["knee"].get("control") or "mechanical",
        "profile": scene["foot"]["profile"],
        "level": scene["level"],
        "construction": shown,
        "footwear": scene["footwear"],
        "socket": "on",
        "close": "yes" if scene["close"] else "no",
        "moving": _yes_or_no(scene.get("moving") or "moving" in scene["shows"]),
        "stop": _yes_or_no(scene["knee"].get("stop_mm") is not None or "stop" in scene["shows"]),
        "thigh_side": _yes_or_no(scene["knee"].get("thigh_side_mm") or "thigh_side" in scene["shows"]),
        "lean": scene["lean"] or "no",
        "posture": scene["posture"],
        "other_leg": scene["other_leg"],
        "girth_over": scene["girth_over"],
        "swelling": scene["swelling"],
    }


def _yes_or_no(is_there: object) -> str:
    return "yes" if is_there else "no"


def parts_of(scene: Mapping[str, Any], view: str) -> list[Mapping[str, Any]]:
    """The parts of one view, in the order in which they are drawn."""
    if scene["purpose"] == "mark":
        return FIGURE["mark_parts"] if scene["frame"] == "mark" else []
    if scene["bare"]:
        return []
    other = scene["leg"] == "other" and scene["other_leg"] != "above_knee"
    state = state_of(scene)
    return [
        part
        for part in FIGURE["other" if other else "parts"]
        if part["view"] == view and all(state[key] in values for key, values in part["when"].items())
    ]


def draw_parts(pen: Pen, scene: Mapping[str, Any], view: str, lengths: Mapping[str, float]) -> None:
    for part in parts_of(scene, view):
        _draw_part(pen, part, _kind(part, scene), scene, lengths)


def _kind(part: Mapping[str, Any], scene: Mapping[str, Any]) -> str:
    kind = f"fg-{part['class']}"
    if any(part["id"].startswith(focus) for focus in scene["focus"]):
        kind += " fg-focus"
    high = scene["foot"]["profile"] == "high" and scene["foot"].get("hardware_above_rim_mm") is None
    if scene["purpose"] == "scale" and high and part["id"].startswith("foot."):
        kind += " fg-assumed"
    return kind


def _draw_part(
    pen: Pen, part: Mapping[str, Any], kind: str, scene: Mapping[str, Any], lengths: Mapping[str, float]
) -> None:
    down = lengths["L"] if part.get("at") == "@" else 0.0
    if "c" in part:
        x, y = point_of(part["c"], lengths)
        pen.circle(kind, x, y + down, value_of(part["r"], lengths))
    elif "box" in part:
        (ax, ay), (bx, by) = (point_of(corner, lengths) for corner in part["box"].split())
        pen.box(kind, (ax, ay + down), (bx, by + down), part["round"])
    else:
        pen.path(kind, _placed(part, scene, lengths, down))


def _bends_about(scene: Mapping[str, Any], lengths: Mapping[str, float]) -> tuple[float, float]:
    """Where the knee turns by a right angle: about its pin, or, with four, where both links stay as long as they are."""
    return (29.7, -32.5) if scene["knee"]["pins"] == "several" else (-6, 35 * lengths["k"])


def _placed(
    part: Mapping[str, Any], scene: Mapping[str, Any], lengths: Mapping[str, float], down: float
) -> Path:
    path = path_of(part["d"], lengths)
    if down:
        path = [(letter, [(x, y + down) for x, y in points]) for letter, points in path]
    if part.get("turns") == "thigh" and scene["posture"] == "seated":
        path = turned(path, _bends_about(scene, lengths), 90)
    return path


def draw_ghost_and_arrows(pen: Pen, scene: Mapping[str, Any], lengths: Mapping[str, float]) -> None:
    """What the ankle moves: the foot again at the end of its way, and arrows round the axis."""
    swing = SWINGS.get(scene["foot"].get("ankle") or "")
    if swing is None:
        return
    axis = (0.0, lengths["L"] - lengths["ax"])
    _draw_ghost(pen, scene, lengths, (axis, swing["ghost"]))
    draw_arrow(pen, _arc(axis, ARROW_R_MM, swing["from"], swing["to"]), swing["both"])


def _draw_ghost(
    pen: Pen, scene: Mapping[str, Any], lengths: Mapping[str, float], turn: tuple[tuple[float, float], float]
) -> None:
    for part in FIGURE["parts"]:
        worn = part["when"].get("footwear", [scene["footwear"]])
        if part.get("turns") == "foot" and part["class"] in ("shoe", "sole") and scene["footwear"] in worn:
            path = turned(_placed(part, scene, lengths, lengths["L"]), *turn)
            pen.path("fg-ghost", path)


def _arc(centre: tuple[float, float], r: float, start: float, end: float) -> list[tuple[float, float]]:
    points = []
    for i in range(9):
        angle = (start + (end - start) * i / 8) * math.pi / 180
        points.append((centre[0] + r * math.cos(angle), centre[1] + r * math.sin(angle)))
    return points


def draw_arrow(pen: Pen, points: Sequence[tuple[float, float]], both_ends: bool = False) -> None:
    """An arrow along points in mm: something moves this way, or to and fro."""
    line = [pen.at(x, y) for x, y in points]
    pen.line_px("fg-arrow", line)
    _draw_head(pen, line[-2], line[-1])
    if both_ends:
        _draw_head(pen, line[1], line[0])


def _draw_head(pen: Pen, before: tuple[float, float], tip: tuple[float, float]) -> None:
    x, y = tip[0] - before[0], tip[1] - before[1]
    size = math.sqrt(x * x + y * y)
    x, y = x / size, y / size
    back, out = 8.0, 5.5
    left = (tip[0] - x * back - y * out, tip[1] - y * back + x * out)
    right = (tip[0] - x * back + y * out, tip[1] - y * back - x * out)
    pen.line_px("fg-arrow", [left, tip, right])
