"""The leg's own parts: which are there, how they are drawn, what of them moves."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from orders.figure.data import FIGURE
from orders.figure.form import Path, path_of, point_of, turned, value_of
from orders.figure.pen import Pen

SWINGS = {
    "spring": [{"r": 214, "from": 20, "to": 9, "ghost": 7}],
    "jointed": [{"r": 214, "from": 20, "to": 4, "ghost": 12}, {"r": 112, "from": 142, "to": 163, "ghost": 0}],
    "wide": [{"r": 214, "from": 22, "to": -6, "ghost": 22}, {"r": 112, "from": 134, "to": 172, "ghost": 0}],
}
"""Movement of each ankle about its axis: arrows by radius in mm and angles in degrees below forward."""


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
        "moving": "yes" if scene.get("moving") else "no",
        "other_leg": scene["other_leg"],
        "girth_over": scene["girth_over"],
        "swelling": scene["swelling"],
    }


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


def _placed(
    part: Mapping[str, Any], scene: Mapping[str, Any], lengths: Mapping[str, float], down: float
) -> Path:
    path = path_of(part["d"], lengths)
    if down:
        path = [(letter, [(x, y + down) for x, y in points]) for letter, points in path]
    if part.get("turns") == "thigh" and scene["posture"] == "seated":
        path = turned(path, (-6, 35 * lengths["k"]), -90)
    return path


def draw_ghost_and_arrows(pen: Pen, scene: Mapping[str, Any], lengths: Mapping[str, float]) -> None:
    """What the ankle moves: the foot again at the end of its way, and arrows round the axis."""
    swings = SWINGS.get(scene["foot"].get("ankle") or "", [])
    axis = (0.0, lengths["L"] - lengths["ax"])
    for swing in swings:
        if swing["ghost"]:
            _draw_ghost(pen, scene, lengths, (axis, swing["ghost"]))
    for swing in swings:
        draw_arrow(pen, _arc(axis, swing["r"], swing["from"], swing["to"]))


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


def draw_arrow(pen: Pen, points: Sequence[tuple[float, float]]) -> None:
    """An arrow along points in mm: something moves this way."""
    line = [pen.at(x, y) for x, y in points]
    (ax, ay), (bx, by) = line[-2], line[-1]
    size = math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay))
    ux, uy = (bx - ax) / size, (by - ay) / size
    back, out = 9.0, 6.5
    left = (bx - ux * back - uy * out, by - uy * back + ux * out)
    right = (bx - ux * back + uy * out, by - uy * back - ux * out)
    pen.line_px("fg-arrow", line)
    pen.line_px("fg-arrow", [left, (bx, by), right])
