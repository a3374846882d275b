"""Flags on the drawing: a numbered shape, a thin leader, a dot on the place; a stop re-inks its edge."""

from collections.abc import Mapping, Sequence
from typing import Any

from orders.figure.data import FIGURE
from orders.figure.form import Path, Point, path_of
from orders.figure.pen import Pen
from orders.figure.shell import Outline

APART_PX = 34.0
HALF_PX = 18.0
"""What a shape takes up to each side, the diamond's corners with a little air. [px]"""
LEVEL_CLASS = {"stop": "stop", "explain": "explain", "note": "note-flag"}


def place_of(at: str, views: list[str]) -> tuple[str, str] | None:
    """Which view shows the place, and its point as a pair of forms; None for "none"."""
    place = FIGURE["places"][at]
    view = place["panel"] if place["panel"] in views else views[0]
    return (view, place[view]) if place[view] else None


def edge_path(at: str, view: str, lengths: Mapping[str, float], outlines: Mapping[str, Outline]) -> Path:
    """The edge that a stop at this place re-inks; empty where the view has none."""
    form = FIGURE["edges"][at].get(view)
    if not form:
        return []
    return path_of(form, lengths) if form.startswith("M") else outlines[view].edge(form)


def column_of(at: str, view: str, crowded: bool, views: list[str]) -> str:
    """Where the shape of a flag stands: "front" over the toes, "rear" behind the leg, "outer" beside it."""
    if view == "front":
        return "outer"
    column = FIGURE["places"][at]["column"]
    if column == "outer":
        return "rear"
    return "front" if crowded and column == "rear" and len(views) > 1 else column


def lettered_beside(pen: Pen, x: float) -> list[tuple[float, float]]:
    """From where to where a shape at `x` would cover lettering, from the top down. [px]"""
    near = [room for room in pen.lettered if room[0] < x + HALF_PX and room[2] > x - HALF_PX]
    return sorted((top - HALF_PX, bottom + HALF_PX) for _, top, _, bottom in near)


def spread(
    wanted: list[float], low: float, high: float, taken: Sequence[tuple[float, float]] = ()
) -> list[float]:
    """Heights of shapes in one column, in order, within the picture, `APART_PX` apart and off what is taken. [px]

    Where there is no room for both they only stand apart, and closer if they must.
    """
    apart = min(APART_PX, (high - low) / max(len(wanted) - 1, 1))
    heights: list[float] = []
    for y in wanted:
        heights.append(_down(max(y, heights[-1] + apart) if heights else max(y, low), taken))
    limit = high
    for i in range(len(heights) - 1, -1, -1):
        heights[i] = _up(min(heights[i], limit), taken)
        limit = heights[i] - apart
    return spread(wanted, low, high) if taken and heights and heights[0] < low else heights


def _down(y: float, taken: Sequence[tuple[float, float]]) -> float:
    for top, bottom in taken:
        if top < y < bottom:
            y = bottom
    return y


def _up(y: float, taken: Sequence[tuple[float, float]]) -> float:
    for top, bottom in reversed(taken):
        if top < y < bottom:
            y = top
    return y


def draw_flag(pen: Pen, flag: Mapping[str, Any], shape: Point, place: Point | None) -> None:
    """One flag: its shape at a px point, a dot on the place's px point."""
    pen.raw(
        f'<g class="fg-flag fg-{LEVEL_CLASS[flag["level"]]}" data-n="{flag["n"]}" data-at="{flag["at"]}">'
    )
    if place is not None:
        pen.circle_px("fg-dot", place, 3.5)
    x, y = shape
    if flag["level"] == "stop":
        pen.box_px("fg-sign", (x - 12, y - 12), (x + 12, y + 12), 2)
    elif flag["level"] == "explain":
        pen.line_px("fg-sign", [(x, y - 15), (x + 15, y), (x, y + 15), (x - 15, y)], close=True)
    else:
        pen.circle_px("fg-sign", shape, 12)
    pen.text("fg-number", (x, y + 5), str(flag["n"]))
    pen.raw("</g>")
