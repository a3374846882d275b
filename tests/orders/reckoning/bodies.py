"""Plain bodies whose volume, area and mass a textbook gives, as stations."""

from math import pi

from orders.reckoning.outline import Station


def cone(top_girth=380.0, bottom_girth=230.0, height=300.0, panels=4) -> list[Station]:
    """A round frustum that stands upright; of equal girths a cylinder."""
    made = []
    for at in range(panels + 1):
        girth = top_girth + (bottom_girth - top_girth) * at / panels
        across = girth / pi
        made.append(Station(height * at / panels, girth, across, across, across / 2, -across / 2))
    return made
