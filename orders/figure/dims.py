"""What makes a drawing one to scale: dimensions, the grid and its bar. Arrows mean movement, so none here."""

import math
from collections.abc import Mapping
from typing import Any

from orders.figure.data import FIGURE
from orders.figure.form import point_of, value_of
from orders.figure.lengths import Station, front_at, rear_at
from orders.figure.pen import Pen, decimal, letters_px, tenths
from orders.reckoning.language import with_mark


def lanes_px(pen: Pen, keys: list[str], lengths: Mapping[str, float]) -> dict[str, float]:
    """Where each lane of dimensions runs, on a side view that the pen stands at. [px]"""
    front = pen.at(50 * lengths["g"], 0)[0] - 34
    rear = pen.at(-84 * lengths["g"], 0)[0] + 18
    outer = front - 44 if "hardware_length" in keys else front
    return {"front2": front, "front": outer, "rear": rear, "rear2": rear - 30}


def draw_dims(
    pen: Pen,
    dims: list[Mapping[str, Any]],
    lengths: Mapping[str, float],
    stations: list[Station],
    words: Mapping[str, str],
) -> None:
    """The upright dimensions of a side view, each value beside its line."""
    lanes = lanes_px(pen, [dim["of"] for dim in dims], lengths)
    for dim in dims:
        form = FIGURE["dims"][dim["of"]]
        if form["lane"] == "inside":
            draw_inside(pen, dim, "side", lengths, words)
        elif form["lane"] in lanes:
            _draw_upright(pen, dim, form, lanes[form["lane"]], (lengths, stations, words))


def _draw_upright(
    pen: Pen,
    dim: Mapping[str, Any],
    form: Mapping[str, Any],
    lane: float,
    known: tuple[Mapping[str, float], list[Station], Mapping[str, str]],
) -> None:
    lengths, stations, words = known
    ends = sorted(value_of(form[key], lengths) for key in ("from", "to"))
    strong = " fg-strong" if dim.get("strong") else ""
    main = " fg-main" if dim["of"] == "finished_length" else ""
    pen.raw(f'<g class="fg-dimension{strong}{main}" data-of="{dim["of"]}">')
    for y in ends:
        _witness(pen, form, lane, y, (lengths, stations))
    a, b = (pen.at(0, y)[1] for y in ends)
    pen.line_px("fg-dim", [(lane, a), (lane, b)])
    for y in (a, b):
        pen.line_px("fg-slash", [(lane - 5.5, y + 5.5), (lane + 5.5, y - 5.5)])
    number = with_mark(decimal(dim["value_mm"], dim.get("parts", 1)))
    label = f"{number} {words[form['word']]}" if "word" in form else number
    _value_beside(pen, label if letters_px(label) + 14 <= b - a else number, lane, a, b)
    pen.raw("</g>")


def _witness(
    pen: Pen,
    form: Mapping[str, Any],
    lane: float,
    y: float,
    known: tuple[Mapping[str, float], list[Station]],
) -> None:
    lengths, stations = known
    if "witness" in form and 0 < y < lengths["L"] and abs(y - lengths["f"]) > 0.1:
        x = pen.at(value_of(form["witness"], lengths), y)[0]
    elif y >= lengths["L"]:
        x = pen.at(50, y)[0] if form["lane"].startswith("front") else pen.at(-50, y)[0]
    elif form["lane"].startswith("front"):
        x = pen.at(front_at(stations, y) + 2, y)[0]
    else:
        x = pen.at(0 if y <= 0 else rear_at(stations, y) * 0.4, y)[0]
    out = -7 if lane < x else 7
    pen.line_px(
        "fg-witness", [(lane + out, pen.at(0, y)[1]), (x + (1 if lane > x else -1) * 1.5, pen.at(0, y)[1])]
    )


def _value_beside(pen: Pen, label: str, lane: float, a: float, b: float) -> None:
    """Along the line where it fits, else level and beside it."""
    if b - a >= letters_px(label) + 14:
        x = lane - (18 if pen.mirrored else 8)
        pen.text("fg-value", (x, (a + b) / 2), label, "middle", upright=True)
    else:
        pen.text("fg-value", (lane - 11, (a + b) / 2 + 5), label, "end")


def inside_told(dim: Mapping[str, Any]) -> tuple[bool, int] | None:
    """Whether it overlaps, and by how much or how much is clear, in whole mm; None for what isn't inside the shell.

    Downwards: what is clear is never told larger, an overlap never smaller than it is.
    """
    if FIGURE["dims"][dim["of"]]["lane"] != "inside":
        return None
    number = math.floor(dim["value_mm"])
    return number < 0, abs(number)


def draw_inside(
    pen: Pen, dim: Mapping[str, Any], view: str, lengths: Mapping[str, float], words: Mapping[str, str]
) -> None:
    """What is left clear inside, or overlaps, over what it is clear of; nothing on the other view."""
    form = FIGURE["dims"][dim["of"]]
    if form["view"] != view:
        return
    strong = " fg-strong" if dim.get("strong") else ""
    pen.raw(f'<g class="fg-dimension{strong}" data-of="{dim["of"]}">')
    overlaps, number = inside_told(dim)
    word = words["overlap" if overlaps else "clear"]
    pen.text("fg-value", pen.at(*point_of(form["at"], lengths)), f"{number} {word}")
    pen.raw("</g>")


def draw_girth_line(
    pen: Pen, dim: Mapping[str, Any], lengths: Mapping[str, float], words: Mapping[str, str]
) -> None:
    """The widest place, level across a front view, with its girth under it."""
    strong = " fg-strong" if dim.get("strong") else ""
    pen.raw(f'<g class="fg-dimension{strong}" data-of="girth">')
    (ax, y), (bx, _) = pen.at(-lengths["ci"], lengths["cy"]), pen.at(lengths["cx"], lengths["cy"])
    pen.line_px("fg-axis", [(ax - 8, y), (bx + 8, y)])
    number = math.floor(dim["value_mm"] + 0.5)
    pen.text("fg-value", ((ax + bx) / 2, y + 18), f"{words['girth']} {number}")
    pen.raw("</g>")


def draw_grid(pen: Pen, height: float) -> None:
    """Every 10 mm, heavier every 50, counted from the apex and the pylon's axis."""
    for kind, step, skip in (("fg-grid", 10, 5), ("fg-grid fg-heavy", 50, 0)):
        d = _grid_lines(pen, pen.width, pen.x0, step, skip, "V", height)
        d += _grid_lines(pen, height, pen.y0, step, skip, "H", pen.width)
        pen.raw(f'<path class="{kind}" d="{d}"/>')


def _grid_lines(
    pen: Pen, size: float, origin: float, step: int, skip: int, letter: str, across: float
) -> str:
    pitch = step * pen.scale
    first, last = math.ceil(-origin / pitch), math.floor((size - origin) / pitch)
    text = ""
    for n in range(first, last + 1):
        if skip and n % skip == 0:
            continue
        at = origin + n * pitch
        if letter == "V":
            text += f"M{tenths(pen.across(at))} 0V{tenths(across)}"
        else:
            text += f"M0 {tenths(at)}H{tenths(across)}"
    return text


def draw_bar(pen: Pen, at: tuple[float, float], label: str) -> None:
    """A bar of 50 mm with its name, from a px point rightwards."""
    x, y = at
    long = 50 * pen.scale
    pen.raw('<g class="fg-scale-bar">')
    pen.line_px("fg-bar", [(x, y), (x + long, y)])
    pen.text("fg-note", (x + long + 6, y + 5), label, "start")
    pen.raw("</g>")
