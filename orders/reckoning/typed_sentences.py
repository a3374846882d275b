"""What the person is told about a typed length. Twin: `strings` in static/js/reading/sentences.js.

Each sentence says what was read and what was expected. Names in braces are filled by `filled`, once and
never again in what was filled in: the text is the person's own and may hold braces too.
"""

from collections.abc import Mapping

from .language import fill, said
from .language import noop as _

SENTENCES = {
    "empty": _("Nothing was typed. Expected one length, such as {example}."),
    "too_long": _(
        "Read {count} characters, beginning “{start}”. "
        "Expected one length of at most {most} characters, such as {example}."
    ),
    "ambiguous": _(
        "Read “{text}”: {number} could be {decimal} or {thousands}. "
        "Expected {thousands}, or {decimal}0 for the decimal."
    ),
    "marks": _(
        "Read “{text}”: {number} has more than one comma or point. "
        "Expected at most one, before the decimals, as in {example}."
    ),
    "open_mark": _(
        "Read “{text}”: {number} has no digit after its comma or point. "
        "Expected digits there, or neither comma nor point, as in {example}."
    ),
    "decimals": _("Read “{text}”: {number} has {count} decimals. Expected at most {most}, as in {example}."),
    "fraction_size": _(
        "Read “{text}”: the fraction {fraction} is not less than one. Expected one such as 1/4 or 7/8."
    ),
    "fraction_zero": _(
        "Read “{text}”: the fraction {fraction} divides by zero. Expected one such as 1/4 or 7/8."
    ),
    "fraction_whole": _(
        "Read “{text}”: the fraction {fraction} is not made of whole numbers. Expected one such as 1/4 or 7/8."
    ),
    "fraction_open": _(
        "Read “{text}”: the fraction {fraction} has no lower number. Expected one such as 1/4 or 7/8."
    ),
    "decimal_fraction": _(
        "Read “{text}”: {number} is a decimal, and the fraction {fraction} follows it. "
        "Expected one or the other, as in {example}."
    ),
    "units": _(
        "Read “{text}”: {first} and {second} are two units. Expected one length in one unit, as in {example}."
    ),
    "feet_whole": _(
        "Read “{text}”: {number} is not a whole number of feet, and inches follow. "
        "Expected whole feet before inches, as in 1' 3 1/2\"."
    ),
    "feet_mark": _(
        "Read “{text}”: {number} follows the feet without an inch mark. Expected one, as in 1' 3 1/2\"."
    ),
    "feet_inches": _(
        "Read “{text}”: {number} inches follow the feet. Expected less than 12 there, as in 1' 3 1/2\"."
    ),
    "sign": _(
        "Read “{text}”: there is a sign, {rest}. Expected one length without a sign, such as {example}."
    ),
    "exponent": _(
        "Read “{text}”: {rest} looks like a power of ten. Expected one length in plain digits, such as {example}."
    ),
    "second_number": _(
        "Read “{text}”: a second number follows, {rest}. Expected one length, such as {example}."
    ),
    "no_number": _(
        "Read “{text}”, which does not begin with a number. Expected one length, such as {example}."
    ),
    "left_over": _(
        "Read “{text}”: “{rest}” is left over. Expected a number, then mm, cm or in, such as {example}."
    ),
    "is_mm": _("{read} is {mm} mm"),
    "is_inches": _("{read} is {inches} in"),
    "is_about_inches": _("{read} is about {inches} in"),
    "ask_one": _(
        "Read “{text}” as {read}; {low} to {high} mm is usual here. Is it {first}, which is {first_mm} mm? "
        "Add the unit that is meant: {first} or {own}."
    ),
    "ask_two": _(
        "Read “{text}” as {read}; {low} to {high} mm is usual here. Is it {first}, which is {first_mm} mm, "
        "or {second}, which is {second_mm} mm? Add the unit that is meant: {first}, {second} or {own}."
    ),
}

#: A length as one would type it, by the unit that a bare number is in.
EXAMPLES = {"mm": "394 mm", "cm": "39.4 cm", "in": "15 1/2 in"}


def filled(key: str, values: Mapping[str, object]) -> str:
    """The sentence of that key with its names filled in."""
    return fill(said(SENTENCES[key]), values)
