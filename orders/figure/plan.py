"""How a picture is laid out: its scale, its size, and where each view stands."""

from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from orders.figure.data import FIGURE
from orders.figure.form import value_of
from orders.figure.pen import letters_px

FIT = {"guide": (214, 336), "scale": (412, 372), "mark": (40, 60), "choice": (112, 112)}
TAPE_ROOM = {
    "knee.hardware_length": 74,
    "length": 34,
    "second_route.apex_to_floor": 34,
    "gap": 42,
    "foot.axis_above_rim": 30,
}
"""Room in front of the leg for the tape's names, where the foot doesn't make it. [px]"""

NARROW_PX = 190
"""In a narrower guide the names stand above and under a tape that runs along the leg."""


class Room(NamedTuple):
    """What is kept free round the leg for lettering. [px]"""

    left: float
    right: float
    top: float
    bottom: float
    between: float


class Panel(NamedTuple):
    """One view: its name, where its origin stands on the unmirrored picture, which way x runs there."""

    view: str
    x0: float
    y0: float
    way: int


class Plan(NamedTuple):
    scale: float
    width: float
    height: float
    panels: list[Panel]


def views_of(scene: Mapping[str, Any]) -> list[str]:
    return ["side", "front"] if scene["view"] == "both" else [scene["view"]]


def many_dims(scene: Mapping[str, Any]) -> bool:
    """Whether the dimensions take the room between the two views."""
    return any(FIGURE["dims"][dim["of"]]["lane"].startswith("rear") for dim in scene["dims"])


def room_of(scene: Mapping[str, Any]) -> Room:
    """Room for dimensions, names and flags."""
    if scene["purpose"] == "scale":
        return _room_to_scale(scene)
    if scene["purpose"] != "guide":
        return Room(3, 3, 3, 3, 8)
    tape = scene["tape"]["of"] if scene["tape"] else ""
    left = TAPE_ROOM.get(tape, 4) + _more_than(scene, FIGURE["tapes"].get(tape, {}).get("names", ()))
    band = 44 + _more_than(scene, ["open"])
    right = band if scene["band"] else 20 if tape == "foot.rim_depth" else 4
    bottom = 22 if tape.startswith("second_route") else 4
    if _is_narrow(scene):
        return Room(22, right, 18, max(bottom, 18), 24)
    return Room(left, right, 4 if scene["frame"] == "tall" else 0, bottom, 24)


def _is_narrow(scene: Mapping[str, Any]) -> bool:
    fit, tape = scene.get("fit"), scene["tape"]
    return bool(fit and fit[0] < NARROW_PX and tape and FIGURE["tapes"][tape["of"]]["way"] in ("up", "down"))


def _more_than(scene: Mapping[str, Any], names: Iterable[str]) -> float:
    """By how much names in the scene's language are wider than their English keys, for which there is room. [px]"""
    words = FIGURE["words"] | scene.get("words", {})
    widths = [(letters_px(words[name]), letters_px(name)) for name in names]
    return max(0.0, max(own for own, _ in widths) - max(english for _, english in widths)) if widths else 0.0


def _room_to_scale(scene: Mapping[str, Any]) -> Room:
    outer = 44 if scene["view"] != "side" else 50
    if many_dims(scene):
        return Room(24, outer, 0, 32, 46)
    return Room(26, outer, 0, 8 if scene["view"] == "both" else 32, 92)


def plan_of(scene: Mapping[str, Any], lengths: Mapping[str, float]) -> Plan:
    """Scale and places so that the frame and its lettering fit into the scene's `fit`."""
    views, room = views_of(scene), room_of(scene)
    windows = [_window(scene["frame"], view, lengths) for view in views]
    wide = sum(abs(b - a) for a, b, _, _ in windows)
    tall = windows[0][3] - windows[0][2]
    width, height = scene.get("fit") or FIT[scene["purpose"]]
    across = room.left + room.right + room.between * (len(views) - 1)
    scale = scene.get("px_per_mm") or min((width - across) / wide, (height - room.top - room.bottom) / tall)
    content = scale * wide + across
    if scene["purpose"] != "scale" or scene.get("px_per_mm"):
        width, height = content, scale * tall + room.top + room.bottom
    x = room.left + (width - content) / 2
    y0 = height - room.bottom - scale * windows[0][3]
    panels = []
    for view, (low, high, _, _) in zip(views, windows, strict=True):
        way = _way(scene, view)
        panels.append(Panel(view, x + scale * (high if way < 0 else -low), y0, way))
        x += scale * (high - low) + room.between
    return Plan(scale, width, height, panels)


def _way(scene: Mapping[str, Any], view: str) -> int:
    """On a left leg x runs left from the outside, and outward is right as the person faces you."""
    if view == "side" or scene["leg"] == "other":
        return -1
    return 1


def _window(frame: str, view: str, lengths: Mapping[str, float]) -> tuple[float, float, float, float]:
    low, high, top, bottom = (value_of(form, lengths) for form in FIGURE["frames"][frame][view])
    return low, high, top, bottom
