"""Sentences with their numbers filled in. Twin: static/js/book/follows.js.

``{gap_mm}`` becomes “19.1 mm”: the unit comes from the name's end. Never `str.format`, which reads more
into a text than a name.
"""

import math
import re
from collections.abc import Mapping

from orders.reckoning.language import said, with_mark
from orders.rulebook.strings import STRINGS

_NAME = re.compile(r"\{([a-z_A-Z0-9]+)\}")
# A number and its unit never break apart.
_NO_BREAK = "\u00a0"
# Name's end, unit, most decimals; the first that fits.
_UNITS = (
    ("_kg_m2", "kg\u00a0m²", 4),
    ("_mm", "mm", 1),
    ("_deg", "°", 1),
    ("_kg", "kg", 1),
    ("_g", "g", 0),
    ("", "", 2),
)
# A length counts as whole when nobody could tell it from whole by a tape or on a drawing.
_WHOLE_WITHIN = 1e-6


def decimal_text(value: float, places: int) -> str:
    """A number with exactly so many decimals, halves away from zero: (19.05, 1) is "19.1".

    The half is looked for in the double's own product with 10^places, in both twins alike.
    """
    scaled = math.floor(abs(value) * 10.0**places + 0.5)
    digits = str(int(scaled)).rjust(places + 1, "0")
    sign = "−" if value < 0.0 and scaled else ""
    return f"{sign}{digits[: len(digits) - places]}.{digits[-places:]}" if places else sign + digits


def trimmed_text(value: float, places: int) -> str:
    """As `decimal_text`, less the noughts at its end: (19.05, 4) is "19.05", (400.0, 4) is "400"."""
    text = decimal_text(value, places)
    return text.rstrip("0").rstrip(".") if places else text


def unit_of(name: str) -> tuple[str, int]:
    """Unit and most decimals of a quantity, by its name's end."""
    return next((unit, places) for end, unit, places in _UNITS if name.endswith(end))


def _places(name: str, value: float, finely: int) -> int:
    """How many decimals of a number are shown at most."""
    if abs(value - math.floor(value + 0.5)) < _WHOLE_WITHIN:
        return 0
    unit, places = unit_of(name)
    return places + max(finely, 1 if unit == "" else 0)


def printed(name: str, value: float, finely: int) -> float:
    """The very number that `shown` shows."""
    scale = 10.0 ** _places(name, value, finely)
    return math.copysign(math.floor(abs(value) * scale + 0.5) / scale, value)


def shown(name: str, value, *, finely: int = 0) -> str:
    """A quantity as a person reads it: whole millimetres when it is whole, else one decimal.

    With `finely` so many decimals more, where there are any, so that a sum adds up as printed.
    """
    if value is None:
        return "?"
    if isinstance(value, bool):
        return said(STRINGS["yes" if value else "no"])
    if isinstance(value, str):
        return value
    unit, places = unit_of(name)
    shown_to = _places(name, value, finely)
    number = decimal_text(value, shown_to) if shown_to == places else trimmed_text(value, shown_to)
    joint = "" if unit in ("", "°") else _NO_BREAK
    return f"{with_mark(number)}{joint}{unit}"


def filled(sentence: str, known: Mapping[str, object], *, finely: int = 0) -> str:
    """A sentence with its names filled in; a quantity that isn't known shows as “?”."""
    return _NAME.sub(lambda match: shown(match[1], known.get(match[1]), finely=finely), sentence)


def typed_value(value: str, known: Mapping[str, object]) -> str | None:
    """An offer's value as it would be typed or chosen: ``{gap_mm}`` becomes "19.05 mm"."""
    match = _NAME.fullmatch(value)
    if not match:
        return value
    found = known.get(match[1])
    if found is None or isinstance(found, str):
        return found
    unit, _ = unit_of(match[1])
    return f"{trimmed_text(found, 4)} {unit}".strip().replace("−", "-")


def names_in_sentence(sentence: str) -> frozenset[str]:
    """The names a sentence fills in."""
    return frozenset(_NAME.findall(sentence))


#: What `follows` is put together from.
FOLLOWS_FROM = ("length_taken_mm", "gap_mm", "finished_length_mm")


def follows_as_sentence(result: Mapping[str, object]) -> str:
    """As `follows`, with its point; empty where it isn't known."""
    text = follows(result)
    return f"{text}." if text else ""


def follows(result: Mapping[str, object]) -> str | None:
    """What follows from the readings: "419 taken, 19 left open: made 400 mm long".

    Parameters
    ----------
    result : mapping
        With ``length_taken_mm``, ``gap_mm`` and ``finished_length_mm``. [mm]

    Returns
    -------
    str or None
        None where one of the three isn't known.

    Notes
    -----
    The numbers add up as printed: whole millimetres where they do; else as few decimals as it takes for the
    difference, rounded down, to be the finished length. Six always do: a reading in inches has at most five, the mean
    of two of them six.
    """
    taken, gap, made = (result.get(key) for key in FOLLOWS_FROM)
    if taken is None or gap is None or made is None:
        return None
    for places in range(7):
        scale = 10**places
        left = math.floor(taken * scale + 0.5) - math.floor(gap * scale + 0.5)
        over = left - int(made) * scale
        if over == 0 or (places and 0 < over < scale):
            break
    return said(
        STRINGS["rounded_down" if over else "follows"],
        taken=with_mark(decimal_text(taken, places)),
        gap=with_mark(decimal_text(gap, places)),
        made=shown("finished_length_mm", made),
    )
