"""The straps' slots as the documents tell them. The surfaces have none: where round the shell a slot is cut, and how
wide, is the workshop's own; no order and no catalogue says it.
"""

from dataclasses import dataclass

import numpy as np
from django.utils.translation import gettext as _

from orders.documents.shell import MadeShell
from orders.reckoning.constants import SLOT_LONGER_MM, SLOT_WIDE_MM
from orders.reckoning.unrolled import arc_mm, slot_angle


@dataclass(frozen=True)
class Slots:
    """The two slots of one strap, one to either side of the front, their long side along the shank.

    Attributes
    ----------
    strap : "upper strap" or "lower strap"
    below_top_mm : to the centre, from the top edge. [mm]
    round_mm : along the outside, level, from the front's middle line to the centre. [mm] A default.
    high_mm, wide_mm : along the shank; round the section. [mm] Defaults.
    """

    strap: str
    below_top_mm: float
    round_mm: float
    high_mm: float
    wide_mm: float


def slots_of(shell: MadeShell) -> tuple[Slots, Slots]:
    """The slots of both straps. Raises OutOfRange for a place outside the shell."""
    return (
        slots_at(shell, _("upper strap"), shell.upper_mm),
        slots_at(shell, _("lower strap"), shell.lower_mm),
    )


def slots_at(shell: MadeShell, strap: str, place_mm: float) -> Slots:
    """The slots of a strap whose centre is so far below the top edge."""
    angle = slot_angle(shell.loft, place_mm)
    reach_mm = float(arc_mm(shell.loft, np.array(angle), np.array(place_mm)))
    return Slots(strap, place_mm, reach_mm, shell.strap_width_mm + SLOT_LONGER_MM, SLOT_WIDE_MM)
