"""One table of cases for both readers: typed_cases.json, worked by hand.

"reads" is the number in its own unit (31/2 for "15 1/2"), "reason" the key of the sentence that refuses.
"""

import json
import random
from fractions import Fraction
from pathlib import Path

import pytest
from django.utils import translation
from hypothesis import given, settings
from hypothesis import strategies as st

from capture.sheet import strings_for_page
from orders.reckoning.constants import ORDINARY_MM
from orders.reckoning.errors import OutOfRange, Unreadable
from orders.reckoning.typed import combine, digits_swapped, read_length, understand
from tests.twins import page_of

CASES = json.loads((Path(__file__).parent / "typed_cases.json").read_text(encoding="utf-8"))
MM = {"mm": Fraction(1), "cm": Fraction(10), "in": Fraction(254, 10)}


def _said(case):
    return f"{case['text'][:70]!r} {case['unit']} {case['quantity']}"


def _python_answer(text, unit, quantity):
    """What Python understood, in the twin's form."""
    found = understand(text, unit, quantity)
    reading, exact = found.reading, found.mm_exact
    return {
        "outcome": found.outcome,
        "mm": found.mm,
        "exact": None if exact is None else {"n": str(exact.numerator), "d": str(exact.denominator)},
        "unit": reading and reading.unit,
        "unit_typed": reading and reading.unit_typed,
        "number": reading and reading.number,
        "says": found.says,
        "offers": list(found.offers),
        "reason": found.reason,
    }


@pytest.mark.parametrize("case", CASES, ids=_said)
def test_table_is_understood(case):
    found = understand(case["text"], case["unit"], case["quantity"])

    assert found.outcome == case["outcome"], found.says
    if case["outcome"] == "value":
        assert found.mm_exact == Fraction(case["reads"]) * MM[case["read_in"]]
        assert (found.reading.unit, found.reading.unit_typed) == (case["read_in"], case["unit_typed"])
        assert found.mm == float(found.mm_exact)
    else:
        assert found.mm is None
        assert found.mm_exact is None
        assert list(found.offers) == case.get("offers", [])
        assert found.reason == case.get("reason")


@pytest.mark.parametrize("case", [c for c in CASES if c["outcome"] == "refuse"], ids=_said)
def test_refusal_says_what_was_read_and_expected(case):
    with pytest.raises(Unreadable) as refused:
        read_length(case["text"], case["unit"])

    says = refused.value.says
    assert "Expected" in says
    if case["reason"] not in ("empty", "too_long"):
        assert f"Read “{case['text'].strip(' ')}”" in says


@pytest.mark.parametrize("case", [c for c in CASES if c["outcome"] == "ask"], ids=_said)
def test_each_offer_settles_the_question(case):
    low, high = ORDINARY_MM[case["quantity"]]

    for offer in understand(case["text"], case["unit"], case["quantity"]).offers:
        settled = understand(offer, case["unit"], case["quantity"])

        assert settled.outcome == "value"
        assert low <= settled.mm_exact <= high


def test_table_is_large_and_uneven_enough():
    outcomes = [case["outcome"] for case in CASES]

    assert len(CASES) >= 150
    assert min(outcomes.count(outcome) for outcome in ("value", "ask", "refuse")) >= 25


def test_twin_understands_the_table_the_same(js):
    asked = [[case["text"], case["unit"], case["quantity"]] for case in CASES]

    answers = js("reading/typed.js").map("understand", asked)

    for row, answer in zip(asked, answers, strict=True):
        assert answer == _python_answer(*row), row


# The site's languages, each as the place whose decimals and groups of digits look most unlike the others'.
LANGUAGES = {"en": "en-US", "es": "es-ES", "de": "de-CH", "fr": "fr-FR", "ar": "ar-EG"}
_IN_LANGUAGE = """async ([rows, language, told]) => {
  document.documentElement.lang = language;
  Object.assign((await import("/static/js/reading/language.js")).language, told);
  const { understand } = await import("/static/js/reading/typed.js");
  return [(1234.5).toLocaleString(), rows.map((row) => understand(...row))];
}"""


@pytest.mark.parametrize("language", LANGUAGES)
def test_table_is_understood_alike_in_every_language(twins_page, language):
    rows = [[case["text"], case["unit"], case["quantity"]] for case in CASES]

    with translation.override(language):
        told = strings_for_page()
        here = [_python_answer(*row) for row in rows]

    def in_browser(page):
        own = page_of(page.context.browser, locale=LANGUAGES[language])
        try:
            return own.evaluate(_IN_LANGUAGE, [rows, language, told])
        finally:
            own.close()

    written, on_phone = twins_page(in_browser)

    assert (written == "1,234.5") == (language == "en")  # the browser does speak it
    for row, answer, expected in zip(rows, on_phone, here, strict=True):
        assert answer == expected, row
    assert [answer["outcome"] for answer in here] == [case["outcome"] for case in CASES]


# Any length a tape can show, in any form that is accepted, comes back exactly.

_SIXTY_FOURTHS = st.integers(0, 64 * 40).map(lambda n: Fraction(n, 64))
_TENTHS = st.integers(0, 99_999).map(lambda n: Fraction(n, 10))
_VULGAR = {
    Fraction(1, 4): "¼",
    Fraction(1, 2): "½",
    Fraction(3, 4): "¾",
    Fraction(1, 8): "⅛",
    Fraction(3, 8): "⅜",
    Fraction(5, 8): "⅝",
    Fraction(7, 8): "⅞",
}
_SPACES = st.sampled_from(["", " ", "\t", "\u00a0", "\u2009", "\u3000", "  "])
_ZEROS = st.sampled_from([0x30, 0x660, 0x6F0, 0x966, 0xFF10, 0x1D7CE])
_FEET_MARKS = st.sampled_from(["'", "′", "’", " ft "])
_INCH_MARKS = st.sampled_from(['"', "″", "”", "''", " in", "in", " IN.", " inches"])


def _in_script(text, zero):
    return "".join(chr(zero + int(c)) if c in "0123456789" else c for c in text)


@st.composite
def _inches_as_typed(draw):
    inches = draw(_SIXTY_FOURTHS)
    feet, rest = divmod(inches, 12) if draw(st.booleans()) else (0, inches)
    whole, part = divmod(rest, 1)
    text = str(whole)
    if part:
        joint = draw(st.sampled_from([" ", "-", " - ", "\u00a0"]))
        slash = draw(st.sampled_from(["/", "⁄", " / "]))
        text += joint + f"{part.numerator}{slash}{part.denominator}"
        if part in _VULGAR and draw(st.booleans()):
            text = f"{whole}{draw(st.sampled_from(['', ' ', '-']))}{_VULGAR[part]}"
    text += draw(_INCH_MARKS)
    if feet:
        text = f"{feet}{draw(_FEET_MARKS)}{draw(_SPACES)}{text}"
    text = draw(_SPACES) + _in_script(text, draw(_ZEROS)) + draw(_SPACES)
    return text, inches * MM["in"]


@st.composite
def _tenths_as_typed(draw):
    mm = draw(_TENTHS)
    unit = draw(st.sampled_from(["mm", "cm"]))
    places = 1 if unit == "mm" else 2
    number = f"{float(mm / MM[unit]):.{places}f}"
    if draw(st.booleans()) and "." in number:
        number = number.rstrip("0").rstrip(".")
    number = number.replace(".", draw(st.sampled_from([".", ",", "٫"])))
    typed_unit = draw(st.sampled_from([unit, f" {unit}", unit.upper()]))
    return draw(_SPACES) + _in_script(number, draw(_ZEROS)) + draw(_SPACES) + typed_unit, mm


@settings(deadline=None, max_examples=400)
@given(_inches_as_typed() | _tenths_as_typed(), st.sampled_from(["mm", "cm", "in"]))
def test_any_length_of_a_tape_comes_back_exactly(typed, unit):
    text, mm = typed

    assert read_length(text, unit).mm_exact == mm


@settings(deadline=None, max_examples=200)
@given(_SIXTY_FOURTHS, st.sampled_from([" ", "-", "\u00a0"]), _ZEROS)
def test_any_bare_number_of_inches_comes_back_exactly(inches, joint, zero):
    whole, part = divmod(inches, 1)
    fraction = f"{part.numerator}/{part.denominator}" if part else ""
    for text in (f"{whole}{joint * bool(part)}{fraction}", fraction if not whole and part else str(whole)):
        expected = inches if fraction and fraction in text else Fraction(whole)
        assert read_length(_in_script(text, zero), "in").mm_exact == expected * MM["in"]


@settings(deadline=None, max_examples=200)
@given(_TENTHS, st.sampled_from(["mm", "cm"]), st.sampled_from([".", ","]), _ZEROS)
def test_any_bare_number_of_millimetres_or_centimetres_comes_back_exactly(mm, unit, mark, zero):
    number = f"{float(mm / MM[unit]):.{1 if unit == 'mm' else 2}f}".replace(".", mark)

    assert read_length(_in_script(number, zero), unit).mm_exact == mm


@settings(deadline=None, max_examples=25)
@given(
    st.lists(
        st.text(alphabet="0123456789 .,/-+'\"½¾″′eincmft٣३１／\u00a0−𝟛x", max_size=12),
        min_size=40,
        max_size=80,
    )
)
def test_twin_understands_any_text_the_same(js, texts):
    asked = [[text, unit, "hardware_length"] for text in texts for unit in ("mm", "cm", "in")]

    answers = js("reading/typed.js").map("understand", asked)

    for row, answer in zip(asked, answers, strict=True):
        assert answer == _python_answer(*row), row


def _typed_at_random(dice):
    """A text of the pieces that lengths are made of, in any order: most are no length, many nearly are one."""
    pieces = [
        *(
            "394",
            "15",
            "1/2",
            "½",
            "16",
            "3",
            "64",
            "8",
            "5",
            "0",
            "00",
            "٣",
            "０",
            "١٢",
            "⅝",
            ".",
            ",",
            "-",
            "–",
            " ",
        ),
        *(
            "\u00a0",
            "'",
            '"',
            "″",
            "mm",
            "cm",
            "in",
            "IN",
            "inches",
            "ft",
            "feet",
            "e",
            "+",
            "−",
            "/",
            "⁄",
            "x",
            "%",
        ),
    ]
    return "".join(dice.choice(pieces) for _ in range(dice.randint(1, 7)))


def test_twin_understands_five_thousand_texts_at_random_the_same(js):
    seed = 20261125
    print(f"seed {seed}")
    dice = random.Random(seed)
    quantities = [*ORDINARY_MM, "none"]
    asked = [
        [_typed_at_random(dice), dice.choice(["mm", "cm", "in"]), dice.choice(quantities)]
        for _ in range(5000)
    ]

    answers = js("reading/typed.js").map("understand", asked)
    ours = [_python_answer(*row) for row in asked]

    assert [row for row, one, other in zip(asked, answers, ours, strict=True) if one != other] == []
    outcomes = [answer["outcome"] for answer in ours]
    assert min(outcomes.count(outcome) for outcome in ("value", "ask", "refuse")) > 20


@settings(deadline=None, max_examples=100)
@given(st.text(max_size=70))
def test_any_text_is_one_length_or_refused(text):
    found = understand(text, "mm", "none")

    assert found.says
    assert (found.outcome == "value") == (found.mm_exact is not None) == (found.reason is None)


def test_reading_names_an_unknown_unit():
    with pytest.raises(OutOfRange, match="mm, cm or in"):
        read_length("394", "ell")


@pytest.mark.parametrize(
    ("text", "unit", "says"),
    [
        ("16 1/2", "in", "16 1/2 in is 419.1 mm"),
        ("39,4 cm", "in", "39,4 cm is 394 mm"),
        ("381", "mm", "381 mm is 15 in"),
        ("394", "mm", "394 mm is about 15 1/2 in"),
        ("1' 3½\"", "mm", "1 ft 3 1/2 in is 393.7 mm"),
        ("1'", "mm", "1 ft is 304.8 mm"),
    ],
)
def test_reading_says_what_was_understood(text, unit, says):
    assert read_length(text, unit).says == says


@pytest.mark.parametrize(
    ("mm", "inches"),
    [
        ("25.4", "1"),
        ("12.7", "1/2"),
        ("6.35", "1/4"),
        ("3.1750", "1/8"),
        ("1.5875", "1/16"),
        ("14.2875", "9/16"),
    ],
)
def test_whole_marks_of_a_tape_in_inches_are_not_about(mm, inches):
    # halves of 25.4 mm by hand
    assert read_length(f"{mm} mm").says == f"{mm} mm is {inches} in"
    assert read_length(f"{float(mm) + 0.1:.1f} mm").says.split(" in")[0].endswith(f"is about {inches}")


def test_a_question_says_the_millimetres_only_where_they_were_not_typed():
    assert understand("39.4", "mm", "length").says.startswith(
        "Read “39.4” as 39.4 mm; 240 to 560 mm is usual"
    )
    assert understand("394", "cm", "length").says.startswith("Read “394” as 394 cm (3940 mm); 240 to 560 mm")


def test_a_text_that_is_too_long_is_told_by_its_beginning():
    with pytest.raises(Unreadable) as refused:
        read_length("0123456789abcdefghij" * 4)

    assert "“0123456789abcdef" in refused.value.says
    assert "abcdefg" not in refused.value.says


def test_braces_in_the_text_are_left_as_typed():
    with pytest.raises(Unreadable) as refused:
        read_length("{example} {text}")

    assert refused.value.says.startswith("Read “{example} {text}”")


# Repeats.


def test_combine_keeps_one_takes_the_mean_of_two_and_the_median_of_three():
    a, b, c = Fraction(4191, 10), Fraction(42227, 100), Fraction(349)

    assert combine([a]) == a
    assert combine([a, b]) == Fraction(84137, 200)
    assert combine([a, b, c]) == a


@pytest.mark.parametrize("count", [0, 4])
def test_combine_refuses_none_or_four(count):
    with pytest.raises(OutOfRange, match="one, two or three"):
        combine([Fraction(1)] * count)


def test_twin_combines_the_same(js):
    rows = [
        [Fraction(4191, 10)],
        [Fraction(1, 3), Fraction(5, 7)],
        [Fraction(9), Fraction(1), Fraction(4, 3)],
    ]
    asked = [[[{"n": str(f.numerator), "d": str(f.denominator)} for f in row]] for row in rows]

    answers = js("reading/typed.js").map("combine", asked)

    assert [Fraction(int(a["n"]), int(a["d"])) for a in answers] == [combine(row) for row in rows]


#: First, second (typed in mm), whether their digits are swapped.
REPEATS = [
    ("394", "349", True),
    ("39.4 cm", "34.9 cm", True),
    ("39.4 cm", "34,9 cm", True),
    ("394", "934", True),
    ("15 1/2 in", "51 1/2 in", True),
    ("394", "493", False),
    ("394", "349 mm", True),
    ("39.4 cm", "349", False),
    ("400", "381", False),
    ("16 1/2 in", "400", False),
    ("394", "394", False),
]


@pytest.mark.parametrize(("a", "b", "swapped"), REPEATS)
def test_swapped_digits_are_seen(a, b, swapped):
    assert digits_swapped(read_length(a), read_length(b)) is swapped


def test_twin_sees_the_same_swapped_digits(js):
    readings = [[_python_answer(text, "mm", "none") for text in row[:2]] for row in REPEATS]

    assert js("reading/typed.js").map("digitsSwapped", readings) == [row[2] for row in REPEATS]
