"""The outside laid flat, as DXF in millimetres, seen from outside: what it shows is in orders/reckoning/unrolled.py."""

import io

import numpy as np
from django.utils.translation import gettext as _

from orders.documents.shell import MadeShell
from orders.documents.slots import slots_of
from orders.figure_rows import digits
from orders.reckoning.unrolled import arc_mm, unrolled

MILLIMETRES = 4  # $INSUNITS
# name: (colour by the format's own numbers; line type)
LAYERS = {
    "OUTLINE": (7, "CONTINUOUS"),
    "REAR_MIDDLE": (8, "CENTER"),
    "FRONT_MIDDLE": (8, "CENTER"),
    "STRAPS": (7, "CONTINUOUS"),
    "TRIM": (8, "DASHED"),
    "SCALE": (7, "CONTINUOUS"),
    "TEXT": (7, "CONTINUOUS"),
}
TEXT_MM = 5.0
SQUARE_MM = 50.0


def flat_outline(shell: MadeShell) -> bytes:
    """A DXF file of the edge laid flat, with the straps' slots, a square of 50 mm, and what is what in words.

    Raises CannotBeMade for edges that would meet.
    """
    import ezdxf  # it takes half a second, and most requests need no DXF

    drawing = ezdxf.new("R2010", setup=["linetypes"], units=MILLIMETRES)
    for name, (colour, line) in LAYERS.items():
        drawing.layers.add(name, color=colour, linetype=line)
    sheet = drawing.modelspace()
    flat = unrolled(shell.loft, shell.edges)
    draw_line(sheet, "OUTLINE", flat.outline, close=True)
    for seam in flat.seams:
        draw_line(sheet, "REAR_MIDDLE", seam)
    draw_line(sheet, "FRONT_MIDDLE", flat.front)
    draw_slots(sheet, shell)
    if shell.trim_mm:
        draw_line(sheet, "TRIM", trim_line(shell))
    draw_square(sheet, shell)
    write_words(sheet, shell)
    text = io.StringIO()
    drawing.write(text)
    return text.getvalue().encode("utf-8")


def draw_line(sheet, layer: str, points: np.ndarray, close: bool = False) -> None:
    """A line through flat points. (n, 2) float [mm]"""
    sheet.add_lwpolyline(points.tolist(), close=close, dxfattribs={"layer": layer})


def draw_slots(sheet, shell: MadeShell) -> None:
    """Each strap's two slots, and its centre line between them round the front."""
    for slots in slots_of(shell):
        y = -slots.below_top_mm
        draw_line(sheet, "STRAPS", np.array([(-slots.round_mm, y), (slots.round_mm, y)]))
        for x in (-slots.round_mm, slots.round_mm):
            corner = x - slots.wide_mm / 2, y - slots.high_mm / 2
            draw_line(sheet, "STRAPS", rectangle(*corner, slots.wide_mm, slots.high_mm), True)


def rectangle(x: float, y: float, wide: float, high: float) -> np.ndarray:
    """Corners from the lower left, anticlockwise. (4, 2) float [mm]"""
    return np.array([(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)])


def trim_line(shell: MadeShell) -> np.ndarray:
    """Where the stock ends that is left below the finished length for the fitting. (n, 2) float [mm]"""
    side = shell.edges.side_angle
    reach = float(arc_mm(shell.loft, np.array(side), shell.loft.places[-1]))
    y = -shell.length_mm - shell.trim_mm
    return np.array([(-reach, y + shell.trim_mm), (-reach, y), (reach, y), (reach, y + shell.trim_mm)])


def draw_square(sheet, shell: MadeShell) -> None:
    """A square of 50 mm below the outline, for a ruler."""
    draw_line(
        sheet, "SCALE", rectangle(-SQUARE_MM / 2, foot_of(shell) - SQUARE_MM, SQUARE_MM, SQUARE_MM), True
    )


def foot_of(shell: MadeShell) -> float:
    """Where the room below the outline begins. [mm]"""
    return -shell.length_mm - shell.trim_mm - 20


def write_words(sheet, shell: MadeShell) -> None:
    """What the drawing is of, which side is which, and what it can't say."""
    outer, inner = (_("outer side"), _("inner side"))
    left, right = (outer, inner) if shell.side == "left" else (inner, outer)
    write(sheet, (-90, 30), shell.name)
    write(sheet, (-90, 22), _("Seen from outside, in mm. Person's left is at the right of this drawing."))
    write(sheet, (30, -shell.length_mm / 2), _("person's left: {side}").format(side=left))
    write(sheet, (-120, -shell.length_mm / 2), _("person's right: {side}").format(side=right))
    lines = [_("50 mm square")]
    if shell.trim_mm:
        lines.append(
            _("Dashed: {mm} mm are left to trim at the fitting.").format(mm=digits(shell.trim_mm, 2))
        )
    lines += [
        _("Girths are true at each place. Lengths are true along the shank,"),
        _("and a little short where the surface leans."),
        _("The straps' centre lines are at their places; where round the shell"),
        _("the slots are cut is a default, not measured."),
    ]
    for row, line in enumerate(lines):
        write(sheet, (35, foot_of(shell) - 5 - 8 * row), line)


def write(sheet, at: tuple[float, float], text: str) -> None:
    """One line of text. [mm]"""
    sheet.add_text(one_line(text), height=TEXT_MM, dxfattribs={"layer": "TEXT"}).set_placement(at)


def one_line(text: str) -> str:
    """A text without what the format takes for something else: line breaks, control characters, %% and ^ codes."""
    flat = "".join(letter if letter.isprintable() else " " for letter in text)
    return flat.replace("%%", "% %").replace("^", "^ ")
