"""The grammar of one typed length, over the pieces of typed_scan. Twin: static/js/reading/amount.js.

    length   = amount [unit]  |  whole "'" [inches '"']
    amount   = number  |  fraction  |  whole fraction  |  whole "-" fraction
    fraction = whole "/" whole, less than one  |  one of the characters ½ ¼ ⅝ ...

Whatever does not fit is refused by the name of its sentence, with what that sentence needs.
"""

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple, NoReturn

from .language import with_mark
from .typed_scan import Token, trimmed
from .units import INCHES_PER_FOOT

MOST_DECIMALS = 4
#: Each unit's names, in the sheet's languages, without accents.
UNIT_NAMES = {
    "mm": "mm millimeter millimeters millimetre millimetres millimetern milimetro milimetros",
    "cm": "cm centimeter centimeters centimetre centimetres zentimeter zentimetern centimetro centimetros",
    "in": "in inch inches zoll pulgada pulgadas pouce pouces",
    "ft": "ft foot feet fus fuss pie pies pied pieds",
}
_DECIMAL = re.compile(r"([0-9]*)([.,]?)([0-9]*)")
UNIT_WORDS = {name: unit for unit, names in UNIT_NAMES.items() for name in names.split()}


class Refused(Exception):
    """Carries the sentence's key and what it is filled with, besides the text and its example."""

    def __init__(self, reason: str, **values: object) -> None:
        super().__init__(reason)
        self.reason = reason
        self.values = values


class Amount(NamedTuple):
    """A value, its unit if one was typed, and its number as it reads: 33/2, "in", "16 1/2"."""

    value: Fraction
    unit: str | None
    number: str


class _Part(NamedTuple):
    value: Fraction
    number: str
    after: int


def amount_of(tokens: Sequence[Token], text: str) -> Amount:
    """The one length that the pieces of `text` spell. Raises Refused."""
    part = _part(tokens, 0)
    if part is None:
        first = tokens[0]
        signed = first.kind in ("sign", "dash")
        raise Refused("sign", rest=first.text) if signed else Refused("no_number")
    unit = _unit(tokens, part.after)
    if unit == "ft":
        found, after = _feet(tokens, part)
    else:
        found = Amount(part.value, unit, part.number)
        after = part.after + (unit is not None)
    _nothing_after(tokens, after, found.unit, text)
    return found


def _kind(tokens: Sequence[Token], at: int) -> str | None:
    return tokens[at].kind if at < len(tokens) else None


def _unit(tokens: Sequence[Token], at: int) -> str | None:
    """The unit of the piece at `at`, or None if it is none."""
    kind = _kind(tokens, at)
    if kind == "word":
        return UNIT_WORDS.get(tokens[at].text)
    return {"feet": "ft", "inches": "in"}.get(kind or "")


def _part(tokens: Sequence[Token], at: int) -> _Part | None:
    """A number, a fraction, or a whole number and a fraction, from `at` on."""
    if _begins_fraction(tokens, at):
        return _fraction(tokens, at)
    if _kind(tokens, at) != "number":
        return None
    number = tokens[at].text
    value = _decimal(number)
    follows = at + 1
    if _kind(tokens, follows) == "dash" and _evenly_spaced(tokens, follows):
        follows += 1
    if not _begins_fraction(tokens, follows):
        return _Part(value, number, at + 1)
    fraction = _fraction(tokens, follows)
    if not number.isdigit():
        raise Refused("decimal_fraction", number=number, fraction=fraction.number)
    return _Part(value + fraction.value, f"{number} {fraction.number}", fraction.after)


def _evenly_spaced(tokens: Sequence[Token], dash: int) -> bool:
    """15-1/2 and 15 - 1/2 join; in 15 -1/2 the dash looks like a sign."""
    return dash + 1 < len(tokens) and tokens[dash].spaced == tokens[dash + 1].spaced


def _begins_fraction(tokens: Sequence[Token], at: int) -> bool:
    kind = _kind(tokens, at)
    return kind == "vulgar" or (kind == "number" and _kind(tokens, at + 1) == "slash")


def _fraction(tokens: Sequence[Token], at: int) -> _Part:
    if tokens[at].kind == "vulgar":
        upper, lower, after = *tokens[at].text.split("/"), at + 1
    elif _kind(tokens, at + 2) == "number":
        upper, lower, after = tokens[at].text, tokens[at + 2].text, at + 3
    else:
        raise Refused("fraction_open", fraction=f"{tokens[at].text}/")
    fraction = f"{upper}/{lower}"
    if not (upper.isdigit() and lower.isdigit()):
        raise Refused("fraction_whole", fraction=fraction)
    if int(lower) == 0:
        raise Refused("fraction_zero", fraction=fraction)
    if int(upper) >= int(lower):
        raise Refused("fraction_size", fraction=fraction)
    return _Part(Fraction(int(upper), int(lower)), fraction, after)


def _decimal(number: str) -> Fraction:
    """A number with at most one comma or point before at most four decimals, exactly."""
    parts = _DECIMAL.fullmatch(number)
    if not parts:
        raise Refused("marks", number=number)
    whole, mark, decimals = parts.groups()
    if mark and not decimals:
        raise Refused("open_mark", number=number)
    if len(decimals) == 3 and re.fullmatch(r"[1-9][0-9]{0,2}", whole):
        raise Refused(
            "ambiguous", number=number, decimal=with_mark(f"{whole}.{decimals}"), thousands=whole + decimals
        )
    if len(decimals) > MOST_DECIMALS:
        raise Refused("decimals", number=number, count=len(decimals), most=MOST_DECIMALS)
    return Fraction(int(whole + decimals), 10 ** len(decimals))


def _feet(tokens: Sequence[Token], feet: _Part) -> tuple[Amount, int]:
    """Feet, and the inches after them if there are any, as inches."""
    after = feet.after + 1
    inches = _part(tokens, after)
    if inches is None:
        return Amount(feet.value * INCHES_PER_FOOT, "in", f"{feet.number} ft"), after
    if not feet.number.isdigit():
        raise Refused("feet_whole", number=feet.number)
    if _unit(tokens, inches.after) is None:
        raise Refused("feet_mark", number=inches.number)
    if (unit := _unit(tokens, inches.after)) != "in":
        raise Refused("units", first="ft", second=unit)
    if inches.value >= INCHES_PER_FOOT:
        raise Refused("feet_inches", number=inches.number)
    value = feet.value * INCHES_PER_FOOT + inches.value
    return Amount(value, "in", f"{feet.number} ft {inches.number}"), inches.after + 1


def _nothing_after(tokens: Sequence[Token], at: int, unit: str | None, text: str) -> None:
    """Refuses anything after the length, save its own unit once more."""
    while unit is not None and (again := _unit(tokens, at)) is not None:
        if again != unit:
            raise Refused("units", first=unit, second=again)
        at += 1
    if at < len(tokens):
        _refuse_rest(tokens, at, text)


def _refuse_rest(tokens: Sequence[Token], at: int, text: str) -> NoReturn:
    token = tokens[at]
    rest = trimmed(text[token.at :])
    if token.kind in ("number", "vulgar"):
        raise Refused("second_number", rest=rest)
    if token.kind in ("sign", "dash"):
        raise Refused("sign", rest=token.text)
    if token.kind == "word" and token.text == "e" and not token.spaced:
        raise Refused("exponent", rest=rest)
    raise Refused("left_over", rest=rest)
