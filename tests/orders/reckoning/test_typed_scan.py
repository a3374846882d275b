"""The pieces of a text, against Python's own copy of the Unicode tables."""

import sys
import unicodedata

import pytest

from orders.reckoning.typed_scan import DIGIT_ZEROS, VULGAR_FRACTIONS, scanned, trimmed


def test_digits_are_those_of_unicode():
    assert unicodedata.unidata_version >= "14"
    for zero in DIGIT_ZEROS:
        assert [unicodedata.decimal(chr(zero + n)) for n in range(10)] == list(range(10))


def test_no_digit_of_unicode_14_is_missing():
    if unicodedata.unidata_version != "14.0.0":
        return  # a later version has more digits; that ours are digits is tested above
    zeros = [code for code in range(sys.maxunicode) if unicodedata.decimal(chr(code), None) == 0]
    assert list(DIGIT_ZEROS) == zeros


def test_vulgar_fractions_are_those_of_unicode():
    for character, fraction in VULGAR_FRACTIONS.items():
        upper, lower = map(int, fraction.split("/"))
        assert unicodedata.numeric(character) == upper / lower


def test_white_space_is_what_unicode_calls_so():
    # The 25 characters of PropList's White_Space; isspace() adds the four separators 1C to 1F.
    spaces = {chr(c) for c in range(sys.maxunicode) if chr(c).isspace()} - {"\x1c", "\x1d", "\x1e", "\x1f"}

    assert len(spaces) == 25
    assert trimmed("".join(spaces) + "x" + "".join(spaces)) == "x"
    assert trimmed("\x1cx\ufeff") == "\x1cx\ufeff"


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("15 1/2", "number number slash number"),
        ("15½″", "number vulgar inches"),
        ("1'3''", "number feet number inches"),
        ("15-1/2 in.", "number dash number slash number word"),
        ("−3 ±", "sign number sign"),
        ("3e2", "number word number"),
        ("3_", "number other"),
        ("  ", ""),
    ],
)
def test_text_is_split_into_pieces(text, kinds):
    assert " ".join(token.kind for token in scanned(text)) == kinds


def test_pieces_know_their_place_and_the_space_before_them():
    assert [(t.text, t.spaced, t.at) for t in scanned(" 39,4 ｃｍ.x")] == [
        ("39,4", True, 1),
        ("cm", True, 6),
        ("x", False, 9),
    ]
    assert [(t.text, t.spaced, t.at) for t in scanned("1''3")] == [
        ("1", False, 0),
        ("''", False, 1),
        ("3", False, 3),
    ]


def test_twin_splits_the_same(js):
    every = [chr(zero + 7) for zero in DIGIT_ZEROS] + list(VULGAR_FRACTIONS)
    texts = ["".join(every), " ".join(every), "1'2''3´4\"5″-‐‑‒–+−±/⁄∕~Ａ．，", *every]

    answers = js("reading/scan.js").map("scanned", [[list(text)] for text in texts])

    assert answers == [[token._asdict() for token in scanned(text)] for text in texts]


def test_twin_has_the_same_digits(js):
    assert js("reading/scan.js").evaluate("(scan) => scan.DIGIT_ZEROS") == list(DIGIT_ZEROS)
