"""What an entry says about the leg, read for drawing; a field that can't be read is as good as not given."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from orders.figure.data import FIGURE
from orders.reckoning.errors import Unreadable
from orders.reckoning.typed import read_length

RANGE_MM = FIGURE["drawn_range_mm"]
MINUS = ("-", "−")


class Typed(NamedTuple):
    """A measurement's value, or None, and the unit it was read in."""

    mm: float | None
    unit: str


def field_of(entry: Mapping[str, Any], path: str) -> Any:
    """The value at a dotted path; None where there is none."""
    value: Any = entry
    for key in path.split("."):
        value = value.get(key) if isinstance(value, Mapping) else None
    return value


def typed_of(entry: Mapping[str, Any], path: str) -> Typed:
    """The measurement at a dotted path; of several readings the last."""
    text = field_of(entry, path)
    unit = entry.get("units") or "mm"
    if isinstance(text, list):
        text = text[-1] if text else None
    if not isinstance(text, str):
        return Typed(None, unit)
    plain = text.strip()
    below = plain.startswith(MINUS)
    try:
        reading = read_length(plain[1:] if below else plain, unit)
    except Unreadable:
        return Typed(None, unit)
    return Typed(-reading.mm if below else reading.mm, reading.unit)


def measured_mm(entry: Mapping[str, Any], path: str) -> float | None:
    """The value at a dotted path if a leg can be drawn with it. [mm]

    Half a number ("4" of "42") must not turn the leg inside out while it is being typed.
    """
    return drawable(typed_of(entry, path).mm, path.split(".")[-1])


def drawable(value: float | None, name: str) -> float | None:
    """The value, unless it lies outside what the figure can show. [mm]"""
    least, most = RANGE_MM.get(name, (0, 700))
    return value if value is not None and least <= value <= most else None


def pins_of(entry: Mapping[str, Any]) -> str:
    """One pin, several or unsure: as seen; where that wasn't said, as the knee's name has it."""
    seen = field_of(entry, "knee.pivots_seen")
    named = {"single_axis": "one", "polycentric": "several"}.get(field_of(entry, "knee.named") or "")
    if seen in ("one", "several"):
        return seen
    return named or seen or "one"


def option_of(catalogue: Mapping[str, Any] | None, list_name: str, key: Any) -> Mapping[str, Any]:
    """A catalogue's option by its key; empty where there is none."""
    rows = (catalogue or {}).get(list_name) or []
    return next((row for row in rows if row.get("key") == key), {})


def shell_numbers(entry: Mapping[str, Any], catalogue: Mapping[str, Any] | None) -> dict[str, Any]:
    """The catalogue's numbers of the chosen rear, top, wall and straps."""
    rear = option_of(catalogue, "rears", field_of(entry, "shell.rear"))
    top = option_of(catalogue, "tops", field_of(entry, "shell.top"))
    wall = option_of(catalogue, "walls", field_of(entry, "shell.wall"))
    return {
        "reach": rear.get("reach"),
        "open_share": rear.get("open_share"),
        "relief_mm": top.get("relief_mm"),
        "wall_mm": wall.get("wall_mm"),
        "strap_width_mm": field_of(catalogue or {}, "strap.width_mm"),
        "buckle_side": field_of(entry, "shell.buckle_side") or "outer",
    }
