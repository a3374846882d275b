"""The one yellow thing on a drawing: the tape of the field in hand, with its marks."""

import math
from collections.abc import Mapping
from typing import Any

from orders.figure.data import FIGURE
from orders.figure.form import Point, point_of, value_of
from orders.figure.pen import Pen, letters_px

TICKS_MM = {"mm": (10.0, 5), "cm": (10.0, 5), "in": (12.7, 10)}
"""Between two ticks, and how many of these make a long one: every 5 cm or 5 in."""

OVERLAP_SHARE = 0.43
"""Where the tape overlaps itself round a limb, as a share of half the width, towards the inner side."""


def draw_tape(pen: Pen, of: str, units: str, lengths: Mapping[str, float], words: Mapping[str, str]) -> None:
    """Tape, black ends, dots and their names for the measurement of one field, in the unit typed."""
    tape = FIGURE["tapes"][of]
    pen.raw(f'<g class="fg-measure" data-of="{of}">')
    if tape["way"] == "round":
        _draw_round(pen, units, lengths)
    elif tape["way"] == "across":
        _draw_across(pen, tape, units, lengths, words)
    else:
        _draw_upright(pen, tape, units, lengths, words)
    pen.raw("</g>")


def _ticks(length_mm: float, units: str, scale: float) -> list[tuple[float, int]]:
    """Where the ticks lie from the tape's start, and their kind: 2 long, 1 middling, 0 short."""
    step, long = TICKS_MM[units]
    if step * scale < 4:
        step, long = step * 2, long // 2 if units == "in" else long
    ticks = []
    count = math.floor(length_mm / step + 1e-6)
    for n in range(1, count + 1):
        at = n * step
        if length_mm - at > 1.5 / scale:
            ticks.append((at, _tick_kind(n, long, units)))
    return ticks


def _tick_kind(n: int, long: int, units: str) -> int:
    if n % long == 0:
        return 2
    return 1 if units != "in" or long != 10 or n % 2 == 0 else 0


def _draw_upright(
    pen: Pen, tape: Mapping[str, Any], units: str, lengths: Mapping[str, float], words: Mapping[str, str]
) -> None:
    top, bottom = value_of(tape["from"], lengths), value_of(tape["to"], lengths)
    start, end = (bottom, top) if tape["way"] == "up" else (top, bottom)
    x = pen.at(50 * max(lengths["g"], 1), 0)[0] - max(36 * pen.scale, 30)
    half = 8.0
    a, b = pen.at(0, min(start, end))[1], pen.at(0, max(start, end))[1]
    _witnesses(pen, tape, (x + half, start, end), lengths)
    pen.box_px("fg-tape", (x - half, a), (x + half, b))
    way = 1 if end > start else -1
    for at, kind in _ticks(abs(end - start), units, pen.scale):
        y = pen.at(0, start + way * at)[1]
        reach = (5.5, 10.0, 16.0)[kind]
        pen.line_px(f"fg-tick{' fg-long' if kind == 2 else ''}", [(x + half - reach, y), (x + half, y)])
    for y in (a, b):
        pen.line_px("fg-tape-end", [(x - half - 1.5, y), (x + half + 1.5, y)])
    _name_ends(pen, tape, (x - half - 8, start, end), words)


def _witnesses(
    pen: Pen, tape: Mapping[str, Any], where: tuple[float, float, float], lengths: Mapping[str, float]
) -> None:
    edge = where[0]
    for mark in tape["marks"]:
        if mark:
            x, y = pen.at(*point_of(mark, lengths))
            pen.line_px("fg-witness", [(edge, y), (x, y)])
            pen.circle_px("fg-mark", (x, y), 5)


def _name_ends(
    pen: Pen, tape: Mapping[str, Any], where: tuple[float, float, float], words: Mapping[str, str]
) -> None:
    """Beside the tape's ends; where a narrow picture has no room for that, above the upper and under the lower one."""
    x, start, end = where
    first, second = (pen.at(0, y)[1] for y in (start, end))
    if tape["way"] == "up":
        first, second = second, first
    upper, lower = min(first, second), max(first, second)
    spread = max(0.0, 17 - (lower - upper)) / 2
    wides = [0.0 if name == "floor" else letters_px(words[name]) for name in tape["names"]]
    beside = max(wides) <= x
    for name, wide, y in zip(tape["names"], wides, (first, second), strict=True):
        way = -1 if y == upper else 1
        if name == "floor":
            pen.text("fg-end", (x + 16, y + 18), words[name])
        elif beside:
            pen.text("fg-end", (x, y + 5 + way * spread), words[name], "end")
        else:
            pen.text("fg-end", (max(x + 16, wide / 2 + 1), y + 5 + way * 12), words[name])


def _draw_across(
    pen: Pen, tape: Mapping[str, Any], units: str, lengths: Mapping[str, float], words: Mapping[str, str]
) -> None:
    (ax, y), (bx, _) = (
        pen.at(value_of(tape[key], lengths), value_of(tape["y"], lengths)) for key in ("from", "to")
    )
    low, high = y - 18, y - 34
    for x in (ax, bx):
        pen.line_px("fg-witness", [(x, low), (x, y)])
    pen.box_px("fg-tape", (ax, high), (bx, low))
    for at, kind in _ticks((bx - ax) / pen.scale, units, pen.scale):
        x = ax + at * pen.scale
        reach = (5.5, 10.0, 16.0)[kind]
        pen.line_px(f"fg-tick{' fg-long' if kind == 2 else ''}", [(x, low - reach), (x, low)])
    for x in (ax, bx):
        pen.line_px("fg-tape-end", [(x, high - 1.5), (x, low + 1.5)])
        pen.circle_px("fg-mark", (x, y), 5)
    _name_sides(pen, tape, (ax, bx, high), words)


def _name_sides(
    pen: Pen, tape: Mapping[str, Any], where: tuple[float, float, float], words: Mapping[str, str]
) -> None:
    """Beside the tape's ends; where a narrow picture has no room for that, above them."""
    ax, bx, high = where
    left, right = (words[name] for name in tape["names"])
    wide, other = letters_px(left), letters_px(right)
    if wide <= ax - 8 and bx + 8 + other <= pen.width:
        pen.text("fg-end", (ax - 8, high + 13), left, "end")
        pen.text("fg-end", (bx + 8, high + 13), right, "start")
    else:
        middle = (ax + bx) / 2
        pen.text("fg-end", (max(min(ax + wide, middle - 3), wide + 1), high - 6), left, "end")
        at = min(max(bx - other, middle + 3), pen.width - other - 1)
        pen.text("fg-end", (at, high - 6), right, "start")


def _draw_round(pen: Pen, units: str, lengths: Mapping[str, float]) -> None:
    """Round the limb at its widest: it sags 5 mm, its ticks crowd at the edges, its end hangs."""
    half, y = 61.8 * lengths["g"], lengths["L"] * 0.324
    sag, wide = 5.0, max(15.0, min(12 / pen.scale, 20.0))
    _hanging_end(pen, half, y, sag, wide)
    band = [(-half + half * i / 8, y - wide / 2 + _sag(i / 8 - 1, sag)) for i in range(17)]
    low = [(x, v + wide) for x, v in band[::-1]]
    pen.line_px("fg-tape", [pen.at(x, v) for x, v in [*band, *low]], close=True)
    step, long = TICKS_MM[units]
    while step * pen.scale < 4:
        step *= 2
    start = math.asin(-OVERLAP_SHARE)
    around = half * math.pi / 2
    first, last = math.ceil((-around - start * half) / step), math.floor((around - start * half) / step)
    for n in range(first, last + 1):
        angle = start + n * step / half
        x, v = half * math.sin(angle), y - wide / 2 + sag * math.cos(angle)
        kind = _tick_kind(n, long, units)
        reach = wide * (0.4, 0.6, 1.0)[kind]
        pen.line_px(f"fg-tick{' fg-long' if kind == 2 else ''}", [pen.at(x, v), pen.at(x, v + reach)])
    x = -half * OVERLAP_SHARE
    v = y - wide / 2 + _sag(x / half, sag)
    pen.line_px("fg-overlap", [pen.at(x, v - 1), pen.at(x, v + wide + 1)])


def _sag(share: float, sag: float) -> float:
    return sag * math.sqrt(max(0.0, 1 - share * share))


def _hanging_end(pen: Pen, half: float, y: float, sag: float, wide: float) -> None:
    x, top = -half * OVERLAP_SHARE, y + wide / 2 + _sag(OVERLAP_SHARE, sag) - 1
    points: list[Point] = [(x + 10, top), (x - 5, top), (x - 8, top + 1.45 * wide), (x + 7, top + 1.6 * wide)]
    pen.line_px("fg-tape", [pen.at(px, py) for px, py in points], close=True)
