"""Spoken lengths, as a phone's keyboard writes them down: "41 point 9", "16 and a half", "16 dreiviertel Zoll".

Words become the pieces that a typed length has, in each of the sheet's languages whatever the page's is, before the
grammar of typed_amount reads them. What isn't understood whole stays as it was, and the grammar refuses it: a number
that was written out ("sixteen") is never guessed at. Twin: static/js/reading/spoken.js.
"""

from collections.abc import Sequence

from .typed_scan import Token

POINTS = {"point": ".", "punkt": ".", "punto": ".", "comma": ",", "komma": ",", "coma": ",", "virgule": ","}
ANDS = frozenset(["and", "und", "y", "et"])


def _by_word(table: dict[int, str]) -> dict[str, int]:
    return {word: number for number, words in table.items() for word in words.split()}


NUMERATORS = _by_word(
    {
        1: "a an one ein eine un una une uno",
        3: "three drei tres trois",
        5: "five funf cinco cinq",
        7: "seven sieben siete sept",
        9: "nine neun nueve neuf",
        11: "eleven elf once onze",
        13: "thirteen dreizehn trece treize",
        15: "fifteen funfzehn quince quinze",
    }
)
DENOMINATORS = _by_word(
    {
        2: "half halb medio media demi demie",
        4: "quarter quarters fourth fourths viertel cuarto cuartos quart quarts",
        8: "eighth eighths achtel octavo octavos huitieme huitiemes",
        16: "sixteenth sixteenths sechzehntel dieciseisavo dieciseisavos seizieme seiziemes",
    }
)
#: German writes them as one word: "dreiviertel".
WHOLE_WORDS = {
    upper + lower: (NUMERATORS[upper], DENOMINATORS[lower])
    for upper in ["ein", "drei", "funf", "sieben", "neun", "elf", "dreizehn", "funfzehn"]
    for lower in ["halb", "viertel", "achtel", "sechzehntel"]
}
#: Without one of these nothing was spoken.
SPOKEN = {*ANDS, *POINTS, *DENOMINATORS, *WHOLE_WORDS}


def respelled(tokens: Sequence[Token]) -> list[Token]:
    """The pieces with spoken decimals and fractions as typed ones."""
    if not any(token.kind == "word" and token.text in SPOKEN for token in tokens):
        return list(tokens)
    out: list[Token] = []
    at = 0
    while at < len(tokens):
        token = tokens[at]
        if (decimal := _decimal(tokens, at)) is not None:
            out.append(token._replace(text=decimal))
            at += 3
            continue
        joined = bool(out) and out[-1].kind == "number" and _word(tokens, at) in ANDS
        fraction, after = _fraction(tokens, at + joined, bare=joined)
        if fraction:
            out.append(token._replace(kind="vulgar", text=fraction))
            at = after
        elif joined and _begins_fraction(tokens, at + 1):
            at += 1
        else:
            out.append(token)
            at += 1
    return out


def _kind(tokens: Sequence[Token], at: int) -> str | None:
    return tokens[at].kind if at < len(tokens) else None


def _word(tokens: Sequence[Token], at: int) -> str:
    return tokens[at].text if _kind(tokens, at) == "word" else ""


def _digits(tokens: Sequence[Token], at: int) -> str:
    return tokens[at].text if _kind(tokens, at) == "number" and tokens[at].text.isdigit() else ""


def _decimal(tokens: Sequence[Token], at: int) -> str | None:
    """41 point 9."""
    whole, mark, decimals = _digits(tokens, at), POINTS.get(_word(tokens, at + 1)), _digits(tokens, at + 2)
    return f"{whole}{mark}{decimals}" if whole and mark and decimals else None


def _fraction(tokens: Sequence[Token], at: int, bare: bool) -> tuple[str | None, int]:
    """A fraction in words, and where it ends; `bare` takes a "half" without its "a"."""
    word = _word(tokens, at)
    if word in WHOLE_WORDS:
        return "{}/{}".format(*WHOLE_WORDS[word]), at + 1
    lower = DENOMINATORS.get(_word(tokens, at + 1))
    upper = _digits(tokens, at) or NUMERATORS.get(word)
    if upper and lower:
        return f"{upper}/{lower}", at + 2
    if bare and word in DENOMINATORS:
        return f"1/{DENOMINATORS[word]}", at + 1
    return None, at


def _begins_fraction(tokens: Sequence[Token], at: int) -> bool:
    kind = _kind(tokens, at)
    return kind == "vulgar" or (kind == "number" and _kind(tokens, at + 1) == "slash")
