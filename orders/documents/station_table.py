"""The shell's sections as a table for a spreadsheet: CSV by RFC 4180, units in the headings."""

import csv
import io

from django.utils.translation import gettext as _

from orders.documents.shell import MadeShell
from orders.reckoning.section import inside_girth_mm

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
    """One row a station, from the top edge down.

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
    )
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\r\n")
    rows.writerow(cell(heading) for heading in headings)
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
        about = (cell(shell.reference), cell(_(shell.side)), shell.revision, number)
        rows.writerow((*about, *(f"{size:.2f}" for size in sizes)))
    return text.getvalue().encode("utf-8-sig")


def cell(text: str) -> str:
    """A text that no spreadsheet takes for a formula: an apostrophe goes before whatever would begin one."""
    return f"'{text}" if text.lstrip(" ").startswith(_BEGINS_A_FORMULA) else text
