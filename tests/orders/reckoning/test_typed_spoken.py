"""Spoken lengths: every fraction that a tape shows, said in each language, against fractions written in digits."""

from fractions import Fraction

import pytest

from orders.reckoning.typed import understand
from orders.reckoning.typed_scan import scanned
from orders.reckoning.typed_spoken import respelled

# How each language says them, from its own grammar; German joins them into one word too.
SAID = {
    "1/2": "a half, one half, ein halb, einhalb, medio, media, demi, demie",
    "1/4": "a quarter, one fourth, ein viertel, einviertel, un cuarto, un quart",
    "3/4": "three quarters, three fourths, drei viertel, dreiviertel, tres cuartos, trois quarts",
    "1/8": "an eighth, one eighth, ein achtel, einachtel, un octavo, un huitième",
    "3/8": "three eighths, drei achtel, dreiachtel, tres octavos, trois huitièmes",
    "5/8": "five eighths, fünf achtel, fünfachtel, cinco octavos, cinq huitièmes",
    "7/8": "seven eighths, sieben achtel, siebenachtel, siete octavos, sept huitièmes",
    "1/16": "a sixteenth, ein sechzehntel, un dieciseisavo, un seizième",
    "3/16": "three sixteenths, drei sechzehntel, tres dieciseisavos, trois seizièmes",
    "5/16": "five sixteenths, fünf sechzehntel, cinco dieciseisavos, cinq seizièmes",
    "7/16": "seven sixteenths, sieben sechzehntel, siete dieciseisavos, sept seizièmes",
    "9/16": "nine sixteenths, neun sechzehntel, nueve dieciseisavos, neuf seizièmes",
    "11/16": "eleven sixteenths, elf sechzehntel, once dieciseisavos, onze seizièmes",
    "13/16": "thirteen sixteenths, dreizehn sechzehntel, trece dieciseisavos, treize seizièmes",
    "15/16": "fifteen sixteenths, fünfzehn sechzehntel, quince dieciseisavos, quinze seizièmes",
}
EACH = [(fraction, words) for fraction, said in SAID.items() for words in said.split(", ")]


@pytest.mark.parametrize(("fraction", "words"), EACH)
@pytest.mark.parametrize("joint", ["and", "und", "y", "et"])
def test_fraction_after_a_whole_number(fraction, words, joint):
    found = understand(f"16 {joint} {words}", "in", "none")

    assert found.mm_exact == (16 + Fraction(fraction)) * Fraction(254, 10)
    assert found.reading.number == f"16 {fraction}"


@pytest.mark.parametrize("typed", ["16 1/2", "41.9 cm", "1' 3 1/2\"", "15-1/2", "½", "3e2", "16 in", "1,234"])
def test_what_is_typed_stays_as_it_is(typed):
    assert respelled(scanned(typed)) == scanned(typed)
