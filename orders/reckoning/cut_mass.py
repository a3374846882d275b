"""What a finished shell weighs with its wall as it is cut, for holding one on the scales against. Server only.

The result's ``mass_g`` takes the rear's open share off the whole length; cut as ordered, the rear is open below its
reach alone, and the shell about a fifth heavier.
"""

from collections.abc import Mapping
from math import pi

import numpy as np

from .catalogue import option_of
from .ordered import ordered
from .surface import Mesh, shell_mesh

#: Coarser than the files' surface: its volume differs from theirs by less than 0.3 %, in a fifth of the time.
_RINGS, _AROUND = 37, 60
_STRAPS = 2


def cut_mass_g(result: Mapping, shell: Mapping, catalogue: Mapping) -> float:
    """Mass of one order's shell with its straps, as it leaves the workshop. [g]

    Parameters
    ----------
    result, shell, catalogue : mapping
        As for `ordered`.

    Raises
    ------
    OutOfRange
        As `ordered` and `shell_mesh`, for what no surface goes through.

    Notes
    -----
    Volume of the wall, cut to its edges, times its density, and two straps. What is left to trim hangs on below the
    bottom edge, as wide as that: its girth half-way through the wall less the open share. Slots are not taken off.
    """
    made = ordered(result, shell, catalogue)
    density = option_of(catalogue, "wall", shell["wall"])["density_kg_m3"]
    wall_mm3 = volume_mm3(shell_mesh(made.outline, made.wall_mm, made.cut, _RINGS, _AROUND))
    round_mm = (made.outline[-1].girth_mm - pi * made.wall_mm) * (1 - made.cut.open_share)
    trim_mm3 = catalogue["trim_mm"] * made.wall_mm * round_mm
    return (wall_mm3 + trim_mm3) * density * 1e-6 + _STRAPS * catalogue["strap"]["mass_g"]


def volume_mm3(mesh: Mesh) -> float:
    """What a closed mesh holds, by the divergence theorem. [mm³]"""
    a, b, c = (mesh.vertices[mesh.faces[:, corner]] for corner in range(3))
    return float((np.cross(a, b) * c).sum() / 6)
