"""The figures that a workshop makes from: each with its unit, its sum, and what it was before.

Rounding is for the eye only and half away from zero; the result keeps its own digits.
"""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from orders.readings import length_mm
from orders.reckoning.language import with_mark
from orders.rulebook.told import derivation_in_words
from orders.wording import as_typed

STRAPS = ("upper_strap_mm", "strap_spacing_mm", "lower_strap_mm")


@dataclass(frozen=True)
class Shown:
    """How a figure of the result is shown.

    Attributes
    ----------
    key : str
        Its key in the result, or for an entry's own measurement its dotted path.
    label, place : str
        What it is, and from where it is measured.
    unit : str
        "mm", "g" or "" where it has none.
    decimals : int
        At most so many.
    spread : str
        Key of its uncertainty in the result.
    dimension : str
        Which dimension of the drawing it is.
    strong : bool
        Whether the shell is cut from it.
    """

    key: str
    label: str
    place: str = ""
    unit: str = "mm"
    decimals: int = 0
    spread: str = ""
    dimension: str = ""
    strong: bool = False


SHOWN = (
    Shown(
        "length_taken_mm",
        noop("Length as taken"),
        noop("apex to rim"),
        decimals=1,
        spread="length_U_mm",
        dimension="length",
    ),
    Shown("gap_mm", noop("Gap"), noop("left open above the rim"), decimals=2, dimension="gap"),
    Shown("finished_length_mm", noop("Finished length"), dimension="finished_length", strong=True),
    Shown(
        "girth_mm",
        noop("Girth"),
        noop("outside, at the widest"),
        spread="girth_U_mm",
        dimension="girth",
        strong=True,
    ),
    Shown("inside_girth_mm", noop("Inside girth"), noop("at the widest")),
    Shown(
        "knee.hardware_length",
        noop("Hardware length"),
        noop("below the apex"),
        decimals=1,
        dimension="hardware_length",
    ),
    Shown(
        "upper_strap_mm",
        noop("Upper strap"),
        noop("below the top edge"),
        dimension="upper_strap",
        strong=True,
    ),
    Shown("strap_spacing_mm", noop("Between straps"), dimension="strap_spacing"),
    Shown(
        "lower_strap_mm",
        noop("Lower strap"),
        noop("above the bottom edge"),
        dimension="lower_strap",
        strong=True,
    ),
    Shown("foot.hardware_above_rim", noop("Hardware above rim"), decimals=1, dimension="hardware_above_rim"),
    Shown("rear_end_above_rim_mm", noop("Rear ends"), noop("above the rim")),
    Shown("rear_trim_mm", noop("Rear begins"), noop("below the top edge")),
    Shown("margin_mm", noop("Left over when the ankle moves"), decimals=1),
    Shown("mass_g", noop("Mass"), unit="g"),
)


@dataclass(frozen=True)
class FigureRow:
    """One figure as it stands on the page: texts without their unit."""

    key: str
    label: str
    place: str
    value: str
    unit: str
    spread: str
    came_about: str
    was: str
    dimension: str
    strong: bool


def figure_rows(entry: dict, result: dict, before: tuple[dict, dict] | None = None) -> list[FigureRow]:
    """The figures of one shell that are known, with what they were in the revision `before` (its entry and result)."""
    now = shown_values(entry, result)
    changed = changed_values(before, (entry, result)) if before else {}
    return [
        FigureRow(
            key=shown.key,
            label=_(shown.label),
            place=_(shown.place) if shown.place else "",
            value=now[shown.key],
            unit=shown.unit,
            spread=digits(result[shown.spread], 0) if result.get(shown.spread) else "",
            came_about=came_about(shown.key, entry, result),
            was=changed.get(shown.key, ("", ""))[0],
            dimension=shown.dimension,
            strong=shown.strong,
        )
        for shown in SHOWN
        if shown.key in now
    ]


def shown_values(entry: dict, result: dict) -> dict[str, str]:
    """Every known figure of a shell as it is shown, by key, without its unit."""
    finer = STRAPS if not straps_add_up(result) else ()
    values = {}
    for shown in SHOWN:
        value = value_of(shown.key, entry, result)
        if value is not None:
            values[shown.key] = digits(value, 1 if shown.key in finer else shown.decimals)
    return values


def changed_values(before: tuple[dict, dict], after: tuple[dict, dict]) -> dict[str, tuple[str, str]]:
    """The figures that differ between two revisions of a shell (entry and result each), by key: was and is, "" for none.

    A figure that only reads otherwise because it is now shown to another decimal hasn't changed.
    """
    was, now = shown_values(*before), shown_values(*after)
    pairs = {shown.key: (was.get(shown.key, ""), now.get(shown.key, "")) for shown in SHOWN}
    return {
        key: texts
        for key, texts in pairs.items()
        if texts[0] != texts[1] and value_of(key, *before) != value_of(key, *after)
    }


def value_of(key: str, entry: dict, result: dict) -> float | None:
    """A figure of the result, or a measurement of the entry in mm; None where it isn't known."""
    part, _dot, name = key.partition(".")
    if not name:
        return result.get(key)
    read = length_mm(entry[part].get(name), entry["units"])
    return None if read is None else float(read)


def came_about(key: str, entry: dict, result: dict) -> str:
    """How a figure came about, in words with the numbers."""
    part, _dot, name = key.partition(".")
    if not name:
        return derivation_in_words(result, key)
    return _("{typed}, as measured.").format(typed=as_typed(entry[part][name], entry["units"]))


def straps_add_up(result: dict) -> bool:
    """Whether the straps' places in whole mm make up the finished length as printed."""
    places = [result.get(key) for key in STRAPS]
    if None in places or result.get("finished_length_mm") is None:
        return True
    return sum(int(digits(place, 0).replace("−", "-")) for place in places) == result["finished_length_mm"]


def digits(value: float, decimals: int) -> str:
    """A number with at most so many decimals, rounded half away from zero, without idle zeros: "19.05", "401"."""
    rounded = Decimal(repr(value)).quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_HALF_UP)
    text = f"{rounded:f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in {"-0", "0"} else with_mark(text.replace("-", "−"))
