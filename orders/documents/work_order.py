"""The work order on paper, A4 or Letter: everything that a shell is made from, and what became of each number."""

import io
import logging
from collections.abc import Sequence
from dataclasses import dataclass

import segno
from django.template.loader import render_to_string
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from capture import photo_store
from capture.models import Photo
from orders.documents.paper import PX_PER_MM, Picture, pdf_of, with_style
from orders.documents.shell import CannotBeMade, made_shell
from orders.documents.slots import slots_of
from orders.documents.work_order_style import PAPERS, Paper, style_of
from orders.drawings import scene_to_scale
from orders.figure import draw
from orders.figure_rows import FigureRow, digits
from orders.lookups import happened_to
from orders.models import Order, Revision
from orders.order_page import ShellShown, confirmation, shells_shown
from orders.photos import PhotoShown, photos_of
from orders.readings import TypedReading
from orders.reckoning.errors import OutOfRange
from orders.reckoning.language import with_mark
from orders.wording import Answer

log = logging.getLogger(__name__)

SCALES = (2, 2.5, 3, 4, 5, 10)
"""1 : n. 2, 5 and 10 are those of ISO 5455 (from memory), the rest lie between, as it allows."""


RULER = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="-1 -1 52 12" width="52mm" height="12mm">'
    '<path d="M0 0h10v10h-10zM20 0h10v10h-10zM40 0h10v10h-10z" fill="#16212a"/>'
    '<rect x="0" y="0" width="50" height="10" fill="none" stroke="#16212a" stroke-width=".1"/></svg>'
)
SVG = "image/svg+xml"


@dataclass(frozen=True)
class Drawing:
    """A shell on its leg at true scale: its address within the file, n of 1 : n as it is said, and words for it."""

    address: str
    scale: str
    alt: str


@dataclass(frozen=True)
class FigureLine:
    """One figure, and how far what is made may be off."""

    row: FigureRow
    within: str


@dataclass(frozen=True)
class PhotoPrinted:
    """One photo: its address within the file, or in words why it isn't there."""

    shown: PhotoShown
    address: str
    missing: str


@dataclass(frozen=True)
class SlotsPrinted:
    """One strap's slots, as said on paper. [mm]"""

    strap: str
    above_bottom: str
    round: str
    high: str
    wide: str


@dataclass(frozen=True)
class ShellPrinted:
    """One shell of the work order. Lists stand in pairs, two to a line."""

    shown: ShellShown
    drawing: Drawing
    lines: list[FigureLine]
    wanted: list[Sequence[Answer]]
    fitted: list[Sequence[Answer]]
    readings: list[Sequence[TypedReading]]
    measured: list[Sequence[Answer]]
    stations: list[list[str]]
    slots: list[SlotsPrinted]
    hcpcs: str
    photos: list[PhotoPrinted]


def work_order(order: Order, revision: Revision, paper: str, *, preview: bool = False) -> bytes:
    """The work order as a PDF.

    Parameters
    ----------
    order, revision
        The revision with its seal and catalogue.
    paper : str
        A key of PAPERS.
    preview : bool
        Whether every page says that nothing is to be made from it.
    """
    photos = photos_of(revision, order.person.reference)
    pictures = {"ruler:": (RULER.encode(), SVG), "seal:": (seal_code(revision.seal.sha256), SVG)}
    pictures |= pictures_of(revision, photos)
    shells = shells_shown(revision, None, photos)
    context = {
        "language": get_language(),
        "order": order,
        "revision": revision,
        "preview": preview,
        "confirmed": None if preview else confirmation(happened_to(order)),
        "shells": [
            shell_printed(shell, *values, PAPERS[paper], revision, pictures)
            for shell, values in zip(shells, revision.shells, strict=True)
        ],
    }
    html = render_to_string("orders/documents/work_order.html", context)
    return pdf_of(html, style_of(paper, preview=preview), pictures)


def shell_printed(
    shown: ShellShown,
    entry: dict,
    result: dict,
    paper: Paper,
    revision: Revision,
    pictures: dict[str, Picture],
) -> ShellPrinted:
    """One shell as it is printed; its drawing goes among the pictures."""
    catalogue = revision.catalogue.content
    return ShellPrinted(
        shown=shown,
        drawing=drawing_at_scale(entry, result, catalogue, paper, pictures),
        lines=[FigureLine(row, within(row.key, catalogue["as_made"])) for row in shown.rows],
        wanted=in_pairs([*shown.options, trim(catalogue)]),
        slots=slots_printed(entry, result, revision),
        fitted=in_pairs(shown.fitted),
        readings=in_pairs(shown.readings),
        measured=in_pairs(shown.measured),
        stations=[station_printed(station) for station in result.get("stations") or []],
        hcpcs=result.get("hcpcs") or "",
        photos=[photo_printed(photo, pictures) for photo in shown.photos],
    )


def station_printed(station: dict) -> list[str]:
    """One section's sizes, to the tenth of a millimetre."""
    keys = ("below_top_mm", "girth_mm", "breadth_mm", "depth_mm", "front_mm", "rear_mm")
    return [with_mark(f"{station[key]:.1f}".replace("-", "−")) for key in keys]


def slots_printed(entry: dict, result: dict, revision: Revision) -> list[SlotsPrinted]:
    """The straps' slots, to the tenth of a millimetre; none for a shell that no surface goes through."""
    try:
        shell = made_shell("", revision.number, entry, result, revision.catalogue.content)
        slots = slots_of(shell)
    except (CannotBeMade, OutOfRange):
        return []
    return [
        SlotsPrinted(
            one.strap,
            digits(shell.length_mm - one.below_top_mm, 1),
            digits(one.round_mm, 1),
            digits(one.high_mm, 1),
            digits(one.wide_mm, 1),
        )
        for one in slots
    ]


def in_pairs(rows: Sequence) -> list[Sequence]:
    """Two to a line."""
    return [rows[at : at + 2] for at in range(0, len(rows), 2)]


def drawing_at_scale(
    entry: dict, result: dict, catalogue: dict, paper: Paper, pictures: dict[str, Picture]
) -> Drawing:
    """The shell from the side and from the front, at the largest scale that the paper has room for."""
    scene = scene_to_scale(entry, result, catalogue)
    for scale in SCALES:
        svg = draw({**scene, "px_per_mm": PX_PER_MM / scale})
        wide, high = size_mm(svg)
        if wide <= paper.drawing_wide_mm and high <= paper.drawing_high_mm:
            break
    address = f"drawing:{entry['side']}"
    pictures[address] = (with_style(svg).encode(), SVG)
    return Drawing(address, digits(scale, 1), scene["title"])


def size_mm(svg: str) -> tuple[float, float]:
    """Width and height on paper of a figure's SVG, whose pixels are CSS's. [mm]"""
    wide, high = svg.partition('viewBox="0 0 ')[2].partition('"')[0].split()
    return float(wide) / PX_PER_MM, float(high) / PX_PER_MM


def trim(catalogue: dict) -> Answer:
    """What the workshop leaves below the finished length for the fitting, in words."""
    if not catalogue["trim_mm"]:
        words = _("nothing: made to the finished length")
    elif catalogue["trim_line_marked"]:
        words = _("{mm} mm below the finished length, its line marked")
    else:
        words = _("{mm} mm below the finished length")
    return Answer(
        "trim_mm", _("Left to trim at the fitting"), words.format(mm=digits(catalogue["trim_mm"], 1))
    )


def within(key: str, as_made: dict) -> str:
    """How far what is made may be off, by the catalogue; "" where it says nothing."""
    if key == "finished_length_mm":
        over, under = (digits(as_made[f"length_{way}_mm"], 1) for way in ("over", "under"))
        return f"+{over}/−{under} mm"
    if key in ("upper_strap_mm", "lower_strap_mm"):
        return f"±{digits(as_made['strap_place_mm'], 1)} mm"
    return f"±{digits(as_made['girth_mm'], 1)} mm" if key == "girth_mm" else ""


def pictures_of(revision: Revision, photos: list[PhotoShown]) -> dict[str, Picture]:
    """The photos' large pictures by their address; one that was set aside, or can't be read, isn't there."""
    wanted = {photo.sha256 for photo in photos if not photo.set_aside}
    there = Photo.objects.filter(clinic_id=revision.seal.clinic_id, sha256__in=wanted) if wanted else []
    pictures = {}
    for photo in there:
        try:
            content = photo_store.read_picture(photo, photo_store.LARGE)
        except FileNotFoundError:
            log.error("the picture of photo %s is missing in the storage", photo.id)
            continue
        pictures[address_of(photo.sha256)] = (content, "image/jpeg")
    return pictures


def address_of(sha256: str) -> str:
    """What an image within the file names a photo."""
    return f"photo:{sha256}"


def photo_printed(photo: PhotoShown, pictures: dict[str, Picture]) -> PhotoPrinted:
    """One photo, or why it isn't there."""
    address = address_of(photo.sha256)
    if address in pictures:
        return PhotoPrinted(photo, address, "")
    missing = photo.set_aside or _("This photo could not be read when the work order was made.")
    return PhotoPrinted(photo, "", missing)


def seal_code(sha256: str) -> bytes:
    """The revision's hash as a QR code, SVG: the very 64 letters that stand beside it."""
    code = segno.make(sha256, error="m", micro=False)
    text = io.BytesIO()
    code.save(text, kind="svg", border=4, omitsize=True, xmldecl=False, nl=False)
    return text.getvalue()
