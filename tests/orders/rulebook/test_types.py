import pytest

from orders.rulebook.expression import read_placed
from orders.rulebook.types import OneOf, TypeMismatch, type_of

TYPES = {"gap_mm": "number", "ankle": "text", "foam_pad": "flag"}


@pytest.mark.parametrize(
    ("source", "expected"),
    [
        ("gap_mm * 2.0", "number"),
        ("foam_pad ? gap_mm : 1.0", "number"),
        ("ankle == 'solid' ? 'a' : 'b'", "text"),
        ("less(gap_mm, 3.0)", "flag"),
        ("ankle in ['solid']", "flag"),
        ("!foam_pad || ankle != 'wide'", "flag"),
        ("foam_pad == true", "flag"),
    ],
)
def test_an_expression_has_a_type(source, expected):
    assert type_of(read_placed(source), TYPES) == expected


@pytest.mark.parametrize(
    ("source", "place", "says"),
    [
        ("gapmm", 1, "nothing is called “gapmm”."),
        ("foam_pad && less(1.0, gapmm)", 23, "nothing is called “gapmm”."),
        ("true || lesser(gap_mm, 1.0)", 9, "there is no function “lesser”."),
        ("less(gap_mm)", 1, "“less” takes 2 values, not 1."),
        ("less(gap_mm, ankle)", 14, "“less” takes a number, not a text."),
        ("ankle + 1.0", 1, "“+” takes a number, not a text."),
        ("(1.0 + 2.0) * ankle", 15, "“*” takes a number, not a text."),
        ("ankle == 1.0", 10, "“==” takes a text, not a number."),
        ("gap_mm && foam_pad", 1, "“&&” takes a flag, not a number."),
        ("!gap_mm", 2, "“!” takes a flag, not a number."),
        ("gap_mm ? 1.0 : 2.0", 1, "“?” takes a flag, not a number."),
        ("foam_pad ? 1.0 : 'x'", 18, "“?” takes a number, not a text."),
        ("gap_mm in ['x']", 1, "“in” takes a text, not a number."),
        ("ankle < 'b'", 1, "“<” takes a number, not a text."),
        ("gap_mm < 3.0", 8, "compare numbers with less(a, b) or more(a, b), not with “<”."),
        ("gap_mm == 3.0", 8, "compare numbers with less(a, b) or more(a, b), not with “==”."),
    ],
)
def test_what_does_not_fit_together_is_refused_with_its_place(source, place, says):
    with pytest.raises(TypeMismatch) as error:
        type_of(read_placed(source), TYPES)
    assert (error.value.place, error.value.says) == (place, says)


CHOICE = {"ankle": OneOf(("solid", "wide")), "what": "text"}


@pytest.mark.parametrize(
    "source",
    ["ankle == 'wide'", "'solid' != ankle", "ankle in ['solid', 'wide']", "what == 'soild'", "ankle == what"],
)
def test_a_word_that_a_choice_may_be_fits(source):
    assert type_of(read_placed(source), CHOICE) == "flag"


@pytest.mark.parametrize(
    ("source", "place"),
    [("ankle == 'soild'", 10), ("'soild' == ankle", 1), ("ankle in ['wide', 'soild']", 10)],
)
def test_a_word_that_a_choice_never_is_is_refused(source, place):
    with pytest.raises(TypeMismatch) as error:
        type_of(read_placed(source), CHOICE)
    assert (error.value.place, error.value.says) == (place, "“soild” is none of solid, wide.")


# What is one or the other may be all that either may be: CEL's conditional gives one of its two operands as it is.
EITHER = CHOICE | {"foam_pad": "flag", "control": OneOf(("mechanical", "wide"))}


@pytest.mark.parametrize(
    "source",
    [
        "(foam_pad ? ankle : control) == 'mechanical'",
        "(foam_pad ? ankle : control) in ['solid', 'mechanical']",
        "(foam_pad ? ankle : 'none') == 'none'",
        "'none' != (foam_pad ? 'none' : ankle)",
        "(foam_pad ? ankle : what) == 'anything'",
        "(foam_pad ? what : ankle) == 'anything'",
        "(foam_pad ? 'none' : 'some') == 'anything'",
        "(foam_pad ? ankle : foam_pad ? 'none' : control) in ['solid', 'none', 'mechanical']",
    ],
)
def test_a_word_that_one_of_two_may_be_fits(source):
    assert type_of(read_placed(source), EITHER) == "flag"


@pytest.mark.parametrize(
    ("source", "place", "words"),
    [
        ("(foam_pad ? ankle : control) == 'soild'", 33, "solid, wide, mechanical"),
        ("(foam_pad ? 'none' : ankle) == 'soild'", 32, "none, solid, wide"),
        ("'soild' == (foam_pad ? ankle : 'none')", 1, "solid, wide, none"),
        (
            "(foam_pad ? foam_pad ? 'none' : ankle : control) in ['soild']",
            53,
            "none, solid, wide, mechanical",
        ),
    ],
)
def test_a_word_that_neither_of_two_is_is_refused(source, place, words):
    with pytest.raises(TypeMismatch) as error:
        type_of(read_placed(source), EITHER)
    assert (error.value.place, error.value.says) == (place, f"“soild” is none of {words}.")
