"""The entry's fields as quantities: what was typed is read here, and what can't be read becomes a flag.

Twin: static/js/book/readings.js.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from orders.reckoning.language import said, with_mark
from orders.reckoning.typed import Understood, combine, digits_swapped, understand
from orders.rulebook.flag import Flag
from orders.rulebook.givens import given_name
from orders.rulebook.sentences import trimmed_text
from orders.rulebook.strings import STRINGS

# No measure of a leg, and nobody's stature, is longer. [mm]
LONGEST_MM = 3000.0
_PLAIN_NUMBER = re.compile(r"[ \t]*([-+−]?)([0-9]{1,4})(?:[.,]([0-9]{1,4}))?[ \t]*°?[ \t]*")
_MINUS = re.compile(r"[ \t]*[-−]")


@dataclass
class Read:
    """What an entry gives.

    Attributes
    ----------
    known : dict
        Quantities by name; what isn't known isn't there.
    flags : list of Flag
        Readings that can't be read.
    extra_girths : list of (above_floor_mm, girth_mm)
    service_points : list of dict
        ``{"what", "side", "below_apex_mm", "stays_open"}``, the place None where it isn't known.
    """

    known: dict[str, float | str | bool] = field(default_factory=dict)
    flags: list[Flag] = field(default_factory=list)
    extra_girths: list[tuple[float, float]] = field(default_factory=list)
    service_points: list[dict] = field(default_factory=list)


def at_path(entry: Mapping, path: str):
    """The value at a dotted path; None where the path ends early."""
    value: object = entry
    for key in path.split("."):
        if not isinstance(value, Mapping):
            return None
        value = value.get(key)
    return value


def read_givens(entry: Mapping, givens: Mapping, by_reading: Mapping[str, Mapping]) -> Read:
    """Every quantity that an entry gives.

    Parameters
    ----------
    entry : mapping
        An entry as `read_entry` gives it.
    givens : mapping
        The table ``entry`` of givens.toml.
    by_reading : mapping
        The checks found while reading, by id: reading.unreadable, reading.wrong_unit.
    """
    reader = _EntryReader(entry, by_reading)
    for name, given in givens.items():
        reader.take(name, given)
    reader.take_repeats("length", "length")
    reader.take_repeats("girth", "girth")
    reader.take_extra_girths()
    reader.take_service_points()
    return reader.read


class _EntryReader:
    def __init__(self, entry: Mapping, by_reading: Mapping[str, Mapping]):
        self.entry, self.by_reading = entry, by_reading
        self.units = entry.get("units") or "mm"
        self.read = Read()

    def take(self, name: str, given: Mapping) -> None:
        value, how = at_path(self.entry, given["field"]), given["read"]
        known = self.read.known
        if how == "presence":
            known[name] = value is not None
            return
        if how in ("reading", "signed", "number"):
            known[given_name(name)] = value is not None
        if value is None:
            value = given.get("default")
        elif how == "number":
            value = self.plain_number(value, given)
        elif how in ("reading", "signed"):
            value = self.length(value, given, signed=how == "signed")
        if value is not None:
            known[name] = value

    def length(self, text: str, given: Mapping, *, signed: bool) -> float | None:
        """One measurement; None with a flag where it can't be read. [mm]"""
        minus = _MINUS.match(text) if signed else None
        number = text[minus.end() :] if minus else text
        understood = self.understood(number, given["field"], given["at"], given.get("quantity", "other"))
        if understood is None:
            return None
        if given.get("above_nought"):
            return self.above_nought(understood, given["field"], given["at"])
        return -understood.mm if minus else understood.mm

    def above_nought(self, understood: Understood, path: str, at: str) -> float | None:
        """A measurement that is none at nought; None with a flag there. [mm]"""
        if understood.mm > 0.0:
            return understood.mm
        self.flag("reading.unreadable", path, at, f"{understood.says}. {said(STRINGS['not_nought'])}")
        return None

    def understood(self, text: str, path: str, at: str, quantity: str) -> Understood | None:
        understood = understand(text, self.units, quantity)
        if understood.outcome == "value" and understood.mm <= LONGEST_MM:
            return understood
        if understood.outcome == "ask":
            self.flag("reading.wrong_unit", path, at, understood.says, understood.offers[0])
            return None
        too_long = "" if understood.outcome == "refuse" else f". {said(STRINGS['too_long'])}"
        says = f"{understood.says}{too_long}"
        self.flag("reading.unreadable", path, at, says)
        return None

    def flag(self, flag_id: str, path: str, at: str, says: str, offer: str | None = None) -> None:
        check = self.by_reading[flag_id]
        whole = path.split(".")[0] if re.search(r"\.\d+", path) else path
        way_out = {"field": path, "value": offer} if offer else None
        self.read.flags.append(Flag(flag_id, check["level"], (whole,), at, says, check["do"], way_out))

    def plain_number(self, value: str | float, given: Mapping) -> float | None:
        """A plain number in the unit of its name, as typed or as a number."""
        number = _number_of(value) if isinstance(value, str) else float(value)
        if number is not None and given["least"] <= number <= given["most"]:
            return number
        least, most = (with_mark(trimmed_text(given[end], 1)) for end in ("least", "most"))
        shown = value[:24] if isinstance(value, str) else trimmed_text(number, 4)
        says = said(STRINGS["not_within"], shown=shown, least=least, most=most)
        self.flag("reading.unreadable", given["field"], given["at"], says)
        return None

    def take_repeats(self, path: str, name: str) -> None:
        """Readings of one measure: what is kept, how many, how far apart, whether digits are swapped."""
        texts = self.entry.get(path) or []
        found = [self.understood(text, f"{path}.{n}", name, name) for n, text in enumerate(texts)]
        readings = [understood for understood in found if understood is not None]
        if not readings:
            return
        exact = [understood.mm_exact for understood in readings]
        self.read.known |= {
            f"{name}_read_mm": float(combine(exact)),
            f"{name}_count": float(len(readings)),
            f"{name}_spread_mm": float(max(exact) - min(exact)),
            f"{name}_swapped": len(readings) == 2 and digits_swapped(*(one.reading for one in readings)),
            f"{name}_typed": listed([_with_unit(understood) for understood in readings]),
        }

    def take_extra_girths(self) -> None:
        for n, extra in enumerate(self.entry.get("extra_girths") or []):
            place = self.item(extra, f"extra_girths.{n}", "above_floor")
            girth = self.item(extra, f"extra_girths.{n}", "girth", above_nought=True)
            if place is not None and girth is not None:
                self.read.extra_girths.append((place, girth))
        girths = [girth for _, girth in self.read.extra_girths]
        if girths:
            self.read.known |= {"extra_girth_least_mm": min(girths), "extra_girth_most_mm": max(girths)}

    def item(
        self,
        group: Mapping,
        path: str,
        key: str,
        at: str = "girth",
        quantity: str = "other",
        *,
        above_nought: bool = False,
    ) -> float | None:
        text = group.get(key)
        if text is None:
            return None
        understood = self.understood(text, f"{path}.{key}", at, quantity)
        if understood is not None and above_nought:
            return self.above_nought(understood, f"{path}.{key}", at)
        return None if understood is None else understood.mm

    def take_service_points(self) -> None:
        for n, point in enumerate(self.entry.get("service_points") or []):
            place = self.item(point, f"service_points.{n}", "below_apex", "service", "below_apex")
            kept = {key: point.get(key) for key in ("what", "side", "stays_open")}
            self.read.service_points.append(kept | {"below_apex_mm": place})


def _number_of(text: str) -> float | None:
    match = _PLAIN_NUMBER.fullmatch(text)
    if not match:
        return None
    number = float(f"{match[2]}.{match[3] or 0}")
    return -number if match[1] in ("-", "−") else number


def _with_unit(understood: Understood) -> str:
    reading = understood.reading
    return reading.number if reading.number.endswith("ft") else f"{reading.number}\u00a0{reading.unit}"


class Listed(str):
    """Parts in words, with the `parts` themselves."""

    parts: tuple[str, ...]


def listed(parts: Sequence[str]) -> Listed:
    """Parts in words: "a", "a and b", "a, b and c"."""
    several = len(parts) > 1
    made = Listed(said(STRINGS["and"], first=", ".join(parts[:-1]), last=parts[-1]) if several else parts[0])
    made.parts = tuple(parts)
    return made
