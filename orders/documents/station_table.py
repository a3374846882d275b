"""The shell's sections and its straps' slots as a table for a spreadsheet: CSV by RFC 4180, units in the headings."""

import csv
import io
from collections.abc import Iterable

import numpy as np
from django.utils.translation import gettext as _

from orders.documents.shell import MadeShell
from orders.documents.slots import slots_of
from orders.reckoning.section import inside_girth_mm
from orders.reckoning.unrolled import arc_mm

_BEGINS_A_FORMULA = (
    "=",
    "+",
    "-",
    "@",
    "\t",
    "\r",
    "\n",
    "|",
    "＝",
    "＋",
    "－",
    "＠",
)  # the last four full-width


def station_table(shell: MadeShell) -> bytes:
    """One row a station, from the top edge down, then one a strap: the section at its centre, and its slots.

    Depths are from the front to the rear, places before (negative: behind) the pylon's axis as it stands at the apex.
    UTF-8 with a byte order mark, without which spreadsheets take it for another encoding.
    """
    headings = (
        _("reference"),
        _("side"),
        _("revision"),
        _("station"),
        _("below the top edge [mm]"),
        _("above the bottom edge [mm]"),
        _("outside girth [mm]"),
        _("inside girth [mm]"),
        _("outside breadth [mm]"),
        _("outside depth [mm]"),
        _("front, before the pylon's axis [mm]"),
        _("rear, before the pylon's axis [mm]"),
        _("slot, round from the front's middle, both ways [mm]"),
        _("slot, along the shank [mm]"),
        _("slot, wide [mm]"),
    )
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\r\n")
    rows.writerow(cell(heading) for heading in headings)
    about = (cell(shell.reference), cell(_(shell.side)), shell.revision)
    for number, station in enumerate(shell.ordered.outline, start=1):
        sizes = (
            station.below_top_mm,
            shell.length_mm - station.below_top_mm,
            station.girth_mm,
            inside_girth_mm(station.girth_mm, shell.ordered.wall_mm),
            station.breadth_mm,
            station.depth_mm,
            station.front_mm,
            station.rear_mm,
        )
        rows.writerow((*about, number, *written(sizes), "", "", ""))
    for slots in slots_of(shell):
        sizes = (*section_at(shell, slots.below_top_mm), slots.round_mm, slots.high_mm, slots.wide_mm)
        rows.writerow((*about, cell(slots.strap), *written(sizes)))
    return text.getvalue().encode("utf-8-sig")


def written(sizes: Iterable[float]) -> list[str]:
    """Sizes to the hundredth."""
    return [f"{size:.2f}" for size in sizes]


def section_at(shell: MadeShell, below_top_mm: float) -> tuple[float, ...]:
    """The sizes of the section there, as a station's: [mm]"""
    place = np.array(below_top_mm)
    centre, half_depth, half_breadth = (float(axis) for axis in shell.loft.axes(place))
    girth = 2 * float(arc_mm(shell.loft, np.array(np.pi), place))
    return (
        below_top_mm,
        shell.length_mm - below_top_mm,
        girth,
        inside_girth_mm(girth, shell.ordered.wall_mm),
        2 * half_breadth,
        2 * half_depth,
        centre + half_depth,
        centre - half_depth,
    )


def cell(text: str) -> str:
    """A text that no spreadsheet takes for a formula: an apostrophe goes before whatever would begin one."""
    return f"'{text}" if text.lstrip(" ").startswith(_BEGINS_A_FORMULA) else text
