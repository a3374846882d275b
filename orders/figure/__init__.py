"""The leg figure: one drawing for sheet, order, documents and handout, twin of static/js/figure/.

A scene is a plain dict: what to draw, in mm, and how. `scene_of`, `guide` and `choice` make one from an entry
and its result; `draw` turns it into SVG text with classes only, styled by static/css/figure.css.
"""

from orders.figure.choices import choice
from orders.figure.leg import draw
from orders.figure.scene import guide, scene_of

__all__ = ["choice", "draw", "guide", "scene_of"]
