"""The shell as it was ordered, from its result: what its surface is made from, and the surfaces. Server only.

surfaces(*ordered(result, shell, catalogue))    # both meshes
ordered(result, shell, catalogue).outline       # sections, for a table or a drawing
"""

from collections.abc import Mapping
from typing import NamedTuple

from .catalogue import option_of
from .edges import Cut
from .errors import OutOfRange
from .outline import Station
from .surface import AROUND, RINGS, Mesh, outside_surface, shell_mesh


class Ordered(NamedTuple):
    """What a shell's surface is made from.

    Attributes
    ----------
    outline : (19,) Station
        Sections of the outside, from the top edge to the bottom edge. [mm]
    cut : Cut
        How it is cut: relief, rear trim, reach, open share.
    wall_mm : float
        Thickness of the wall, square to the outside. [mm]
    """

    outline: tuple[Station, ...]
    cut: Cut
    wall_mm: float


class Surfaces(NamedTuple):
    """The closed outside, nothing cut; and the shell with its wall, cut to its edges. [mm]"""

    outside: Mesh
    shell: Mesh


def ordered(result: Mapping, shell: Mapping, catalogue: Mapping) -> Ordered:
    """What the surface of one order's shell is made from.

    Parameters
    ----------
    result : mapping
        The result of the entry, as orders/reckon.py gives it or as it was stored. [mm]
    shell : mapping
        The entry's ``shell``: the keys of wall, rear and top.
    catalogue : mapping
        The catalogue that the result was reckoned with.

    Returns
    -------
    Ordered

    Raises
    ------
    OutOfRange
        ``stations`` where the result has no outline; ``rear_trim_mm`` where it has none: the thigh would meet
        all of the rear; ``shell.wall``, ``shell.rear``, ``shell.top`` for an option that the catalogue doesn't
        have; and what `Cut` refuses.

    Notes
    -----
    As long as the result's finished length. What a workshop leaves to trim below its marked line
    (``trim_mm`` of the catalogue) comes on top of it, and isn't in here.
    """
    if not result["stations"]:
        raise OutOfRange("stations", "missing", "there: length and girth must be known")
    if result["rear_trim_mm"] is None:
        raise OutOfRange("rear_trim_mm", "missing", "there: so far back, the thigh meets all of the rear")
    wall, rear, top = (_option(catalogue, kind, shell[kind]) for kind in ("wall", "rear", "top"))
    return Ordered(
        tuple(Station(**row) for row in result["stations"]),
        Cut(top["relief_mm"], result["rear_trim_mm"], rear["reach"], rear["open_share"]),
        wall["wall_mm"],
    )


def _option(catalogue: Mapping, kind: str, key: str) -> Mapping:
    option = option_of(catalogue, kind, key)
    if option is None:
        raise OutOfRange(f"shell.{kind}", key, "an option of the catalogue")
    return option


def surfaces(
    outline: tuple[Station, ...], cut: Cut, wall_mm: float, rings: int = RINGS, around: int = AROUND
) -> Surfaces:
    """Both surfaces of a shell, each closed and with every face looking out.

    Parameters
    ----------
    outline, cut, wall_mm : as in Ordered
    rings, around : int
        How fine: rows down the shell, columns round it. 8 to 2000.

    Returns
    -------
    Surfaces
        Axes of both: x forward of the pylon's axis, y to the person's left, z up from the apex; mm. The outside
        has 2 · around · rings triangles.

    Raises
    ------
    OutOfRange
        As `outside_surface` and `shell_mesh`: by the argument's name, such as ``wall_mm`` for a wall too thick
        for the curve, ``rear_trim_mm`` for a rear that would end above its start.
    """
    return Surfaces(outside_surface(outline, rings, around), shell_mesh(outline, wall_mm, cut, rings, around))
