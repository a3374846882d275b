"""The drawings of the desk's pages, as SVG that goes into the page."""

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from orders.figure import draw, scene_of
from orders.figure.data import FIGURE
from orders.figure_rows import STRAPS, straps_add_up

ORDER_PX = (572, 700)
"""Width and height of an order's drawing; the page scales it to its column."""
BENCH_PX_PER_MM = 0.115
"""The bench's one scale: the longest shell a row has to hold, 480 mm, comes to 55 px."""


def drawing_to_scale(entry: dict, result: dict, catalogue: dict) -> SafeString:
    """The shell on its leg to scale, side and front, with its dimensions and the flags at their places."""
    return in_page(draw(scene_to_scale(entry, result, catalogue) | {"fit": list(ORDER_PX)}))


def scene_to_scale(entry: dict, result: dict, catalogue: dict) -> dict:
    """Both views with all dimensions. The straps' go to the tenth where in whole mm they wouldn't make up the length."""
    scene = scene_of(entry, result, catalogue, purpose="scale", view="both", dims="all", words=figure_words())
    if not straps_add_up(result):
        scene["dims"] = [
            dim | ({"parts": 10} if f"{dim['of']}_mm" in STRAPS else {}) for dim in scene["dims"]
        ]
    return scene


def bench_mark(entry: dict, result: dict, catalogue: dict) -> SafeString:
    """The shell alone, small, at the one scale of every shell on the bench."""
    scene = scene_of(entry, result, catalogue, purpose="mark", view="side")
    title = _("The {side} shank shell").format(side=_(entry["side"]))
    return in_page(
        draw({**scene, "bare": True, "frame": "shell", "px_per_mm": BENCH_PX_PER_MM, "title": title})
    )


def figure_words() -> dict[str, str]:
    """The figure's words in the reader's language."""
    return {key: _(english) for key, english in FIGURE["words"].items()}


def in_page(svg: str) -> SafeString:
    """The figure escapes every text it is given, so that its SVG goes in as it is."""
    return mark_safe(svg)
