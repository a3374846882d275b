"""What a workshop may try on one shell of an order without changing it: gap, strap places, girth, wall.

Nothing here writes. What is tried goes through the one call, `orders.reckon.reckon`, as if it had been sent so.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from capture.seal import read_seal
from orders.beside import beside_for
from orders.changes import Shell
from orders.figure_rows import digits
from orders.flags_shown import FlagShown, flags_shown
from orders.models import Order, Revision
from orders.reckon import reckon
from orders.reckoning.catalogue import read_catalogue

STRAPS = {"upper_strap": "usual_upper_mm", "lower_strap": "usual_lower_mm"}
"""A place that the catalogue could call its usual one; where a mechanism needs more, the rule book keeps the strap there.
"""
FIGURES = {
    "gap": "gap_mm",
    "girth": "girth_mm",
    "upper_strap": "upper_strap_mm",
    "lower_strap": "lower_strap_mm",
}
"""The figure of the result that each field of the form starts at. [mm]"""


@dataclass(frozen=True)
class FlagTried:
    """A flag of what is tried; `new` if the order as sent doesn't have it."""

    flag: FlagShown
    new: bool


def beside_of(order: Order, read: Revision, place: int) -> dict:
    """What stands beside one shell of a revision, as when it came in."""
    return beside_for(order.clinic_id, read_seal(bytes(read.seal.raw)))[place]


def started(shell: Shell) -> dict[str, str]:
    """What the form starts at: the figures as sent in mm, without their unit, and the wall's key."""
    figures = {field: digits(shell.result[figure], 2) for field, figure in FIGURES.items()}
    return figures | {"wall": shell.entry["shell"]["wall"]}


def shell_tried(sent: Shell, wished: Mapping[str, object], beside: Mapping) -> Shell:
    """The shell with what is wished, reckoned.

    Parameters
    ----------
    sent : Shell
        As it was sent.
    wished : mapping
        Some of: ``gap``, ``girth`` (texts with their unit), ``upper_strap``, ``lower_strap`` (float, mm below the top
        edge, above the bottom edge), ``wall`` (key of the catalogue).
    beside : mapping
        As `beside_of` gives it.

    Raises
    ------
    CatalogueError
        For a strap place that no catalogue could have.
    """
    entry = dict(sent.entry)
    if "gap" in wished:
        entry["gap"] = wished["gap"]
    if "girth" in wished:  # as often as it was read: one reading isn't what is tried
        entry["girth"] = [wished["girth"]] * len(sent.entry["girth"])
    moved = {key: wished[field] for field, key in STRAPS.items() if field in wished}
    read_catalogue({**sent.catalogue, "strap": {**sent.catalogue["strap"], **moved}})
    places = {field: f"{wished[field]:.4f} mm" for field in STRAPS if field in wished}
    wall = {"wall": wished["wall"]} if "wall" in wished else {}
    entry["shell"] = {**entry["shell"], **places, **wall}
    result = reckon(entry, sent.catalogue, beside=beside, told=True)
    return Shell({**entry, "answers": reasons_that_hold(sent, result)}, result, sent.catalogue)


def reasons_that_hold(sent: Shell, result: Mapping) -> dict[str, str]:
    """The clinic's reasons for the flags that say the same as they did: a reason is given for figures seen."""
    said = {flag["id"]: flag["says"] for flag in sent.result["flags"]}
    same = {flag["id"] for flag in result["flags"] if said.get(flag["id"]) == flag["says"]}
    return {key: text for key, text in (sent.entry.get("answers") or {}).items() if key in same}


def kept_by_mechanism(tried: Shell, wished: Mapping[str, object]) -> dict[str, float]:
    """The straps that don't lie where they were wished, by field, with where they lie. [mm]"""
    lies = {field: tried.result[FIGURES[field]] for field in STRAPS if field in wished}
    return {field: place for field, place in lies.items() if abs(place - wished[field]) > 0.001}


def flags_tried(sent: Shell, tried: Shell) -> tuple[list[FlagTried], list[FlagShown]]:
    """The flags of what is tried, and those of the order as sent that are gone."""
    had = [flag["id"] for flag in sent.result["flags"]]
    has = [flag["id"] for flag in tried.result["flags"]]
    now = zip(has, flags_shown(tried.entry, tried.result), strict=True)
    before = zip(had, flags_shown(sent.entry, sent.result), strict=True)
    return (
        [FlagTried(shown, flag_id not in had) for flag_id, shown in now],
        [shown for flag_id, shown in before if flag_id not in has],
    )
