"""What a component card holds: a clinic's own notes on a knee or foot that it fits often, in the sheet's own fields.

A card fills the sheet and never stands in for a look: what is seen or measured on the leg itself is still asked there,
and the card's word is only held against it. No Django below here.
"""

from collections.abc import Mapping

from capture.sheet_fields import BY_KEY, Field

KINDS = ("knee", "foot")
POINTS = "service_points"
_HELD = {
    "knee": (
        "knee.named",
        "knee.control",
        "knee.hardware_length",
        "rear_room.axis_below_apex",
        "knee.max_flexion_deg",
        "knee.width",
        "knee.depth",
    ),
    "foot": (
        "foot.profile",
        "foot.ankle",
        "foot.hardware_above_rim",
        "foot.axis_above_rim",
        "foot.rim_depth",
        "foot.width",
        "foot.depth",
        "foot.dorsiflexion_deg",
        "foot.plantarflexion_deg",
    ),
}
LOOKED_AT = ("knee.hardware_length", "foot.profile", "foot.hardware_above_rim")
"""What a card never answers: it is seen or measured on the leg."""
_PINS = {"single_axis": "one", "polycentric": "several"}


def held_fields(kind: str) -> tuple[Field, ...]:
    """The sheet's fields that a card of this kind may hold, service points apart."""
    return tuple(BY_KEY[key] for key in _HELD[kind])


def for_sheet(kind: str, told: str, holds: Mapping) -> dict[str, dict]:
    """What a card does on the sheet: the answers it `fills`, and what it `expects` where one must look.

    `told` is what the workshop reads as the component's name, so that it knows of the card as well.
    """
    expects = {key: value for key, value in holds.items() if key in LOOKED_AT}
    if pins := _PINS.get(holds.get("knee.named", "")):
        expects["knee.pivots_seen"] = pins
    fills = {key: value for key, value in holds.items() if key not in LOOKED_AT}
    return {"fills": fills | {f"{kind}.label": told}, "expects": expects}
