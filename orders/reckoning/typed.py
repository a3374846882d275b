"""What was typed, read as one exact length, or refused in the person's own words.

Twin: static/js/reading/typed.js; both are held to tests/orders/reckoning/typed_cases.json. A general
expression parser reads "15 1/2" as 15 × 1 ÷ 2; this one knows only lengths and never guesses.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from .constants import ORDINARY_MM
from .errors import OutOfRange, Unreadable
from .language import with_mark
from .typed_amount import Amount, Refused, amount_of
from .typed_scan import scanned, trimmed
from .typed_sentences import EXAMPLES, filled
from .typed_spoken import respelled
from .units import MM_PER, decimal_text, inches_text

__all__ = ["Reading", "Understood", "combine", "digits_swapped", "inches_text", "read_length", "understand"]

LONGEST_TEXT = 64


@dataclass(frozen=True)
class Reading:
    """One length as it was read.

    Attributes
    ----------
    mm_exact : Fraction
        [mm]
    unit : str
        The unit it was read in: mm, cm or in (feet are read as inches).
    unit_typed : bool
        Whether the unit stood in the text.
    number : str
        The number as it reads, without its unit: "16 1/2", "39,4", "1 ft 3 1/2".
    """

    mm_exact: Fraction
    unit: str
    unit_typed: bool
    number: str

    @property
    def mm(self) -> float:
        """The double nearest to the exact length. [mm]"""
        return float(self.mm_exact)

    @property
    def says(self) -> str:
        """What was understood: "16 1/2 in is 419.1 mm". Put together when asked: thousands are read and not shown."""
        return _says(_as_read(self.number, self.unit), self.unit, self.mm_exact)


@dataclass(frozen=True)
class Understood:
    """What a field makes of a text.

    Attributes
    ----------
    outcome : str
        "value", "ask" (out of the ordinary, but ordinary in another unit) or "refuse".
    mm, mm_exact
        The length for "value", else None: of the others nothing is to be stored. [mm]
    says : str
        A sentence for the person.
    offers : tuple of str
        For "ask": the other readings, as texts that settle it ("39.4 cm").
    reading : Reading or None
        What was read literally, for "value" and "ask".
    reason : str or None
        For "refuse": the key of the sentence.
    """

    outcome: str
    mm: float | None
    says: str
    offers: tuple[str, ...] = ()
    mm_exact: Fraction | None = None
    reading: Reading | None = None
    reason: str | None = None


def read_length(text: str, unit: str = "mm") -> Reading:
    """Read one length.

    Parameters
    ----------
    text : str
        As typed.
    unit : str
        What a bare number is in: mm, cm or in.

    Raises
    ------
    Unreadable
        If the text is not exactly one length; its `says` tells the person what was read and expected.
    OutOfRange
        If `unit` is none of the three.

    >>> read_length("16 1/2", "in").says
    '16 1/2 in is 419.1 mm'
    """
    if unit not in MM_PER:
        raise OutOfRange("unit", unit, "mm, cm or in")
    try:
        amount = _amount(text)
    except Refused as refused:
        known = {"text": trimmed(text), "example": with_mark(EXAMPLES[unit]), **refused.values}
        raise Unreadable(filled(refused.reason, known), refused.reason) from None
    read_in = amount.unit or unit
    return Reading(amount.value * MM_PER[read_in], read_in, amount.unit is not None, amount.number)


def _amount(text: str) -> Amount:
    if len(text) > LONGEST_TEXT:
        raise Refused("too_long", count=len(text), most=LONGEST_TEXT, start=trimmed(text)[:16])
    tokens = respelled(scanned(text))
    if not tokens:
        raise Refused("empty")
    return amount_of(tokens, text)


def _says(read: str, unit: str, mm_exact: Fraction) -> str:
    """Inches and centimetres are told in mm, mm in inches: what is on the tape, and what it comes to."""
    if unit != "mm":
        return filled("is_mm", {"read": read, "mm": with_mark(decimal_text(mm_exact))})
    exact = (mm_exact / MM_PER["in"]).denominator in (1, 2, 4, 8, 16)
    key = "is_inches" if exact else "is_about_inches"
    return filled(key, {"read": read, "inches": inches_text(mm_exact)})


def _as_read(number: str, unit: str) -> str:
    """A number with its unit; whole feet carry theirs already."""
    return number if number.endswith("ft") else f"{number} {unit}"


def understand(text: str, unit: str, quantity: str = "length") -> Understood:
    """Read a text as the value of one field, and ask if it looks like the wrong unit.

    Parameters
    ----------
    text : str
        As typed.
    unit : str
        What a bare number is in: mm, cm or in.
    quantity : str
        Key of constants.ORDINARY_MM; any other has no ordinary range and is never asked about.

    Notes
    -----
    A bare number outside the quantity's ordinary range that would lie inside it in another unit is asked
    about and never converted. A unit typed with the number settles it.
    """
    try:
        reading = read_length(text, unit)
    except Unreadable as refused:
        return Understood("refuse", None, refused.says, reason=refused.reason)
    offers = _other_units(reading, quantity)
    if offers:
        says = _question(text, reading, quantity, offers)
        texts = tuple(f"{reading.number} {other}" for other in offers)
        return Understood("ask", None, says, texts, reading=reading)
    return Understood("value", reading.mm, reading.says, mm_exact=reading.mm_exact, reading=reading)


def _in_unit(reading: Reading, other: str) -> Fraction:
    """The same number, had it been in another unit. [mm]"""
    return reading.mm_exact / MM_PER[reading.unit] * MM_PER[other]


def _other_units(reading: Reading, quantity: str) -> tuple[str, ...]:
    """The units in which a bare number out of the ordinary would be an ordinary one."""
    ordinary = ORDINARY_MM.get(quantity)
    if ordinary is None or reading.unit_typed or ordinary[0] <= reading.mm_exact <= ordinary[1]:
        return ()
    return tuple(
        other
        for other in MM_PER
        if other != reading.unit and ordinary[0] <= _in_unit(reading, other) <= ordinary[1]
    )


def _question(text: str, reading: Reading, quantity: str, offers: Sequence[str]) -> str:
    low, high = ORDINARY_MM[quantity]
    own = f"{reading.number} {reading.unit}"
    mm = f"{with_mark(decimal_text(reading.mm_exact))} mm"
    values: dict[str, object] = {"text": trimmed(text), "low": low, "high": high, "own": own}
    values["read"] = own if reading.unit == "mm" else f"{own} ({mm})"
    for name, other in zip(("first", "second"), offers, strict=False):
        values[name] = f"{reading.number} {other}"
        values[f"{name}_mm"] = with_mark(decimal_text(_in_unit(reading, other)))
    return filled("ask_one" if len(offers) == 1 else "ask_two", values)


def combine(readings: Sequence[Fraction]) -> Fraction:
    """The value to keep: one reading as it is, of two the mean, of three the median [ISAK].

    Parameters
    ----------
    readings : (n,) Fraction, 1 <= n <= 3
        [mm]
    """
    if not 1 <= len(readings) <= 3:
        raise OutOfRange("number of readings", len(readings), "one, two or three")
    ordered = sorted(readings)
    if len(ordered) == 2:
        return (ordered[0] + ordered[1]) / 2
    return ordered[len(ordered) // 2]


def digits_swapped(first: Reading, second: Reading) -> bool:
    """Whether two readings in one unit differ by just two neighbouring digits that changed places.

    A decimal mark may stand between the two.
    """
    a, b = first.number.replace(",", "."), second.number.replace(",", ".")
    if first.unit != second.unit or len(a) != len(b):
        return False
    differ = [at for at, (one, other) in enumerate(zip(a, b, strict=True)) if one != other]
    if len(differ) != 2:
        return False
    left, right = differ
    between = a[left + 1 : right]
    exchanged = a[left] == b[right] and a[right] == b[left]
    return exchanged and between in ("", ".") and (a[left] + a[right]).isdigit()
