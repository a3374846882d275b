"""One shell as its files are made from it: the frozen result's stations, and what the catalogue says of the options."""

from dataclasses import dataclass
from functools import cached_property

from django.utils.translation import gettext as _

from orders.reckoning.edges import Cut, Edges
from orders.reckoning.errors import OutOfRange
from orders.reckoning.loft import Loft
from orders.reckoning.outline import Station
from orders.rulebook.options import option_of


class CannotBeMade(Exception):
    """A document that this order has not enough for. `says` tells the workshop what is missing."""

    def __init__(self, says: str) -> None:
        super().__init__(says)
        self.says = says


@dataclass(frozen=True)
class MadeShell:
    """What a shell's surface and outline are made from. Lengths in mm; places below the top, to the strap's centre."""

    reference: str
    side: str
    revision: int
    stations: tuple[Station, ...]
    wall_mm: float
    cut: Cut
    upper_mm: float
    lower_mm: float
    strap_width_mm: float
    trim_mm: float

    @property
    def name(self) -> str:
        """What the files call it, in characters that every program reads: "T-0001 left revision 2"."""
        return plain(f"{self.reference} {self.side} revision {self.revision}")

    @property
    def length_mm(self) -> float:
        """The finished length. [mm]"""
        return self.stations[-1].below_top_mm

    @cached_property
    def loft(self) -> Loft:
        """The smooth outside."""
        return Loft(self.stations)

    @cached_property
    def edges(self) -> Edges:
        """Where it is cut. Raises CannotBeMade."""
        try:
            return Edges(self.loft, self.cut)
        except OutOfRange as wrong:
            raise CannotBeMade(edges_would_meet(wrong)) from None


def made_shell(reference: str, revision: int, entry: dict, result: dict, catalogue: dict) -> MadeShell:
    """A shell from one entry, its frozen result and the catalogue it was reckoned with. Raises CannotBeMade."""
    chosen = {
        kind: option_named(catalogue, kind, entry["shell"].get(kind)) for kind in ("wall", "rear", "top")
    }
    places = [known(result, key) for key in ("finished_length_mm", "upper_strap_mm", "lower_strap_mm")]
    if not result.get("stations"):
        raise CannotBeMade(_("The result has no stations, so there is no surface."))
    return MadeShell(
        reference=reference,
        side=entry["side"],
        revision=revision,
        stations=tuple(Station(**station) for station in result["stations"]),
        wall_mm=float(chosen["wall"]["wall_mm"]),
        cut=Cut(
            relief_mm=float(chosen["top"]["relief_mm"]),
            rear_trim_mm=float(result.get("rear_trim_mm") or 0.0),
            reach=float(chosen["rear"]["reach"]),
            open_share=float(chosen["rear"]["open_share"]),
        ),
        upper_mm=places[1],
        lower_mm=places[0] - places[2],
        strap_width_mm=float(catalogue["strap"]["width_mm"]),
        trim_mm=float(catalogue["trim_mm"]),
    )


def option_named(catalogue: dict, kind: str, key: str | None) -> dict:
    """The catalogue's option that was chosen. Raises CannotBeMade where it has none such."""
    option = option_of(catalogue, kind, key)
    if option is None:
        says = _(
            "The catalogue this order was reckoned with has no {kind} “{key}”, so its numbers aren’t known."
        )
        raise CannotBeMade(says.format(kind=_(kind), key=key))
    return dict(option)


def known(result: dict, key: str) -> float:
    """A figure of the result. [mm] Raises CannotBeMade where it isn't known."""
    if result.get(key) is None:
        raise CannotBeMade(_("A figure is missing in the result: {key}.").format(key=key))
    return float(result[key])


def edges_would_meet(wrong: OutOfRange) -> str:
    """What to tell of a surface that the numbers don't allow."""
    return _("No such surface can be cut: {name} is {value}, and must be {allowed}.").format(
        name=wrong.name, value=wrong.value, allowed=wrong.allowed
    )


def plain(text: str) -> str:
    """Printable ASCII alone, in one line; what is none becomes a low line."""
    return "".join(letter if " " <= letter <= "~" else "_" for letter in text)
