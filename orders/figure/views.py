"""Examples of the photos that are wanted: each view as it should be taken, with the dots of tape in it."""

from collections.abc import Mapping
from typing import Any

from orders.figure.data import FIGURE
from orders.figure.scene import overlaid, scene_of


def wanted_view(
    view: str,
    entry: Mapping[str, Any],
    catalogue: Mapping[str, Any] | None = None,
    *,
    fit: tuple[float, float] | None = None,
) -> dict[str, Any] | None:
    """The scene of one wanted view (front, side, knee, foot), of the leg as it was answered; None for another view."""
    row = FIGURE["wanted"].get(view)
    if row is None:
        return None
    scene = overlaid(scene_of(entry, None, catalogue, purpose="choice", view=row["view"], fit=fit), row)
    return scene | {"length_mm": None, "girth_mm": None, "gap_mm": None, "title": ""}
