"""Every tape measurement of an entry, as it was typed and as it was understood."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from django.utils.translation import gettext as _

from capture.sheet_fields import BY_KEY
from orders.reckoning.entry import FIELDS_IN_ORDER
from orders.reckoning.errors import Unreadable
from orders.reckoning.typed import read_length
from orders.wording import FREE_TEXTS, OTHER_LABELS, flat, label_of

HOLD_READINGS = {"extra_girths", "service_points"}
"""Lists of objects with measurements among their keys."""
_PARTED = re.compile(r"(?<=\d) (?=(?:mm|cm|in|ft)\b|\d+/\d)")


@dataclass(frozen=True)
class TypedReading:
    """One text from the tape.

    Attributes
    ----------
    path : str
        Its field in the entry.
    label : str
        The field's name; of repeats, numbered.
    typed : str
        The text, exactly.
    says : str
        What was understood: "16 1/2 in is 419.1 mm".
    """

    path: str
    label: str
    typed: str
    says: str


def typed_readings(entry: dict) -> list[TypedReading]:
    """The entry's measurements, in the contract's order; fields without a text are left out."""
    given = dict(flat(entry))
    return [
        TypedReading(path, label, text, understood(text, entry["units"]))
        for path in FIELDS_IN_ORDER
        if path in given and is_reading(path)
        for label, text in texts_of(path, given[path])
    ]


def is_reading(path: str) -> bool:
    """Whether this field of an entry is measured with a tape, or holds something that is."""
    field = BY_KEY.get(path)
    if path in HOLD_READINGS:
        return True
    if field:
        return field.kind in {"reading", "readings"}
    return path in OTHER_LABELS and path not in FREE_TEXTS and not path.endswith(("_deg", "_kg"))


def texts_of(path: str, value: object) -> Iterator[tuple[str, str]]:
    """Each text of a field with what it is called."""
    label = label_of(path)
    if isinstance(value, str):
        yield label, value
    elif path == "extra_girths":
        for girth in value or []:
            yield _("Further girth, above the floor"), girth["above_floor"]
            yield _("Further girth"), girth["girth"]
    elif path == "service_points":
        for point in value or []:
            if point.get("below_apex"):
                yield _("{what}, below the apex").format(what=point["what"]), point["below_apex"]
    elif isinstance(value, list):
        texts = [text for text in value if isinstance(text, str)]
        for number, text in enumerate(texts, start=1):
            yield (f"{label}, {number}" if len(texts) > 1 else label), text


def understood(text: str, unit: str) -> str:
    """What the site reads in a text, in words. Only an axis may have a sign: below the rim."""
    try:
        says = held_together(read_length(unsigned(text), unit).says)
    except Unreadable as unreadable:
        return unreadable.says
    return _("below the rim: {says}").format(says=says) if is_below(text) else says


def held_together(says: str) -> str:
    """A sentence whose figures no line break parts from their units, nor a fraction from its whole."""
    return _PARTED.sub("\u00a0", says)


def length_mm(text: object, unit: str) -> Fraction | None:
    """A single measurement in mm, or None where there is none that can be read. [mm]"""
    if not isinstance(text, str):
        return None
    try:
        read = read_length(unsigned(text), unit).mm_exact
    except Unreadable:
        return None
    return -read if is_below(text) else read


def unsigned(text: str) -> str:
    """The text without a minus in front, which only an axis below the rim has."""
    return text.strip().removeprefix("-").removeprefix("−").strip()


def is_below(text: str) -> bool:
    """Whether a minus stands in front of it."""
    return text.strip().startswith(("-", "−"))
