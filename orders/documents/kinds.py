"""Which documents there are, and what makes each."""

from collections.abc import Callable
from dataclasses import dataclass

from django.utils.translation import gettext_noop as noop

from orders.documents.flat_outline import flat_outline
from orders.documents.shell import MadeShell, made_shell
from orders.documents.station_table import station_table
from orders.documents.surface_files import outside_of, stl_bytes, three_mf_bytes, wall_of
from orders.documents.work_order import work_order
from orders.models import Order, Revision

SIDES = ("left", "right")


@dataclass(frozen=True)
class Kind:
    """One kind of document.

    Attributes
    ----------
    key : str
        Its name, with the ending that programs know it by. Never used again for something else: it is stored.
    title, format : str
        What it is called, and what kind of file it is.
    media_type : str
        As registered with IANA.
    make : callable (order, revision, side) -> bytes
        Raises CannotBeMade.
    per_shell : bool
        Whether each shell of the order has its own.
    for_clinic : bool
        Whether the clinic that sent the order may read it, and not only the workshop that makes it.
    preview : callable (order, revision) -> bytes, or None
        What makes it before it counts: marked so on every page, for one reader, and not kept.
    """

    key: str
    title: str
    format: str
    media_type: str
    make: Callable[[Order, Revision, str], bytes]
    per_shell: bool = True
    for_clinic: bool = False
    preview: Callable[[Order, Revision], bytes] | None = None

    def name(self, side: str) -> str:
        """Its file's name within an order: "left-shell.stl"."""
        return f"{side}-{self.key}" if side else self.key


def of_shell(write: Callable[[MadeShell], bytes]) -> Callable[[Order, Revision, str], bytes]:
    """What makes a document of one shell, from what writes it."""

    def make(order: Order, revision: Revision, side: str) -> bytes:
        entry, result = next(shell for shell in revision.shells if shell[0]["side"] == side)
        content = revision.catalogue.content
        return write(made_shell(order.person.reference, revision.number, entry, result, content))

    return make


def of_order(paper: str, format: str) -> Kind:
    """The work order on one paper."""
    return Kind(
        f"work-order-{paper}.pdf",
        noop("Work order"),
        format,
        "application/pdf",
        lambda order, revision, _side: work_order(order, revision, paper),
        per_shell=False,
        for_clinic=True,
        preview=lambda order, revision: work_order(order, revision, paper, preview=True),
    )


KINDS = (
    of_order("a4", noop("PDF, A4")),
    of_order("letter", noop("PDF, Letter")),
    Kind(
        "shell.stl",
        noop("Shell with its wall"),
        "STL",
        "model/stl",
        of_shell(lambda made: stl_bytes(wall_of(made), f"{made.name}, shell")),
    ),
    Kind(
        "shell.3mf",
        noop("Shell with its wall"),
        "3MF",
        "model/3mf",
        of_shell(lambda made: three_mf_bytes(wall_of(made), f"{made.name}, shell")),
    ),
    Kind(
        "outside.stl",
        noop("Outside surface"),
        "STL",
        "model/stl",
        of_shell(lambda made: stl_bytes(outside_of(made), f"{made.name}, outside")),
    ),
    Kind(
        "outside.3mf",
        noop("Outside surface"),
        "3MF",
        "model/3mf",
        of_shell(lambda made: three_mf_bytes(outside_of(made), f"{made.name}, outside")),
    ),
    Kind("stations.csv", noop("Station table"), "CSV", "text/csv; charset=utf-8", of_shell(station_table)),
    Kind("outline.dxf", noop("Outline laid flat"), "DXF", "image/vnd.dxf", of_shell(flat_outline)),
)
NAMED = {kind.name(side): (kind, side) for kind in KINDS for side in (SIDES if kind.per_shell else ("",))}
"""Every document's kind and side, by its file's name."""


def documents_of(revision: Revision) -> list[tuple[Kind, str]]:
    """Every document that a revision has: kind and side, those of the whole order first."""
    sides = [entry["side"] for entry in revision.entries]
    return [(kind, side) for side in ("", *sides) for kind in KINDS if kind.per_shell == bool(side)]
