"""Draw a scene of the leg figure as SVG text, the same text as static/js/figure/leg.js."""

import math
from collections.abc import Mapping
from html import escape
from typing import Any

from orders.figure.data import FIGURE
from orders.figure.dims import draw_bar, draw_dims, draw_girth_line, draw_grid, draw_inside, inside_told
from orders.figure.flags import column_of, draw_flag, edge_path, lettered_beside, place_of, spread
from orders.figure.form import Point, point_of
from orders.figure.lengths import DEFAULTS, Station, given, lengths_of, stations_of
from orders.figure.parts import draw_ghost_and_arrows, draw_parts
from orders.figure.pen import Pen, decimal
from orders.figure.plan import Panel, Plan, many_dims, plan_of, views_of
from orders.figure.shell import (
    Outline,
    draw_front_straps,
    draw_section,
    draw_shell,
    draw_side_straps,
    front_outline,
    side_outline,
)
from orders.figure.tape import draw_tape
from orders.reckoning.language import with_mark

Scene = Mapping[str, Any]
PLAIN: dict[str, Any] = {
    "view": "side", "side": "left", "purpose": "guide", "frame": "whole", "units": "mm",
    "length_mm": None, "gap_mm": None, "girth_mm": None, "level": "transfemoral", "construction": "bare",
    "other_leg": "sound", "footwear": "low", "posture": "standing", "leg": "prosthesis", "girth_over": "skin",
    "swelling": "none", "band": False, "bare": False, "close": False, "floor": False, "moves": False,
    "axis": False, "strong_edge": None, "tape": None, "dots": [], "dims": [], "flags": [],
    "focus": [], "shows": [], "lean": None, "title": "",
}  # fmt: skip


def complete(scene: Scene) -> dict[str, Any]:
    """The scene with every key that drawing reads."""
    full = PLAIN | dict(scene)
    if scene.get("purpose") == "mark" and "frame" not in scene:
        full["frame"] = "mark"
    full["knee"] = {"pins": "one"} | (scene.get("knee") or {})
    full["foot"] = {"profile": "low", "ankle": None} | (scene.get("foot") or {})
    full["shell"] = {"state": "none"} | (scene.get("shell") or {})
    return full


def draw(scene: Scene) -> str:
    """SVG text of a scene: classes only, no style attributes, with a title and a description.

    A scene without a title is a mark whose words stand beside it: hidden from who hears the page.

    Raises KeyError for a place, a field or a frame that the figure doesn't have.
    """
    full = complete(scene)
    words = FIGURE["words"] | (scene.get("words") or {})
    lengths = lengths_of(full)
    stations = stations_of(full, lengths["f"], given(full["girth_mm"], DEFAULTS["girth_mm"]))
    plan = plan_of(full, lengths)
    pen = Pen(plan.scale, plan.width, full["side"] == "right")
    outlines = {
        "side": side_outline(full["shell"], lengths, stations),
        "front": front_outline(full["shell"], lengths, stations),
    }
    if full["purpose"] == "scale":
        _stand(pen, plan.panels[0], full)
        draw_grid(pen, plan.height)
    for panel in plan.panels:
        _stand(pen, panel, full)
        _draw_view(pen, panel.view, full, lengths, outlines[panel.view])
        _draw_stop_edges(pen, panel.view, full, lengths, outlines)
    pictured = len(pen.out)
    for panel in plan.panels:
        _stand(pen, panel, full)
        _draw_lettering(pen, panel.view, full, (lengths, stations, words))
    if full["purpose"] == "scale":
        _draw_notes(pen, plan, full, words)
    pen.out[pictured:pictured] = _draw_flags(pen, plan, full, lengths)
    return _wrapped(pen, plan, full, words)


def _stand(pen: Pen, panel: Panel, scene: Scene) -> None:
    pen.stand_at(panel.x0, panel.y0, panel.way, scene["posture"] == "off_body")


def _draw_view(pen: Pen, view: str, scene: Scene, lengths: Mapping[str, float], outline: Outline) -> None:
    """The leg, the gap, the shell and what belongs to them."""
    if scene["frame"] == "section":
        draw_section(pen, given(scene["shell"].get("wall_mm"), DEFAULTS["wall_mm"]), 385 * lengths["g"])
        return
    if scene["floor"]:
        _draw_floor(pen, lengths)
    if scene["moves"]:
        draw_ghost_and_arrows(pen, scene, lengths)
    draw_parts(pen, scene, view, lengths)
    if scene["band"]:
        pen.box("fg-gap", (58, lengths["f"]), (-58, lengths["f"] + lengths["gap"]))
    shell = scene["shell"]
    if shell["state"] != "none" and scene["leg"] != "other":
        draw_shell(pen, outline, shell["state"])
        if scene["strong_edge"] in outline.edges:
            pen.path("fg-shell-edge", outline.edge(scene["strong_edge"]))
        _draw_straps(pen, view, scene, lengths)
    _draw_axis(pen, view, scene, lengths)


def _draw_straps(pen: Pen, view: str, scene: Scene, lengths: Mapping[str, float]) -> None:
    shell = scene["shell"]
    if shell["state"] != "ink" or scene["purpose"] == "mark" or scene["bare"]:
        return
    if view == "side":
        draw_side_straps(pen, lengths, shell)
    else:
        draw_front_straps(pen, lengths, shell, scene["frame"] == "straps")


def _draw_axis(pen: Pen, view: str, scene: Scene, lengths: Mapping[str, float]) -> None:
    """Where the ankle turns: a pin where it was measured, a pencil cross where it is assumed."""
    foot = scene["foot"]
    y = lengths["L"] - lengths["ax"]
    if view != "side" or scene["bare"] or scene["leg"] == "other":
        return
    if foot.get("axis_above_rim_mm") is not None:
        pen.circle("fg-hub", 0, y, 4.6)
        pen.circle("fg-pindot", 0, y, 1.3)
    elif scene["axis"] or (
        scene["purpose"] == "scale" and foot["profile"] == "high" and foot["ankle"] in ("jointed", "wide")
    ):
        pen.path(
            "fg-axis",
            [("M", [(-16.0, y)]), ("L", [(16.0, y)]), ("M", [(0.0, y - 16)]), ("L", [(0.0, y + 16)])],
        )


def _draw_floor(pen: Pen, lengths: Mapping[str, float]) -> None:
    if pen.lying:
        pen.line_px("fg-floor", [(0, pen.y0 + 70 * pen.scale), (pen.width, pen.y0 + 70 * pen.scale)])
        return
    y = pen.at(0, lengths["L"] + 95)[1]
    pen.line_px("fg-floor", [(0, y), (pen.width, y)])


def _draw_lettering(
    pen: Pen,
    view: str,
    scene: Scene,
    known: tuple[Mapping[str, float], list[Station], Mapping[str, str]],
) -> None:
    lengths, stations, words = known
    if scene["band"] and scene["gap_mm"] is not None:
        _name_gap(pen, scene["gap_mm"], lengths, words)
    if scene["tape"]:
        draw_tape(pen, scene["tape"]["of"], scene["units"], lengths, words)
    for dot in scene["dots"]:
        pen.circle_px("fg-mark", pen.at(*point_of(dot, lengths)), 4)
    if view == "side":
        draw_dims(pen, scene["dims"], lengths, stations, words)
    else:
        for dim in scene["dims"]:
            if dim["of"] == "girth":
                draw_girth_line(pen, dim, lengths, words)
            elif FIGURE["dims"][dim["of"]]["lane"] == "inside":
                draw_inside(pen, dim, "front", lengths, words)


def _name_gap(pen: Pen, gap_mm: float, lengths: Mapping[str, float], words: Mapping[str, str]) -> None:
    """How much is left open, in pencil, behind the gap."""
    x, y = pen.at(-58, lengths["f"] + lengths["gap"] / 2)
    pen.line_px("fg-pencil-line", [(x, y), (x + 12, y)])
    pen.text("fg-pencil-name", (x + 16, y - 2), str(math.floor(gap_mm + 0.5)), "start")
    pen.text("fg-pencil-name", (x + 16, y + 14), words["open"], "start")


def _draw_notes(pen: Pen, plan: Plan, scene: Scene, words: Mapping[str, str]) -> None:
    """The views' names in the corners, and the bar that says how long 50 mm is."""
    side = words[scene["side"]]
    names = {
        "side": words["from_outside"].replace("{side}", side) if many_dims(scene) else words["view.side"],
        "front": words["view.front"],
    }
    views = views_of(scene)
    pen.text("fg-note", (14, 24), names[views[0]], "start")
    if len(views) > 1:
        pen.text("fg-note", (plan.width - 14, 24), names[views[1]], "end")
    if scene["view"] == "both" and not many_dims(scene):
        first = plan.panels[0]
        draw_bar(pen, (first.x0 + 69 * plan.scale + 8, plan.height - 14), words["bar"])
    else:
        draw_bar(pen, (14, plan.height - 14), words["bar.long"])


def _draw_stop_edges(
    pen: Pen, view: str, scene: Scene, lengths: Mapping[str, float], outlines: Mapping[str, Outline]
) -> None:
    """What the stops are about, under the lettering, so that no figure is covered."""
    views = views_of(scene)
    for flag in scene["flags"]:
        found = place_of(flag["at"], views)
        shown = (found[0] if found else views[0]) == view
        if shown and flag["level"] == "stop" and (path := edge_path(flag["at"], view, lengths, outlines)):
            pen.path("fg-stop-edge", path)


def _draw_flags(pen: Pen, plan: Plan, scene: Scene, lengths: Mapping[str, float]) -> list[str]:
    """The shapes, column by column, each beside what is lettered; gives their leaders, which go under the lettering."""
    views = views_of(scene)
    panels = {panel.view: panel for panel in plan.panels}
    columns: dict[str, list[tuple[float, Mapping[str, Any], Point | None]]] = {}
    for flag in scene["flags"]:
        found = place_of(flag["at"], views)
        view = found[0] if found else views[0]
        _stand(pen, panels[view], scene)
        place = pen.at(*point_of(found[1], lengths)) if found else None
        column = column_of(flag["at"], view, many_dims(scene), views)
        wanted = (place[1] if place else 60.0) - 26
        columns.setdefault(column, []).append((wanted, flag, place))
    leaders = Pen(pen.scale, pen.width, pen.mirrored)
    for column in ("front", "rear", "outer"):
        rows = sorted(columns.get(column, []), key=lambda row: (row[0], row[1]["n"]))
        x = _column_px(plan, column, many_dims(scene))
        heights = spread([row[0] for row in rows], 52, plan.height - 46, lettered_beside(pen, x))
        for (_, flag, place), y in zip(rows, heights, strict=True):
            if place:
                leaders.line_px("fg-leader", [(x, y), place])
            draw_flag(pen, flag, (x, y), place)
    return leaders.out


def _column_px(plan: Plan, column: str, crowded: bool) -> float:
    first = plan.panels[0]
    if column == "front":
        return max(
            20.0, min(first.x0 - 160 * plan.scale, first.x0 - 50 * plan.scale - (136 if crowded else 84))
        )
    if column == "rear" and len(plan.panels) > 1:
        return (first.x0 + 84 * plan.scale + plan.panels[1].x0 - 62 * plan.scale) / 2
    return plan.width - 26


def _wrapped(pen: Pen, plan: Plan, scene: Scene, words: Mapping[str, str]) -> str:
    width, height = decimal(plan.width, 10), decimal(plan.height, 10)
    size = f'viewBox="0 0 {width} {height}" width="{width}" height="{height}"'
    kind = f"fg fg-{scene['purpose']}"
    described = _description(scene, words)
    notes, role = "", ' aria-hidden="true"'
    if scene["title"]:
        notes, role = f"<title>{escape(scene['title'])}</title>", ' role="img"'
    if scene["title"] and described:
        notes += f"<desc>{escape(described)}</desc>"
    head = f'<svg xmlns="http://www.w3.org/2000/svg" class="{kind}"{role} {size}'
    return f'{head} data-px-per-mm="{decimal(plan.scale, 10000)}">{notes}{"".join(pen.out)}</svg>'


def _description(scene: Scene, words: Mapping[str, str]) -> str:
    """The dimensions and flags in words, for who can't see them."""
    said = [_in_words(dim, words) for dim in scene["dims"]]
    text = f"{', '.join(said)}." if said else ""
    if scene["flags"]:
        numbers = ", ".join(str(flag["n"]) for flag in scene["flags"])
        text += (" " if text else "") + words["desc.flags"].replace("{numbers}", numbers)
    return text


def _in_words(dim: Mapping[str, Any], words: Mapping[str, str]) -> str:
    """A dimension as its lettering has it: what overlaps isn't told as clear by less than nothing."""
    of, value = dim["of"], with_mark(decimal(dim["value_mm"], 10))
    if inside := inside_told(dim):
        overlaps, number = inside
        of, value = of.replace("clear_", "overlap_") if overlaps else of, str(number)
    return words["desc.number"].replace("{name}", words[f"dim.{of}"]).replace("{value}", value)
