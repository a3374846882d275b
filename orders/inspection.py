"""A finished shell, measured: what was typed becomes lines that are held against the order."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from fractions import Fraction

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop as noop

from orders.changes import Shell
from orders.figure_rows import digits
from orders.reckoning.as_made import (
    Limits,
    held_against,
    limits_as_made,
    mass_apart,
    meant_unit,
    wants_third,
)
from orders.reckoning.constants import LARGEST
from orders.reckoning.cut_mass import cut_mass_g
from orders.reckoning.errors import OutOfRange, Unreadable
from orders.reckoning.typed import Reading, read_length

READINGS_MOST = 3

# What is measured, in order: its name, and from where.
MEASURED = {
    "length": (noop("Length"), noop("top edge to bottom edge")),
    "girth": (noop("Girth"), noop("outside, at the widest")),
    "upper_strap": (noop("Upper strap"), noop("top edge to its centre")),
    "lower_strap": (noop("Lower strap"), noop("bottom edge to its centre")),
}
TO_THE_LINE = {
    "length": noop("top edge to the trim line"),
    "lower_strap": noop("trim line to its centre"),
}


class Misread(ValueError):
    """What was typed for a figure can't be taken; its text says why, for the person who typed it."""


@dataclass(frozen=True)
class Line:
    """One figure as it was made, kept with the inspection. Lengths in mm, a mass in g."""

    key: str
    ordered: float
    least: float | None
    most: float | None
    measured: float
    spread: float | None
    within: bool
    close: bool


def places(catalogue: Mapping) -> dict[str, str]:
    """From where each figure is measured; where a trim line is marked, to that line."""
    marked = TO_THE_LINE if catalogue["trim_line_marked"] and catalogue["trim_mm"] else {}
    return {key: _(marked.get(key, place)) for key, (_name, place) in MEASURED.items()}


def limits_of(shell: Shell) -> dict[str, Limits]:
    """What each figure of a shell may come out as."""
    return limits_as_made(shell.result, shell.catalogue)


def limits_words(limits: Limits) -> str:
    """ "399 to 401 mm"."""
    return _("{least} to {most} mm").format(least=digits(limits.least_mm, 1), most=digits(limits.most_mm, 1))


def length_line(key: str, texts: Sequence[str], unit: str, limits: Limits) -> Line:
    """One figure from its readings as typed. Raises Misread."""
    readings = [understood(text, unit, limits) for text in texts if text.strip()]
    if not readings:
        raise Misread(_("Measure it and write down what the rule says."))
    if wants_third(readings):
        raise Misread(
            _("The two readings are {mm} mm apart. Measure a third time.").format(
                mm=digits(float(abs(readings[0] - readings[1])), 1)
            )
        )
    held = held_against(readings, limits, girth=key == "girth")
    return Line(key, *limits, held.measured_mm, held.U_mm, held.within, held.close)


def understood(text: str, unit: str, limits: Limits) -> Fraction:
    """One reading by the sheet's own parser. Raises Misread, also for a number that is meant in another unit. [mm]"""
    try:
        reading = read_length(text, unit)
    except Unreadable as unreadable:
        raise Misread(unreadable.says) from None
    if reading.mm_exact > LARGEST:
        raise Misread(_("No shell measures so much. Look at the number and its unit."))
    if not reading.mm_exact:
        raise Misread(_("Nothing of a shell measures 0. Look at the number."))
    meant = meant_unit(reading, limits.ordered_mm)
    if meant:
        raise Misread(wrong_unit_words(reading, meant, limits))
    return reading.mm_exact


def wrong_unit_words(reading: Reading, meant: str, limits: Limits) -> str:
    """Asks for the unit."""
    return _(
        "{number} {unit} is far from the {ordered} mm ordered. If you mean {number} {meant}, write it with its unit."
    ).format(number=reading.number, unit=reading.unit, meant=meant, ordered=digits(limits.ordered_mm, 0))


def mass_reckoned(shell: Shell) -> float | None:
    """What a finished shell is to weigh, by its wall as it is cut; None where no surface goes through. [g]"""
    try:
        return cut_mass_g(shell.result, shell.entry["shell"], shell.catalogue)
    except OutOfRange:
        return None


def mass_line(weighed_g: float, reckoned_g: float) -> Line:
    """The shell's mass beside the reckoned one; it never decides whether the shell is good."""
    _share, apart = mass_apart(weighed_g, reckoned_g)
    return Line("mass", reckoned_g, None, None, weighed_g, None, True, apart)


def misses(lines: Sequence[Line]) -> list[Line]:
    """The figures that came out beyond their limits."""
    return [line for line in lines if not line.within]


def kept(lines: Sequence[Line]) -> list[dict]:
    """The lines as they are stored."""
    return [asdict(line) for line in lines]


@dataclass(frozen=True)
class LineShown:
    """A stored line in words; figures without their unit."""

    name: str
    place: str
    ordered: str
    limits: str
    measured: str
    spread: str
    unit: str
    says: str
    missed: bool


def lines_shown(lines: Sequence[Mapping], catalogue: Mapping) -> list[LineShown]:
    """An inspection's lines as they are read."""
    where = places(catalogue)
    return [line_shown(Line(**line), where) for line in lines]


def line_shown(line: Line, where: Mapping[str, str]) -> LineShown:
    """One line in words."""
    if line.key == "mass":
        return LineShown(
            name=_("Mass"),
            place=_("with its straps"),
            ordered=digits(line.ordered, 0),
            limits="",
            measured=digits(line.measured, 0),
            spread="",
            unit="g",
            says=mass_words(line),
            missed=False,
        )
    limits = Limits(line.ordered, line.least or 0.0, line.most or 0.0)
    return LineShown(
        name=_(MEASURED[line.key][0]),
        place=where[line.key],
        ordered=digits(line.ordered, 1),
        limits=limits_words(limits),
        measured=digits(line.measured, 1),
        spread=digits(line.spread or 0.0, 1),
        unit="mm",
        says=held_words(line),
        missed=not line.within,
    )


def held_words(line: Line) -> str:
    """Within, beyond and by how much, or too near to a limit to be sure."""
    if line.within:
        return _("within, but nearer to a limit than it was measured") if line.close else _("within")
    over = line.measured - (line.most or 0.0)
    if over > 0:
        return _("{mm} mm over").format(mm=digits(over, 1))
    return _("{mm} mm under").format(mm=digits((line.least or 0.0) - line.measured, 1))


def mass_words(line: Line) -> str:
    """How far a mass is from the reckoned one."""
    share, apart = mass_apart(line.measured, line.ordered)
    percent = digits(abs(share) * 100, 0)
    if percent == "0":
        return _("as reckoned")
    said = _("{percent} % heavier than reckoned") if share > 0 else _("{percent} % lighter than reckoned")
    words = said.format(percent=percent)
    return _("{words}: look at the wall").format(words=words) if apart else words
