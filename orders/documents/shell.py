"""One shell as its files are made from it: the surface as ordered, and the straps' places."""

from dataclasses import dataclass
from functools import cached_property

from django.utils.translation import gettext as _

from orders.reckoning.edges import Edges
from orders.reckoning.errors import OutOfRange
from orders.reckoning.loft import Loft
from orders.reckoning.ordered import Ordered, ordered


class CannotBeMade(Exception):
    """A document that this order has not enough for. `says` tells the workshop what is missing."""

    def __init__(self, says: str) -> None:
        super().__init__(says)
        self.says = says


@dataclass(frozen=True)
class MadeShell:
    """What a shell's files are made from. Lengths in mm; the straps' places to their centres, below the top."""

    reference: str
    side: str
    revision: int
    ordered: Ordered
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
        return self.ordered.outline[-1].below_top_mm

    @cached_property
    def loft(self) -> Loft:
        """The smooth outside."""
        return Loft(self.ordered.outline)

    @cached_property
    def edges(self) -> Edges:
        """Where it is cut. Raises CannotBeMade."""
        try:
            return Edges(self.loft, self.ordered.cut)
        except OutOfRange as wrong:
            raise no_such_surface(wrong) from None


def made_shell(reference: str, revision: int, entry: dict, result: dict, catalogue: dict) -> MadeShell:
    """A shell from one entry, its frozen result and the catalogue it was reckoned with. Raises CannotBeMade."""
    try:
        surface = ordered(result, entry["shell"], catalogue)
    except OutOfRange as wrong:
        raise no_such_surface(wrong) from None
    return MadeShell(
        reference=reference,
        side=entry["side"],
        revision=revision,
        ordered=surface,
        upper_mm=known(result, "upper_strap_mm"),
        lower_mm=known(result, "finished_length_mm") - known(result, "lower_strap_mm"),
        strap_width_mm=float(catalogue["strap"]["width_mm"]),
        trim_mm=float(catalogue["trim_mm"]),
    )


def known(result: dict, key: str) -> float:
    """A figure of the result. [mm] Raises CannotBeMade where it isn't known."""
    if result.get(key) is None:
        raise CannotBeMade(_("A figure is missing in the result: {key}.").format(key=key))
    return float(result[key])


def no_such_surface(wrong: OutOfRange) -> CannotBeMade:
    """What to tell of a surface that the numbers don't allow."""
    says = _("No such surface can be made: {name} is {value}, and must be {allowed}.")
    return CannotBeMade(says.format(name=wrong.name, value=wrong.value, allowed=wrong.allowed))


def plain(text: str) -> str:
    """Printable ASCII alone, in one line; what is none becomes a low line."""
    return "".join(letter if " " <= letter <= "~" else "_" for letter in text)
