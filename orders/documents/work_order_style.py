"""The work order's style, for the papers it is printed on."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from django.utils.translation import gettext as _

from orders.documents.paper import FAMILIES


@dataclass(frozen=True)
class Paper:
    """A paper's name in CSS, and the room for a drawing within its margins. [mm]"""

    size: str
    drawing_wide_mm: float
    drawing_high_mm: float


# ISO 216: 210 x 297 mm; ANSI/ASME Y14.1: 8.5 x 11 in, 215.9 x 279.4 mm. Margins 15 mm at the sides, 18 and 16 mm at
# top and bottom; heading and ruler take 35 mm of a drawing's page.
PAPERS = {"a4": Paper("A4", 180, 228), "letter": Paper("letter", 185.9, 210.4)}


def style_of(paper: str, *, preview: bool) -> str:
    """CSS for one paper; on a preview every page's head says so."""
    word = css_text(_("page"))
    margins = {
        "top-left": "string(whose)",
        "top-right": "string(revision)",
        "bottom-left": css_text(_("Print at 100 %; do not fit to the page.")),
        "bottom-right": f'{word} " " counter(page) " / " counter(pages)',
    }
    if preview:
        margins["top-center"] = css_text(_("PREVIEW: nothing is made from this"))
        margins["top-center"] += "; font-weight: 700"
    boxes = "".join(f"@{place} {{ content: {content} }}" for place, content in margins.items())
    page = f"size: {PAPERS[paper].size}; margin: 18mm 15mm 16mm; font: 8pt/1.3 {FAMILIES}; color: #222"
    return f"@page {{ {page}; {boxes} }} html {{ font-family: {FAMILIES} }}{own_style()}"


@cache
def own_style() -> str:
    """What is the same on every paper."""
    return (Path(__file__).parent / "work_order.css").read_text(encoding="utf-8")


def css_text(text: str) -> str:
    """A text as a CSS string."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", " ") + '"'
