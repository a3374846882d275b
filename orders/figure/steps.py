"""The handout's drawings: this shell on this leg, one step and one arrow to a drawing.

They are put together from the figure's own parts, so that the page shows the same leg as the sheet and the order.
Only the server draws them.
"""

import math
from collections.abc import Callable, Mapping
from html import escape
from typing import Any, NamedTuple

from orders.figure.form import Path, Point
from orders.figure.leg import complete
from orders.figure.lengths import DEFAULTS, SHELL, Station, front_at, given, lengths_of, stations_of
from orders.figure.parts import draw_arrow, draw_parts
from orders.figure.pen import Pen, decimal, letters_px
from orders.figure.shell import Outline, draw_shell, draw_side_straps, side_outline

FIT_PX = (380.0, 360.0)
"""Room of a step's drawing on a phone; the page scales it."""
PULL_PX = 18
LETTER_PX = 17.0
LEAN_DEG = 42.0
"""How far a straight leg slopes when its owner sits with the heel on the floor."""
BEFORE_MM = 92.0
"""How far in front of the leg the shell is held before it goes on."""
FLOOR_MM = 95.0
KNEE_CUT_MM = -10.0
"""Where the seated leg is cut: just under the apex's housing, above its lower pins."""


class Stage(NamedTuple):
    """What a step draws with: the pen, the scene, its lengths, the shell's outline and sections, the words."""

    pen: Pen
    scene: Mapping[str, Any]
    lengths: Mapping[str, float]
    outline: Outline
    stations: list[Station]
    words: Mapping[str, str]


Window = tuple[float, float, float, float]


class StepDrawing(NamedTuple):
    """How a step is drawn: what part of the leg it shows (rear, front, top, bottom in mm), and what on it."""

    window: Callable[[Mapping[str, float]], Window]
    draw: Callable[[Stage], None]


def draw_step(step: str, scene: Mapping[str, Any], words: Mapping[str, str]) -> str:
    """SVG text of one step.

    Parameters
    ----------
    step : str
        A key of `STEPS`; KeyError for any other.
    scene : dict
        The shell's scene, as `scene_of` makes it.
    words : dict
        Lettering in the reader's language: "lower_strap", "upper_strap", "pull", "pad", and "title", which says
        the drawing for who can't see it.
    """
    full = complete({**scene, "dims": [], "flags": []})
    lengths = lengths_of(full)
    stations = stations_of(full, lengths["f"], given(full["girth_mm"], DEFAULTS["girth_mm"]))
    drawing = STEPS[step]
    rear, front, top, bottom = drawing.window(lengths)
    scale = min(FIT_PX[0] / (front - rear), FIT_PX[1] / (bottom - top))
    width, height = FIT_PX[0], scale * (bottom - top)
    pen = Pen(scale, width, full["side"] == "right")
    pen.stand_at(scale * front + (width - scale * (front - rear)) / 2, -scale * top, -1)
    outline = side_outline(full["shell"], lengths, stations)
    drawing.draw(Stage(pen, full, lengths, outline, stations, words))
    size = f'viewBox="0 0 {decimal(width, 10)} {decimal(height, 10)}"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" class="fg fg-step" role="img" {size}>'
    return f"{head}<title>{escape(words['title'])}</title>{''.join(pen.out)}</svg>"


def _draw_sit(stage: Stage) -> None:
    """Seated, the foot flat on the floor: the thigh comes down onto the chair.

    The knee's own upper parts hang on the thigh; bent, they lie behind the housing, so that the leg is cut there.
    """
    g = stage.lengths["g"]
    _draw_floor(stage)
    _draw_chair(stage.pen, (-104, 86 * g), stage.lengths["L"] + FLOOR_MM)
    stage.pen.path(
        "fg-limb",
        [
            ("M", [(-400, -50 * g)]),
            ("L", [(-60, -47 * g)]),
            ("C", [(-16, -45 * g), (8, -16), (7, 20)]),
            ("C", [(6, 60 * g), (-24, 80 * g), (-70, 83 * g)]),
            ("L", [(-400, 85 * g)]),
        ],
    )
    top = stage.pen.at(0, KNEE_CUT_MM)[1]
    size = f'width="{decimal(stage.pen.width, 10)}" height="2000"'
    stage.pen.raw(f'<svg class="fg-cut" y="{decimal(top, 10)}" {size}>')
    stage.pen.raw(f'<g transform="translate(0 {decimal(-top, 10)})">')
    draw_parts(stage.pen, stage.scene, "side", stage.lengths)
    stage.pen.raw("</g></svg>")
    draw_arrow(stage.pen, [(-150, -168), (-150, -72 * g)])


def _draw_chair(pen: Pen, front: Point, floor: float) -> None:
    """A seat from its front edge rearward, and one leg."""
    x, y = front
    pen.box("fg-thing", (x, y), (-600, y + 20), 4)
    pen.box("fg-thing", (x - 24, y + 20), (x - 42, floor))


def _draw_straight(stage: Stage) -> None:
    """The straight leg slopes from the seat to the heel; the arrow says where the foot has gone."""
    pen, down = stage.pen, stage.lengths["L"] + FLOOR_MM
    heel = _leaned(-68, down)
    pen.line_px("fg-floor", [(0, pen.at(0, heel[1])[1]), (pen.width, pen.at(0, heel[1])[1])])
    _draw_chair(pen, (-122, _leaned(-66 * stage.lengths["g"], -150)[1] + 6), heel[1])
    x, y = pen.across(pen.at(0, 0)[0]), pen.at(0, 0)[1]
    turn = -LEAN_DEG if pen.mirrored else LEAN_DEG
    pen.raw(f'<g transform="rotate({decimal(turn, 10)} {decimal(x, 10)} {decimal(y, 10)})">')
    draw_parts(pen, stage.scene, "side", stage.lengths)
    pen.raw("</g>")
    radius = stage.lengths["L"] - 40
    draw_arrow(pen, [_leaned(-84, radius, degrees) for degrees in range(2, int(LEAN_DEG) - 7, 4)])


def _leaned(x: float, y: float, degrees: float = LEAN_DEG) -> Point:
    """Where a point of the leg lies when the leg is turned about the origin, the foot going forward. [mm]"""
    angle = math.radians(degrees)
    return x * math.cos(angle) + y * math.sin(angle), y * math.cos(angle) - x * math.sin(angle)


def _draw_round(stage: Stage) -> None:
    """The shell, open to the rear, goes round the leg from the front."""
    _draw_off_leg(stage)
    middle = 0.5 * stage.lengths["f"]
    start = front_at(stage.stations, middle) + BEFORE_MM + 74
    draw_arrow(stage.pen, [(start, middle), (start - 58, middle)])


def _draw_off(stage: Stage) -> None:
    """The shell comes off to the front."""
    _draw_off_leg(stage)
    middle = 0.5 * stage.lengths["f"]
    start = front_at(stage.stations, middle) + BEFORE_MM + 16
    draw_arrow(stage.pen, [(start, middle), (start + 58, middle)])


def _draw_off_leg(stage: Stage) -> None:
    pen = stage.pen
    draw_parts(pen, stage.scene, "side", stage.lengths)
    x0 = pen.x0
    pen.stand_at(x0 - pen.scale * BEFORE_MM, pen.y0, -1)
    _draw_shell(stage)
    for name in ("u", "w"):
        _draw_slot(stage, stage.lengths[name])
    _name_pad(stage)
    pen.stand_at(x0, pen.y0, -1)


def _draw_lower(stage: Stage) -> None:
    """The lower strap is pulled to the rear."""
    draw_parts(stage.pen, stage.scene, "side", stage.lengths)
    _draw_shell(stage)
    _draw_pulled(stage, "w", stage.words["lower_strap"])


def _draw_upper(stage: Stage) -> None:
    """The lower strap is closed, the upper one is pulled to the rear."""
    draw_parts(stage.pen, stage.scene, "side", stage.lengths)
    _draw_shell(stage)
    _draw_closed(stage, "w")
    _draw_pulled(stage, "u", stage.words["upper_strap"])
    _name_pad(stage)


def _draw_ends(stage: Stage) -> None:
    """A loose end goes in behind its own strap."""
    pen = stage.pen
    draw_parts(pen, stage.scene, "side", stage.lengths)
    _draw_shell(stage)
    _draw_closed(stage, "u")
    y, half = stage.lengths["w"], stage.lengths["sw"] - 1
    hanging = [
        (-14.0, y - half),
        (-58.0, y - half + 12),
        (-84.0, y + 26),
        (-66.0, y + 46),
        (-44.0, y + half + 13),
        (-14.0, y + half),
    ]
    _draw_strap_end(stage, "w", hanging)
    turns = [math.radians(degrees) for degrees in range(-10, 166, 8)]
    draw_arrow(pen, [(-72 - 44 * math.cos(turn), y + 32 + 44 * math.sin(turn)) for turn in turns])


def _draw_walk(stage: Stage) -> None:
    """The shell is on; the leg goes forward beside a rail."""
    pen, down = stage.pen, stage.lengths["L"] + FLOOR_MM
    _draw_floor(stage)
    for x in (-92, 222):
        pen.box("fg-thing", (x, -50), (x + 12, down))
    pen.box("fg-thing", (-400, -66), (400, -48))
    draw_parts(pen, stage.scene, "side", stage.lengths)
    _draw_shell(stage)
    _draw_closed(stage, "u")
    _draw_closed(stage, "w")
    middle = 0.55 * stage.lengths["f"]
    start = front_at(stage.stations, middle) + 26
    draw_arrow(pen, [(start, middle), (start + 74, middle)])


def _draw_floor(stage: Stage) -> None:
    y = stage.pen.at(0, stage.lengths["L"] + FLOOR_MM)[1]
    stage.pen.line_px("fg-floor", [(0, y), (stage.pen.width, y)])


def _draw_shell(stage: Stage) -> None:
    """The shell with its wall's thickness along the front, and the foam pad where it has one."""
    shell = stage.scene["shell"]
    if shell.get("pad"):
        stage.pen.path("fg-foam", _pad(stage))
    draw_shell(stage.pen, stage.outline, "ink")
    wall = given(shell.get("wall_mm"), DEFAULTS["wall_mm"])
    inside = [(letter, [(x - wall, y) for x, y in points]) for letter, points in stage.outline.edge("front")]
    stage.pen.path("fg-inner", inside)


def _pad(stage: Stage) -> Path:
    """The pad inside the top of the front, between shell and knee. [mm]"""
    wall = given(stage.scene["shell"].get("wall_mm"), DEFAULTS["wall_mm"])
    top = given(stage.scene["shell"].get("relief_mm"), 0) + 8
    outer = [(front_at(stage.stations, top + d) - wall, top + d) for d in (0, 22, 44)]
    inner = [(x - 11, y) for x, y in reversed(outer)]
    return [("M", [outer[0]]), *(("L", [point]) for point in [*outer[1:], *inner]), ("Z", [])]


def _name_pad(stage: Stage) -> None:
    if not stage.scene["shell"].get("pad"):
        return
    top = given(stage.scene["shell"].get("relief_mm"), 0) + 30
    x, y = stage.pen.at(front_at(stage.stations, top) - 8, top)
    _name(stage.pen, (x, y), stage.words["pad"])


def _draw_slot(stage: Stage, y: float) -> None:
    x, half = SHELL["slot_x_mm"], stage.lengths["sw"]
    stage.pen.box("fg-slot", (x - 2, y - half - 3.5), (x + 2, y + half + 3.5), 1.5)


def _draw_closed(stage: Stage, name: str) -> None:
    """One strap as the figure draws it, closed."""
    other = "w" if name == "u" else "u"
    only = {**stage.lengths, other: stage.lengths[name]}
    draw_side_straps(stage.pen, only, stage.scene["shell"])


def _draw_pulled(stage: Stage, name: str, called: str) -> None:
    """The strap in hand, yellow, its end drawn out to the rear, with the pull beside it."""
    pen, y, half = stage.pen, stage.lengths[name], stage.lengths["sw"]
    end = [
        (-14.0, y - half + 1),
        (-46.0, y - half - 3),
        (-92.0, y - half - 13),
        (-96.0, y + half - 15),
        (-46.0, y + half - 3),
        (-14.0, y + half - 1),
    ]
    _draw_strap_end(stage, name, end)
    draw_arrow(pen, [(-106, y - 14), (-148, y - 24)])
    x, words_y = pen.at(-127, y - 40)
    within = (
        pen.width - letters_px(stage.words["pull"], PULL_PX) / 2 - 4
    )  # a longer word keeps within the drawing
    pen.text("fg-do", (min(x, within), words_y), stage.words["pull"])
    x, y_px = pen.at(SHELL["slot_x_mm"] + 6, y)
    _name(pen, (x, y_px), called)


def _draw_strap_end(stage: Stage, name: str, end: list[Point]) -> None:
    """Slot, strap through the buckle, and its loose end along smooth edges; yellow: this is where the hand is."""
    pen, y, half = stage.pen, stage.lengths[name], stage.lengths["sw"]
    x = SHELL["slot_x_mm"]
    a, b, c, d, e, f = end
    far = " fg-far" if stage.scene["shell"].get("buckle_side") == "inner" else ""
    pen.path("fg-pull", [("M", [a]), ("C", [b, b, c]), ("L", [d]), ("C", [e, e, f]), ("Z", [])])
    pen.box("fg-pull", (x, y - half), (-14, y + half))
    _draw_slot(stage, y)
    pen.box("fg-buckle" + far, (-5, y - half - 3), (9, y + half + 3), 2.5)
    pen.box("fg-pull", (-1, y - 9), (5, y + 9), 0.8)


def _name(pen: Pen, at: Point, words: str) -> None:
    """A name in front of the leg with a line to what it names, kept within the drawing."""
    edge = min(at[0] - 34, max(letters_px(words, LETTER_PX) + 14, at[0] - 84))
    pen.line_px("fg-leader", [(edge, at[1]), at])
    pen.text("fg-called", (edge - 6, at[1] + 6), words, "end")


def _window_off_leg(lengths: Mapping[str, float]) -> Window:
    return -96, 226, -88, lengths["L"] + 99


STEPS = {
    "sit": StepDrawing(lambda lengths: (-232, 210, -186, lengths["L"] + 101), _draw_sit),
    "straight": StepDrawing(
        lambda lengths: (
            -215,
            _leaned(199, lengths["L"] + 97)[0] + 6,
            -190,
            _leaned(-68, lengths["L"] + FLOOR_MM)[1] + 6,
        ),
        _draw_straight,
    ),
    "round": StepDrawing(_window_off_leg, _draw_round),
    "lower": StepDrawing(lambda lengths: (-156, 202, lengths["w"] - 118, lengths["L"] + 99), _draw_lower),
    "upper": StepDrawing(
        lambda lengths: (-162, 150, min(-64, lengths["u"] - 150), lengths["w"] + 44), _draw_upper
    ),
    "ends": StepDrawing(lambda lengths: (-150, 140, lengths["u"] - 60, lengths["L"] + 30), _draw_ends),
    "walk": StepDrawing(lambda lengths: (-110, 246, -88, lengths["L"] + 101), _draw_walk),
    "off": StepDrawing(_window_off_leg, _draw_off),
}
"""Each step's drawing, by its name."""
