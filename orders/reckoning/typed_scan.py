"""Splits typed text into numbers, fractions, marks and words. Twin: static/js/reading/scan.js.

The tables of characters are written out rather than asked of the platform, so that a phone's browser and
the server, which know different versions of Unicode, take the same text the same way.
"""

from functools import lru_cache
from typing import NamedTuple

_ZEROS = (
    "30 660 6F0 7C0 966 9E6 A66 AE6 B66 BE6 C66 CE6 D66 DE6 E50 ED0 F20 1040 1090 17E0 1810 1946 19D0 "
    "1A80 1A90 1B50 1BB0 1C40 1C50 A620 A8D0 A900 A9D0 A9F0 AA50 ABF0 FF10 104A0 10D30 11066 110F0 11136 "
    "111D0 112F0 11450 114D0 11650 116C0 11730 118E0 11950 11C50 11D50 11DA0 16A60 16AC0 16B50 1D7CE "
    "1D7D8 1D7E2 1D7EC 1D7F6 1E140 1E2F0 1E950 1FBF0"
)
#: The zero of each run of ten decimal digits (general category Nd) of Unicode 14 [UNICODE].
DIGIT_ZEROS = tuple(int(zero, 16) for zero in _ZEROS.split())
_DIGITS = {chr(zero + n): str(n) for zero in DIGIT_ZEROS for n in range(10)}

#: Characters with the property White_Space [UNICODE].
_WHITE_SPACE = (
    "\t\n\v\f\r \x85\xa0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a"
    "\u2028\u2029\u202f\u205f\u3000"
)

_VULGAR = "1/4 1/2 3/4 1/7 1/9 1/10 1/3 2/3 1/5 2/5 3/5 4/5 1/6 5/6 1/8 3/8 5/8 7/8 0/3"
#: Fractions that are one character [UNICODE], U+2189 (nought thirds) among them.
VULGAR_FRACTIONS = dict(zip("¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞↉", _VULGAR.split(), strict=True))

#: Marks by what they stand for. Full-width forms are turned into plain ones before this is asked.
MARKS = {
    "feet": "'`´ʹʼ‘’‛′",
    "inches": '"ʺ˝“”„‟″',
    "slash": "/⁄∕",
    "dash": "-‐‑‒–",
    "sign": "+−±",
}
_MARK_KINDS = {character: kind for kind, characters in MARKS.items() for character in characters}
_DECIMAL_MARKS = {".": ".", ",": ",", "٫": ","}
#: Letters with a mark, as the plain letter that a word of the sheet's languages is looked up by.
_ACCENTED = dict(zip("áàâäçéèêëíìîïñóòôöúùûüß", "aaaaceeeeiiiinoooouuuus", strict=True))


class Token(NamedTuple):
    """One piece of the text: kind, its plain text, whether white space stands before it, where it starts.

    Kinds: number (digits, commas and points), vulgar, feet, inches, slash, dash, sign, word, other.
    """

    kind: str
    text: str
    spaced: bool
    at: int


def _plain(character: str) -> str:
    """A full-width form as its ASCII twin; anything else as it is."""
    code = ord(character)
    return chr(code - 0xFEE0) if 0xFF01 <= code <= 0xFF5E else character


@lru_cache(maxsize=512)
def _numeral(character: str) -> str | None:
    plain = _plain(character)
    return _DIGITS.get(plain) or _DECIMAL_MARKS.get(plain)


@lru_cache(maxsize=512)
def _letter(character: str) -> str | None:
    plain = _plain(character).lower()
    plain = _ACCENTED.get(plain, plain)
    return plain if "a" <= plain <= "z" and len(plain) == 1 else None


def _run(text: str, at: int, taken) -> str:
    """What `taken` makes of the characters from `at` on, as long as it takes them."""
    found = []
    for character in text[at:]:
        plain = taken(character)
        if plain is None:
            break
        found.append(plain)
    return "".join(found)


def _piece(text: str, at: int) -> tuple[str, str, int]:
    """Kind, plain text and length of the piece that starts at `at`."""
    if number := _run(text, at, _numeral):
        return "number", number, len(number)
    if word := _run(text, at, _letter):
        end = at + len(word)
        dotted = end < len(text) and _plain(text[end]) == "."
        return "word", word, len(word) + dotted
    if text[at] in VULGAR_FRACTIONS:
        return "vulgar", VULGAR_FRACTIONS[text[at]], 1
    kind = _MARK_KINDS.get(_plain(text[at]), "other")
    if kind == "feet" and _MARK_KINDS.get(_plain(text[at + 1 : at + 2] or " ")) == "feet":
        return "inches", text[at : at + 2], 2
    return kind, text[at], 1


def trimmed(text: str) -> str:
    """The text without white space at its ends."""
    return text.strip(_WHITE_SPACE)


def scanned(text: str) -> list[Token]:
    """The pieces of the text, in order. Never fails: what is not known is a piece of kind "other"."""
    tokens: list[Token] = []
    at, spaced = 0, False
    while at < len(text):
        if text[at] in _WHITE_SPACE:
            at, spaced = at + 1, True
            continue
        kind, plain, length = _piece(text, at)
        tokens.append(Token(kind, plain, spaced, at))
        at, spaced = at + length, False
    return tokens
